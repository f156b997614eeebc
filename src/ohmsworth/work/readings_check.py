"""Doubts about readings, and which rows are left out of the answer because of them: said, never silently."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ohmsworth.readings.copies import find_copied_runs
from ohmsworth.readings.doubt import Doubt
from ohmsworth.readings.dry_circuit import find_wet
from ohmsworth.readings.moving import find_copies, find_moving
from ohmsworth.readings.names import find_odd_names
from ohmsworth.readings.scale import find_unlikely
from ohmsworth.readings.slips import find_slips, row_resistance
from ohmsworth.readings.study import Study
from ohmsworth.readings.table import OFF, Codes, ReadingTable, number_cells
from ohmsworth.readings.unsettled import Unsettled, find_unsettled, unsettled_doubt

#: Slips are left out unless the owner keeps them.
SLIPS = ("UNIT_SLIP", "SWAPPED")
#: What is doubted more often than this is no exception any more, and stays in.
_EXCEPTIONS = 0.25
#: Readings scattered about zero have no decades to slip by, and no relative drift.
_ABOUT_ZERO = 0.05


@dataclass(frozen=True, slots=True)
class LeftOut:
    """What the answer leaves out by itself.

    `slips` and `moving` are the doubts that it rests on, `lines` those left out, `settling` the conditions that do not settle;
    `given` is the table without what its owner set aside, and `seen` also without slips.
    """

    slips: list[Doubt]
    moving: list[Doubt]
    lines: frozenset[int]
    settling: tuple[Unsettled, ...]
    given: ReadingTable
    seen: ReadingTable
    about_zero: bool


def find_left_out(study: Study, table: ReadingTable) -> LeftOut:
    """Which lines the answer leaves out, and why."""
    given = _without(table, set(study.set_aside))
    about_zero = float(np.mean(row_resistance(given) <= 0)) > _ABOUT_ZERO
    slipped = [] if about_zero else find_slips(given, study.limit, study.home)
    slips = {row for doubt in slipped if doubt.code in SLIPS for row in doubt.rows} - study.keep
    if len(slips) > _EXCEPTIONS * len(given):
        slips = set()
    left_out = _spared(given, slips)
    # A slip must not look like a moving or an overheated contact as well.
    seen = _without(given, left_out)
    moving = [] if about_zero else find_moving(seen)
    restless = () if about_zero else find_unsettled(seen)
    # A mating is left out whole, or kept whole.
    exceptions = {row for d in moving if study.keep.isdisjoint(d.rows) for row in d.rows}
    unsettled = _unsettled(seen, exceptions, {one.condition for one in restless})
    lines = frozenset(set(study.set_aside) | left_out | _spared(seen, unsettled))
    return LeftOut(slipped, moving, lines, restless, given, seen, about_zero)


def look_at_readings(
    study: Study, table: ReadingTable
) -> tuple[list[Doubt], frozenset[int], tuple[Unsettled, ...]]:
    """Every doubt about the readings, the lines to leave out of the answer, and the conditions that do not settle."""
    found = find_left_out(study, table)
    seen = found.seen
    doubts = [
        *found.slips,
        *find_unlikely(seen, study, found.slips, found.about_zero),
        *(unsettled_doubt(seen, one) for one in found.settling),
        *found.moving,
        *find_copies(seen),
        *find_copied_runs(seen),
        *find_wet(seen, study),
        *find_odd_names(found.given, study.home),
    ]
    return doubts, found.lines, found.settling


def _without(table: ReadingTable, lines: set[int]) -> ReadingTable:
    return table.take(np.flatnonzero(~np.isin(table.line, list(lines)))) if lines else table


def _spared(table: ReadingTable, suspects: set[int]) -> set[int]:
    """Those of `suspects` that can be left out: a condition does not vanish on mere suspicion."""
    suspected, condition = np.isin(table.line, list(suspects)), table.condition.codes
    stays = np.bincount(condition, ~suspected & (table.polarity != OFF)) > 0
    return set(table.line[suspected & stays[condition]].tolist())


def _unsettled(table: ReadingTable, moving: set[int], restless: set[int]) -> set[int]:
    """Lines of moving matings that can be spared: the specimen has a settled one, and moving is the exception.

    The value of a contact that still moves is not its resistance. Where moving is the rule, as under the `restless`
    conditions, it is the finding.
    """
    flagged = np.isin(table.line, list(moving))
    if not flagged.any():
        return set()
    mating, condition = table.cells(), table.condition.codes
    specimen = number_cells([table.specimen.codes, condition])
    settled = np.bincount(specimen, ~flagged) > 0
    share = _share_of_groups(mating, condition, flagged)
    exception = (share[condition] <= _EXCEPTIONS) & ~np.isin(condition, list(restless))
    spared = flagged & settled[specimen] & exception
    return set(table.line[spared].tolist())


def _share_of_groups(group: Codes, outer: Codes, flagged: np.ndarray) -> np.ndarray:
    """For each outer group the share of its groups that hold a flagged row."""
    first = np.unique(group, return_index=True)[1]
    bad = np.bincount(group, flagged) > 0
    return np.bincount(outer[first], bad) / np.maximum(np.bincount(outer[first]), 1)
