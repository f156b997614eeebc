"""How far a bench sheet is read: matings complete, a specimen, a condition, in all."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from ohmsworth.errors import ArgumentFault
from ohmsworth.readings.table import OFF, REVERSED, Codes, ReadingTable, number_cells
from ohmsworth.report.plan_answer import DesignAnswer
from ohmsworth.report.sheet import SheetRow

#: Without a sheet looks count as if so many specimens a condition were on one.
ASSUMED_SPECIMENS = 5
#: Matings of each that are assumed while the first specimen is not finished.
ASSUMED_MATINGS = 3


@dataclass(frozen=True, slots=True)
class Planned:
    """What the bench sheet holds: `specimens` a condition, `matings` of each in it, `readings` of each mating.

    A reading is one resistance, forward and reversed where both are read; of all contacts together where a specimen has several.
    `conditions` names those on the sheet; () takes them from the study and its readings.
    """

    specimens: int
    matings: int = 1
    readings: int = 1
    conditions: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        for name in ("specimens", "matings", "readings"):
            if getattr(self, name) < 1:
                raise ArgumentFault(name, getattr(self, name), "one at least")

    @property
    def each(self) -> int:
        """Matings of one condition."""
        return self.specimens * self.matings


def planned_of(design: DesignAnswer, conditions: Sequence[str] = ()) -> Planned:
    """What the sheet of a plan's design will hold."""
    return Planned(design.specimens, design.matings, design.readings, tuple(conditions))


def planned_on_sheet(rows: Sequence[SheetRow], check: str | None = None) -> Planned | None:
    """What a bench sheet holds, without the rows of the check standard; None where that is nothing."""
    kept = [row for row in rows if check is None or row.specimen != check]
    if not kept:
        return None
    conditions = tuple(dict.fromkeys(row.condition for row in kept))
    specimens = Counter(c for _, c in {(row.specimen, row.condition) for row in kept})
    matings = Counter((s, c) for s, c, _ in {(row.specimen, row.condition, row.mating) for row in kept})
    # What is turned round is one reading; where nothing is, every row is one.
    turned = any(row.polarity == "-" for row in kept)
    readings = Counter(
        (row.specimen, row.condition, row.mating) for row in kept if not turned or row.polarity == "-"
    )
    return Planned(
        max(specimens.values()), max(matings.values()), max(readings.values(), default=1), conditions
    )


@dataclass(frozen=True, slots=True, eq=False)
class Progress:
    """Complete matings of each specimen under each condition (label numbers), beside what was planned.

    `conditions` counts those on the sheet. `assumed` says that there is none.
    """

    planned: Planned
    assumed: bool
    matings: Mapping[tuple[int, int], int]
    conditions: int = 1

    @property
    def total(self) -> int:
        """Matings on the sheet."""
        return self.conditions * self.planned.each

    def freedom(self) -> tuple[int, int]:
        """Degrees of freedom of the scatter below specimens, now and when the sheet is read."""
        cells = self.conditions * self.planned.specimens
        if self.planned.matings > 1:
            now = sum(max(done - 1, 0) for done in self.matings.values())
            return now, max(cells * (self.planned.matings - 1), now)
        each = self.planned.readings - 1
        now = each * sum(done > 0 for done in self.matings.values())
        return now, max(cells * each, now)

    def specimen(self, specimen: int, condition: int) -> int:
        """Complete matings of one specimen."""
        return self.matings.get((specimen, condition), 0)

    def condition(self, condition: int) -> int:
        """Complete matings of one condition; beyond the sheet only when all of the sheet is read."""
        own = [done for (_, c), done in self.matings.items() if c == condition]
        on_sheet = sum(min(done, self.planned.matings) for done in own[: self.planned.specimens])
        return on_sheet if on_sheet < self.planned.each else sum(own)

    def complete(self, condition: int) -> int:
        """Specimens of one condition whose matings are all read."""
        return sum(done >= self.planned.matings for (_, c), done in self.matings.items() if c == condition)


def progress(table: ReadingTable, planned: Planned | None, named: Sequence[str] = ()) -> Progress:
    """Count complete matings: every one but the last, and the last once it has its readings.

    Parameters
    ----------
    table
        Readings in the order in which they were taken.
    planned
        The sheet, or None.
    named
        Conditions that the question names; with those on the sheet and in the table they are all there are.

    Notes
    -----
    Rows that are left out of the answer count as read. Without a sheet one of five specimens a condition is assumed, with the
    matings and readings that the first specimen got before the next was begun.
    """
    if len(table) == 0:
        nothing = planned or Planned(ASSUMED_SPECIMENS, ASSUMED_MATINGS)
        return Progress(nothing, planned is None, {}, len({*nothing.conditions, *named}) or 1)
    specimen, condition = table.specimen.codes, table.condition.codes
    columns = [specimen, condition, *([] if table.mating is None else [table.mating.codes])]
    mating, cell = number_cells(columns), number_cells([specimen, condition])
    found = planned or _assumed(table, mating, cell)
    last = int(mating[-1])
    open_still = _readings(table, mating == last) < found.readings
    counts: dict[tuple[int, int], int] = {}
    for m, row in enumerate(np.unique(mating, return_index=True)[1].tolist()):
        key = int(specimen[row]), int(condition[row])
        counts[key] = counts.get(key, 0) + (0 if m == last and open_still else 1)
    conditions = {*found.conditions, *named, *table.condition.names}
    return Progress(found, planned is None, counts, len(conditions))


def _assumed(table: ReadingTable, mating: Codes, cell: Codes) -> Planned:
    """A sheet as the first specimen was read."""
    others = np.flatnonzero(cell != cell[0])
    until = int(others[0]) if len(others) else len(cell)
    matings = len(np.unique(mating[:until]))
    later = np.flatnonzero(mating != mating[0])
    readings = _readings(table, np.arange(len(mating)) < later[0]) if len(later) else 1
    return Planned(
        ASSUMED_SPECIMENS, matings if len(others) else max(matings, ASSUMED_MATINGS), max(readings, 1)
    )


def _readings(table: ReadingTable, member: np.ndarray) -> int:
    """Readings among the rows `member`: turned round and back where the study does so, else each row with current."""
    back = table.polarity == REVERSED
    if back.any():
        return int(min((back & member).sum(), ((table.polarity != OFF) & ~back & member).sum()))
    return int(((table.polarity != OFF) & member).sum())
