"""How far a sheet is read."""

from __future__ import annotations

import pytest
from tests.unit.work.live_studies import empty, table_of, turn_by_turn

from ohmsworth.errors import ArgumentFault
from ohmsworth.report.plan_answer import DesignAnswer
from ohmsworth.report.sheet import SheetRow
from ohmsworth.work.live_progress import Planned, planned_of, planned_on_sheet, progress

NAMED = ("new", "old")


def test_nothing_read() -> None:
    found = progress(empty().table, None, NAMED)
    assert found.assumed
    assert found.total == 30
    assert found.freedom() == (0, 20)


def test_a_mating_is_complete_when_its_readings_are() -> None:
    rows = [("a", "new", "1", 2.0), ("a", "new", "1", 2.0), ("a", "new", "2", 2.0)]
    planned = Planned(3, 2, 2, NAMED)
    assert [progress(table_of(rows[:n]), planned).condition(0) for n in (1, 2, 3)] == [0, 1, 1]
    turned = table_of(rows, pairs=True)
    counted = [progress(turned.take(list(range(n))), planned).condition(0) for n in (1, 2, 3, 4, 5)]  # type: ignore[arg-type]
    assert counted == [0, 0, 0, 1, 1]
    later = [*rows, ("b", "new", "1", 2.0)]
    assert progress(table_of(later), planned).specimen(0, 0) == 2  # nobody goes back to it


def test_more_than_planned_of_one_specimen_is_no_progress() -> None:
    rows = [("a", "new", str(m), 2.0) for m in range(5)]
    found = progress(table_of(rows), Planned(2, 2, 1, NAMED))
    assert found.condition(0) == 2
    assert found.specimen(0, 0) == 5
    both = progress(
        table_of([*rows, ("b", "new", "1", 2.0), ("b", "new", "2", 2.0)]), Planned(2, 2, 1, NAMED)
    )
    assert both.condition(0) == 7  # beyond the sheet, once it is read


def test_without_a_sheet_it_is_as_the_first_specimen_was_read() -> None:
    table = table_of(turn_by_turn(2, 2))
    found = [progress(table_of(turn_by_turn(2, 2)[:n]), None, NAMED).planned for n in range(1, 9)]
    assert [p.matings for p in found] == [3, 3, 2, 2, 2, 2, 2, 2]
    assert {p.specimens for p in found} == {5}
    assert progress(table, None, NAMED).complete(0) == 2


def test_from_a_plan_and_its_sheet() -> None:
    design = DesignAnswer(4, 2, 3, 8, 96, 60.0, 0.8)
    assert planned_of(design, NAMED) == Planned(4, 2, 3, NAMED)
    rows = [
        SheetRow(0, 1, "", f"{c} {s}", c, m, sign, "")
        for c in NAMED
        for s in range(4)
        for m in (1, 2)
        for _ in range(3)
        for sign in "+-"
    ]
    check = SheetRow(0, 1, "", "shunt", "shunt", 1, "+", "check standard, first")
    assert planned_on_sheet([check, *rows], "shunt") == Planned(4, 2, 3, NAMED)
    assert planned_on_sheet([check], "shunt") is None


@pytest.mark.parametrize("numbers", [(0, 1, 1), (1, 0, 1), (1, 1, 0)])
def test_a_sheet_holds_something(numbers: tuple[int, int, int]) -> None:
    with pytest.raises(ArgumentFault):
        Planned(*numbers)
