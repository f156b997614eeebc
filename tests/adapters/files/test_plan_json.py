"""plan.json comes back as it went, or is refused."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from ohmsworth.adapters.files.plan_json import plan_bytes, read_plan_json
from ohmsworth.resistance.impedance.circuit import Circuit, Shunt
from ohmsworth.resistance.impedance.wishes import Wishes, plan_for
from ohmsworth.work.tones import same_plan

PLAN = plan_for(Wishes(Circuit(Shunt(0.1), 47.0, 1.4), 0.01, 0.02, tones=4, seconds=8.0, way="in turn"))


def test_it_comes_back(tmp_path: Path) -> None:
    (tmp_path / "plan.json").write_bytes(plan_bytes(PLAN))
    found, faults = read_plan_json(tmp_path / "plan.json")
    assert not faults
    assert found is not None
    assert same_plan(found, PLAN)
    assert plan_bytes(found) == plan_bytes(PLAN)


@pytest.mark.parametrize(
    ("key", "value", "words"),
    [
        ("format", "ohmsworth tone plan 2", "the release that wrote it"),
        ("format", "something else", "plan.json from the folder"),
        ("rate", 48000.5, "whole number"),
        ("rate", True, "whole number"),
        ("periods", 0, "whole number"),
        ("silence", None, "whole number"),
        ("way", "backwards", "in turn"),
        ("cycles", [3, 1, 5, 7], "ascending"),
        ("cycles", [1, 3, 5], "as many as"),
        ("cycles", [1, 3, 5, 10**9], "half the period"),
        ("cycles", 7, "list of numbers"),
        ("amplitudes", [0.1, 0.1, 0.1, -0.1], "list of numbers"),
        ("amplitudes", [0.1, 0.1, 0.1, float("nan")], "list of numbers"),
        ("phases", [0.1, 0.1, 0.1, float("inf")], "list of numbers"),
        ("phases", [0.1, 0.1, 0.1, "0"], "list of numbers"),
    ],
)
def test_a_spoiled_one_is_refused(key: str, value: Any, words: str, tmp_path: Path) -> None:
    data = json.loads(plan_bytes(PLAN)) | {key: value}
    (tmp_path / "plan.json").write_text(json.dumps(data), "utf-8")
    found, faults = read_plan_json(tmp_path / "plan.json")
    assert found is None
    assert words in str(faults[0])


@pytest.mark.parametrize("text", ["", "{", "[]", "3", "[" * 100_000])
def test_what_is_no_plan_is_refused(text: str, tmp_path: Path) -> None:
    (tmp_path / "plan.json").write_text(text, "utf-8")
    found, faults = read_plan_json(tmp_path / "plan.json")
    assert found is None
    assert faults[0].where.startswith("plan.json")
    assert read_plan_json(tmp_path / "none.json")[1][0].found == "no such file"
