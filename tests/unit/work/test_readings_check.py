"""Which readings are left out, and what is said of each that is doubted."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pytest

import ohmsworth as ow
from ohmsworth.work.answer_study import answer_study
from ohmsworth.work.readings_check import _spared as spared
from ohmsworth.work.readings_check import look_at_readings

CURRENT = 0.1


class Sheet:
    """A bench sheet that is filled in mating by mating; lines count from 2, as in a file."""

    def __init__(self) -> None:
        self.specimen: list[str] = []
        self.condition: list[str] = []
        self.mating: list[str] = []
        self.ohm: list[float] = []

    def mate(self, specimen: str, condition: str, number: int, ohm: Sequence[float]) -> tuple[int, ...]:
        """Add a mating's readings, polarity in turn; return their lines."""
        start = len(self.ohm) + 2
        self.specimen += [specimen] * len(ohm)
        self.condition += [condition] * len(ohm)
        self.mating += [str(number)] * len(ohm)
        self.ohm += ohm
        return tuple(range(start, start + len(ohm)))

    def loaded(self, **study: object) -> ow.LoadedStudy:
        several = len(set(self.condition)) > 1
        sign = np.array([1 if i % 2 == 0 else -1 for i in range(len(self.ohm))])
        asked = ow.Study("?", reference="new" if several else None, **study)  # type: ignore[arg-type]
        return ow.from_arrays(
            asked,
            specimen=self.specimen,
            condition=self.condition,
            mating=self.mating,
            voltage=np.array(self.ohm) * sign * CURRENT,
            current=sign * CURRENT,
        )


def settled(rng: np.random.Generator, middle: float = 2.4e-3, number: int = 4) -> list[float]:
    return list(middle * np.exp(0.002 * rng.standard_normal(number)))


def moving(middle: float = 2.4e-3) -> list[float]:
    return list(middle * np.array([1.8, 1.5, 1.3, 1.15]))


@pytest.fixture
def sheet() -> Sheet:
    found, rng = Sheet(), np.random.default_rng(4)
    for condition in ("new", "worn"):
        for s in range(3):
            for m in range(3):
                found.mate(f"{condition} {s}", condition, m, settled(rng))
    return found


def told(loaded: ow.LoadedStudy) -> list[tuple[str, tuple[int, ...], bool]]:
    return [(w.code, w.rows, w.set_aside) for w in answer_study(loaded).warnings if w.code != "NO_METER"]


def test_good_readings_are_all_used(sheet: Sheet) -> None:
    assert look_at_readings(sheet.loaded().study, sheet.loaded().table) == ([], frozenset(), ())


def test_a_slip_is_left_out_and_nothing_else_is_said_of_it(sheet: Sheet) -> None:
    sheet.ohm[3] *= 10
    assert told(sheet.loaded()) == [("UNIT_SLIP", (5,), True)]


def test_a_slip_that_is_kept_stays_with_its_mating(sheet: Sheet) -> None:
    sheet.ohm[3] *= 10
    loaded = sheet.loaded(keep=frozenset({5}))
    answer = answer_study(loaded)
    assert answer.rows_used == answer.rows
    kept = [w for w in answer.warnings if w.code == "UNIT_SLIP"]
    assert [(w.rows, w.set_aside, w.what_to_do) for w in kept] == [((5,), False, "Nothing.")]
    assert kept[0].words.endswith("Kept by the owner.")


def test_one_of_two_slips_kept_is_told_from_the_other(sheet: Sheet) -> None:
    sheet.ohm[3] *= 10
    sheet.ohm[20] *= 10
    found = [w for w in told(sheet.loaded(keep=frozenset({5}))) if w[0] == "UNIT_SLIP"]
    assert found == [("UNIT_SLIP", (22,), True), ("UNIT_SLIP", (5,), False)]


def test_what_the_owner_sets_aside_is_out_and_not_doubted_again(sheet: Sheet) -> None:
    sheet.ohm[3] *= 10
    answer = answer_study(sheet.loaded(set_aside={5: "slip of the pen"}))
    assert told(sheet.loaded(set_aside={5: "slip of the pen"})) == [("SET_ASIDE", (5,), True)]
    assert answer.rows_used == answer.rows - 1
    assert "set aside by the owner: slip of the pen." in [w.words for w in answer.warnings]
    assert not any("line 5" in a.words for a in answer.actions)


def test_what_is_everywhere_is_no_slip_to_be_left_out(sheet: Sheet) -> None:
    for i in range(0, len(sheet.ohm), 3):
        sheet.ohm[i] *= 10
    answer = answer_study(sheet.loaded())
    assert answer.rows_used == answer.rows


def test_no_condition_vanishes_on_suspicion_and_none_shields_another(sheet: Sheet) -> None:
    table = sheet.loaded().table
    worn = set(table.line[[c == "worn" for c in sheet.condition]].tolist())
    assert spared(table, {5} | worn) == {5}
    assert spared(table, {5} | (worn - {max(worn)})) == {5} | (worn - {max(worn)})


def test_a_moving_mating_is_spared_where_the_specimen_has_settled_ones(sheet: Sheet) -> None:
    lines = sheet.mate("worn 1", "worn", 9, moving())
    answer = answer_study(sheet.loaded())
    assert told(sheet.loaded()) == [("STILL_MOVING", lines, True)]
    assert [s.id for s in answer.specimens if s.state == "still moving"] == ["worn 1"]
    (found,) = [s for s in answer.specimens if s.id == "worn 1"]
    assert found.resistance == pytest.approx(2.4e-3, rel=0.01)


def test_a_moving_mating_is_kept_whole_when_its_owner_keeps_a_row_of_it(sheet: Sheet) -> None:
    lines = sheet.mate("worn 1", "worn", 9, moving())
    answer = answer_study(sheet.loaded(keep=frozenset(lines[:1])))
    assert answer.rows_used == answer.rows


def test_a_specimen_that_only_moves_stays(sheet: Sheet) -> None:
    lines = sheet.mate("worn 7", "worn", 0, moving())
    answer = answer_study(sheet.loaded())
    assert told(sheet.loaded()) == [("STILL_MOVING", lines, False)]
    assert "worn 7" in {s.id for s in answer.specimens}
    assert any("Read worn 7 again" in a.words for a in answer.actions)


def test_where_moving_is_the_rule_it_is_the_finding(sheet: Sheet) -> None:
    """More than a quarter of a condition's matings."""
    for s in range(3):
        for m in range(2):
            sheet.mate(f"worn {s}", "worn", 10 + m, moving())
    answer = answer_study(sheet.loaded())
    assert answer.rows_used == answer.rows
    assert sum(w.code == "STILL_MOVING" for w in answer.warnings) == 6


def test_readings_about_zero_have_no_slips_and_do_not_move() -> None:
    rng = np.random.default_rng(6)
    sheet = Sheet()
    for s in range(4):
        for m in range(3):
            sheet.mate(f"N{s}", "new", m, list(2e-5 * rng.standard_normal(4)))
    sheet.ohm[5] = 2e-3  # a hundred times more: a finding here, no decimal mark
    codes = {w.code for w in answer_study(sheet.loaded(scale="linear")).warnings}
    assert not codes & {"UNIT_SLIP", "STILL_MOVING", "SWAPPED", "TWO_WIRE"}


def grave(sheet: Sheet) -> list[tuple[str, tuple[int, ...]]]:
    """What leads the sentence and the steps; the rows stay in."""
    answer = answer_study(sheet.loaded())
    assert answer.rows_used == answer.rows
    assert "in doubt" in answer.sentence or "in grave doubt" in answer.sentence
    assert answer.actions[0].words.startswith("Before you use this answer")
    return [(w.code, w.rows) for w in answer.warnings if "unit" in w.words]


def lines_of(sheet: Sheet, chosen: str) -> tuple[int, ...]:
    rows = zip(sheet.specimen, sheet.condition, strict=True)
    return tuple(line for line, row in enumerate(rows, 2) if chosen in row)


def test_a_specimen_in_another_unit_leads_the_answer(sheet: Sheet) -> None:
    lines = lines_of(sheet, "worn 1")
    for line in lines:
        sheet.ohm[line - 2] *= 1000
    assert grave(sheet) == [("WHOLE_SPECIMEN_OFF", lines)]


def test_a_condition_in_another_unit_leads_the_answer(sheet: Sheet) -> None:
    lines = lines_of(sheet, "worn")
    for line in lines:
        sheet.ohm[line - 2] *= 1000
    assert grave(sheet) == [("WHOLE_CONDITION_OFF", lines)]


def test_a_heading_in_another_unit_leads_the_answer(sheet: Sheet) -> None:
    sheet.ohm = [ohm / 1000 for ohm in sheet.ohm]
    assert grave(sheet) == [("UNLIKELY_SCALE", tuple(range(2, len(sheet.ohm) + 2)))]


def test_what_the_owner_keeps_leads_nothing(sheet: Sheet) -> None:
    sheet.ohm = [ohm / 1000 for ohm in sheet.ohm]
    answer = answer_study(sheet.loaded(keep=frozenset(range(2, len(sheet.ohm) + 2))))
    assert "doubt" not in answer.sentence
    assert [w.what_to_do for w in answer.warnings if w.code == "UNLIKELY_SCALE"] == ["Nothing."]


def test_a_mating_filled_down_is_told(sheet: Sheet) -> None:
    sheet.ohm = [round(ohm, 7) for ohm in sheet.ohm]
    sheet.ohm[4:8] = sheet.ohm[:4]
    assert ("COPIED", tuple(range(2, 10)), False) in told(sheet.loaded())


def test_a_stray_name_is_told(sheet: Sheet) -> None:
    lines = sheet.mate("A", "worn", 0, [2.4e-3])
    assert ("FEW_ROWS", lines, False) in told(sheet.loaded())
    sheet.mate("worn 1", "wornn", 0, [2.4e-3])
    assert "NEAR_NAMES" in {code for code, _, _ in told(sheet.loaded())}


@pytest.mark.parametrize(
    ("bench", "missing"),
    [
        (ow.Bench(), "voltmeter and ammeter"),
        (ow.Bench(ammeter=ow.Accuracy(0.002, 3, 1e-5)), "voltmeter"),
        (ow.Bench(voltmeter=ow.Accuracy(0.002, 3, 1e-7), ammeter=ow.Accuracy(resolution=1e-5)), ""),
    ],
)
def test_only_meters_without_an_accuracy_are_said_to_have_none(
    sheet: Sheet, bench: ow.Bench, missing: str
) -> None:
    answer = answer_study(sheet.loaded(bench=bench))
    doubts = [w.words for w in answer.warnings if w.code == "NO_METER"]
    method = [line for line in answer.method if "was not stated" in line]
    if not missing:
        assert not doubts
        assert not method
        return
    assert f"the accuracy of the {missing} is not stated: how far the readings scatter is in" in doubts[0]
    assert (
        f"The accuracy of the {missing} was not stated: its last digit is in the readings' scatter"
        in method[0]
    )
    assert ("taken as a rectangle" in method[0]) == (missing == "voltmeter")
