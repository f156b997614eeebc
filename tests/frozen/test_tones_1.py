"""Plans and answers over frequency as they were written when their formats were released: today's program still reads them.

Keys may only grow in number. A plan is a promise in every number, since recordings were made with it; what is found in recordings
may move with better methods, by less than its uncertainty.
"""

from __future__ import annotations

import json
import shutil
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from tests.frozen.shapes import lost
from tests.frozen.takes_1.make import CONTACT, SHORT, SHUNT

from ohmsworth import wiring
from ohmsworth.cli.app import run

FOLDER = Path(__file__).parent
TONES, TAKES = FOLDER / "tones_1", FOLDER / "takes_1"
OF_PEAK = (
    *("peak", "output_voltage", "current", "crest_factor", "shunt_voltage", "contact_voltage"),
    *("open_circuit_voltage", "series_power"),
)
Both = tuple[dict[str, Any], dict[str, Any]]


def stored(folder: Path) -> dict[str, Any]:
    told: dict[str, Any] = json.loads((folder / "answer.json").read_text("utf-8"))
    return told


@pytest.fixture
def tones(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Both:
    """The stored plan's answer and today's, of a folder in which a recording keeps the plan from being another one."""
    for name in ("tones.toml", "plan.json"):
        shutil.copy(TONES / name, tmp_path)
    (tmp_path / "straight.wav").write_bytes(b"kept")
    assert run(["tones", str(tmp_path), "--json"]) == 0
    plan = (json.loads((folder / "plan.json").read_text("utf-8")) for folder in (TONES, tmp_path))
    assert next(plan) == next(plan)
    return stored(TONES), json.loads(capsys.readouterr().out)


@pytest.fixture(scope="module")
def takes() -> Both:
    """The stored answer and today's."""
    import ohmsworth as ow

    return stored(TAKES), ow.as_json(ow.takes(TAKES))


def test_no_key_of_a_plan_is_lost_and_no_number_moves(tones: Both) -> None:
    old, new = tones
    assert lost(old, new) == set()
    for key in ("format", "contact", "way", "rate", "channels", "recordings", "wished_uncertainty"):
        assert new[key] == old[key]
    for key in ("period", "seconds", "length", "level_check_frequency", "level_check_seconds"):
        assert new[key] == pytest.approx(old[key], rel=1e-12)
    # Told as the peak of what sounds, once as the largest sample: here a hair less, in the power twice that.
    for key in OF_PEAK:
        assert 1 <= new["level"][key] / old["level"].pop(key) < 1.0001, key
    pairs = [(old[table], new[table]) for table in ("circuit", "level")]
    for before, now in [*zip(old["tones"], new["tones"], strict=True), *pairs]:
        for key, value in before.items():
            assert now[key] == (value if value is None else pytest.approx(value, rel=1e-9)), key


def test_a_stored_plan_is_read_as_it_was_played() -> None:
    plan = wiring.load_takes(TAKES).plan
    told = json.loads((TAKES / "plan.json").read_text("utf-8"))
    assert (plan.rate, plan.period, plan.cycles.tolist()) == (told["rate"], told["period"], told["cycles"])
    assert plan.phases.tolist() == told["phases"]
    assert plan.amplitudes.tolist() == told["amplitudes"]


def test_no_key_of_what_takes_tell_is_lost(takes: Both) -> None:
    assert lost(*takes) == set()


def test_the_same_recordings_tell_the_same(takes: Both) -> None:
    old, new = takes
    for key in ("format", "recordings"):
        assert json.loads(json.dumps(new[key])) == old[key]
    for before, now in zip(old["tones"], new["tones"], strict=True):
        assert now["frequency"] == before["frequency"]
        for part in ("resistance", "reactance"):
            assert now[part] == pytest.approx(before[part], abs=before[f"{part}_uncertainty"])
    truth = CONTACT.impedance(np.array([one["frequency"] for one in new["tones"]])).real - SHORT.resistance
    for one, ohm in zip(new["tones"], truth, strict=True):
        # The shunt is 0.1002 Ω, and stated as 0.1 Ω within half a per cent.
        assert one["resistance_low"] < ohm * 0.1 / SHUNT.resistance < one["resistance_high"]
    assert new["limit"]["verdict"] == old["limit"]["verdict"]
    assert {one["code"] for one in old["warnings"]} <= {one["code"] for one in new["warnings"]}
