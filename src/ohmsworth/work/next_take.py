"""Which contact is recorded next over frequency: the first mating of the sheet that has no takes yet."""

from __future__ import annotations

from dataclasses import dataclass

from ohmsworth.report.sheet import SheetRow
from ohmsworth.work.study_log import StudyState, mating_of


@dataclass(frozen=True, slots=True)
class NextTake:
    """A mating of the sheet to be recorded: its first row, which mating of how many it is, and how many are left."""

    row: SheetRow
    nth: int
    of: int
    left: int


def next_take(state: StudyState) -> NextTake | None:
    """The first mating of the sheet without takes; None where there is no sheet, or every mating of it has been recorded.

    The check standard's rows are left out: direct current and tones are checked each by its own way.
    """
    rows = _matings(state)
    recorded = state.recorded
    left = [row for row in rows if mating_of(row) not in recorded and row.step not in state.skipped]
    if not left:
        return None
    return NextTake(left[0], rows.index(left[0]) + 1, len(rows), len(left))


def _matings(state: StudyState) -> list[SheetRow]:
    """The first row of every mating of the sheet, in its order."""
    found: dict[tuple[str, str, str], SheetRow] = {}
    for row in state.sheet:
        if not row.note:
            found.setdefault(mating_of(row), row)
    return list(found.values())
