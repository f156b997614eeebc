"""The tones of a study in the records: planned, kept, changed, played and drawn."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
import soundfile
from tests.unit.work.tone_studies import BY, TONES, ToneStudy

from ohmsworth import wiring
from ohmsworth.errors import InputRefused
from ohmsworth.resistance.impedance.drive import drive
from ohmsworth.work.keep_standard import withdraw_standard
from ohmsworth.work.reading_changes import change_reading
from ohmsworth.work.records import Records
from ohmsworth.work.study_tones import StudyTones, card_of, plan_tones, tones_of, write_drive
from ohmsworth.work.tone_form import ToneForm
from ohmsworth.work.tones import plan_tones as of_folder
from ohmsworth.work.tones import same_plan

OTHER = TONES.replace("number = 4", "number = 3")


@pytest.fixture
def records(tmp_path: Path) -> Iterator[Records]:
    with wiring.open_records(str(tmp_path / "shop.records")) as found:
        yield found


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("sent")


@pytest.fixture
def bench(records: Records, folder: Path) -> ToneStudy:
    return ToneStudy(records, folder)


def plan(bench: ToneStudy, text: str, key: str = "again") -> StudyTones:
    return plan_tones(bench.shop, bench.desk, bench.study, bench.state, text, BY, key)


def tones(bench: ToneStudy) -> StudyTones:
    found = tones_of(bench.shop, bench.study, bench.state, bench.desk)
    assert found is not None
    return found


def test_a_plan_is_the_one_of_a_folder(bench: ToneStudy, tmp_path: Path) -> None:
    place = tmp_path / "folder"
    place.mkdir()
    (place / "tones.toml").write_text(TONES, "utf-8")
    found, answer = of_folder(wiring.load_tones(place))
    assert same_plan(tones(bench).plan, found)
    assert tones(bench).answer == answer
    assert tones(bench).text == TONES
    assert {one.name: one.beside for one in bench.state.files} == {"tones.toml": True, "plan.json": True}
    assert tones(bench) is tones(bench)
    assert card_of(tones(bench), bench.study).title


def test_there_are_none_before_a_plan(records: Records, folder: Path) -> None:
    bench = ToneStudy(records, folder, tones="")
    assert tones_of(bench.shop, bench.study, bench.state, bench.desk) is None
    with pytest.raises(InputRefused) as refused:
        plan(bench, TONES.replace('"30 mA"', '"30 ma"').replace("number = 4", "number = 99"))
    fields = {bench.shop.tone_field(fault) for fault in refused.value.faults}
    assert fields == {"current", "number"}
    assert bench.state.files == ()
    with pytest.raises(InputRefused) as refused:
        plan(bench, TONES.replace('"30 mA"', '"3 A"'))
    assert [bench.shop.tone_field(fault) for fault in refused.value.faults] == ["current"]


def test_the_same_again_adds_no_line(bench: ToneStudy) -> None:
    last = bench.state.last
    plan(bench, TONES)
    assert bench.state.last == last
    plan(bench, OTHER)
    assert len(tones(bench).plan.cycles) == 3
    assert bench.state.last == last + 2


def test_tones_stay_while_takes_are_kept(bench: ToneStudy) -> None:
    number = bench.keep().number
    with pytest.raises(InputRefused, match=r"what is kept \(1 take\)"):
        plan(bench, OTHER)
    plan(bench, TONES.replace('tolerance = "±0.5 %"', 'tolerance = "±0.2 %"', 1), "tolerance")
    assert tones(bench).wishes.circuit.shunt.tolerance == pytest.approx(0.002)
    change_reading(bench.shop, bench.study, bench.state, number, "withdraw", "wrong", BY, "gone")
    plan(bench, OTHER)
    with pytest.raises(InputRefused, match="other tones"):
        change_reading(bench.shop, bench.study, bench.state, number, "put back", "right", BY, "back")


def test_tones_stay_while_a_standard_is_in_use(bench: ToneStudy) -> None:
    number = bench.standard("short").number
    with pytest.raises(InputRefused, match="1 standard"):
        plan(bench, OTHER)
    withdraw_standard(bench.shop, bench.study, bench.state, number, "other tones", BY, "gone")
    plan(bench, OTHER)


def test_the_drive_is_written_as_planned(bench: ToneStudy, tmp_path: Path) -> None:
    write_drive(bench.shop, tones(bench), tmp_path / "drive.wav")
    data, rate = soundfile.read(tmp_path / "drive.wav")
    made = tones(bench).plan
    assert (rate, data.shape) == (made.rate, (made.length, 2))
    np.testing.assert_allclose(data[:, 1], drive(made, 0, made.length), atol=2.0**-23)
    assert [one.name for one in tmp_path.iterdir() if "drive" in one.name] == ["drive.wav"]


def test_a_form_makes_a_plan(records: Records, folder: Path) -> None:
    bench = ToneStudy(records, folder, tones="")
    form = ToneForm(
        number="3", time="1 s", level_check="1 s", current="5 mA rms", load="10 mΩ", load_tolerance="±1 %"
    )
    plan(bench, bench.shop.tones_text(form, ""))
    assert bench.shop.tone_form(tones(bench).text) == form
    assert tones(bench).wishes.rms
    assert tones(bench).known.load is not None
