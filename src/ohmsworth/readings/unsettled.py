"""Conditions whose readings do not settle as a whole, so that their average is no resistance."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy import special

from ohmsworth.readings.courses import Courses, read_courses, usual_scatter
from ohmsworth.readings.doubt import Doubt
from ohmsworth.readings.moving import FALSE_ALARM, UNSETTLED, drifting_matings
from ohmsworth.readings.slips import row_resistance
from ohmsworth.readings.table import Array, Codes, ReadingTable
from ohmsworth.units import show

#: Relative movement within a mating from which a whole condition is told to move; below it is noise to average.
MOVES = 0.10
#: Scatter within a mating that no settled contact shows, whatever there is to compare it with.
ALONE = 0.25
#: More than this share of a condition's matings must drift.
_MOST = 0.5


@dataclass(frozen=True, slots=True, eq=False)
class Unsettled:
    """A condition that still moves.

    Parameters
    ----------
    condition
        Label number.
    movement
        Highest over lowest reading of one mating, the median over the condition's matings.
    lowest, highest
        Of all readings under the condition, ohm.
    specimen, low
        Its specimens (label numbers) and the lowest reading of each, ohm.
    """

    condition: int
    movement: float
    lowest: float
    highest: float
    specimen: Codes
    low: Array


@dataclass(frozen=True, slots=True, eq=False)
class _Unrest:
    """A condition's usual scatter within a mating with its degrees of freedom, and what rounding makes of it."""

    scatter: float
    freedom: float
    rounding: float
    drifts: bool
    movement: float


def find_unsettled(table: ReadingTable) -> tuple[Unsettled, ...]:
    """The conditions that still move: most of their matings drift, or scatter many times more than elsewhere."""
    course = read_courses(table)
    if course is None:
        return ()
    condition = np.full(len(course.count), -1)  # of a mating without a reading
    condition[course.cell] = table.condition.codes[course.rows]
    drifting = drifting_matings(course, MOVES)
    found = {int(c): _unrest(course, drifting, condition == c) for c in np.unique(condition[condition >= 0])}
    return tuple(_told(table, c, unrest.movement) for c, unrest in found.items() if _moves(c, found))


def _unrest(course: Courses, drifting: np.ndarray, member: np.ndarray) -> _Unrest:
    scatter, freedom = usual_scatter(
        course.about_mean[member], course.mean_freedom[member], course.count[member]
    )
    seen = member & (course.count >= 3) & (course.mean_freedom >= 1)
    most = bool(drifting[member].sum() > _MOST * max(int(seen.sum()), 1))
    span = float(np.median(course.span[seen])) if seen.any() else 0.0
    return _Unrest(scatter, freedom, float(np.median(course.rounding[member])), most, float(np.exp(span)))


def _moves(condition: int, found: dict[int, _Unrest]) -> bool:
    own = found[condition]
    if not np.isfinite(own.scatter):
        return False
    if own.drifts or own.scatter > max(ALONE, UNSETTLED * own.rounding):
        return True
    others = [one for c, one in found.items() if c != condition and np.isfinite(one.scatter)]
    if not others or own.scatter <= MOVES:
        return False
    stillest = min(others, key=lambda one: one.scatter)
    usual = max(stillest.scatter, own.rounding)
    pairs = (len(others) + 1) * len(others)
    chance = float(special.fdtrc(own.freedom, stillest.freedom, (own.scatter / usual) ** 2))
    return own.scatter > UNSETTLED * usual and chance < FALSE_ALARM / pairs


def _told(table: ReadingTable, condition: int, movement: float) -> Unsettled:
    ohm = np.abs(row_resistance(table))
    rows = np.flatnonzero((table.condition.codes == condition) & np.isfinite(ohm))
    specimen, place = np.unique(table.specimen.codes[rows], return_inverse=True)
    low = np.full(len(specimen), np.inf)
    np.minimum.at(low, place, ohm[rows])
    return Unsettled(condition, movement, float(low.min()), float(ohm[rows].max()), specimen, low)


def unsettled_doubt(table: ReadingTable, found: Unsettled) -> Doubt:
    """Doubt CONDITION_MOVING, with every line of the condition."""
    return Doubt(
        "CONDITION_MOVING",
        f"the readings of '{table.condition.names[found.condition]}' do not settle: {movement_words(found.movement)} within one "
        f"mating, {show(found.lowest, 'Ω', 2)} to {show(found.highest, 'Ω', 2)} in all; their average is no resistance.",
        tuple(table.line[table.condition.codes == found.condition].tolist()),
        "Wait until readings stand still, at a dry-circuit level, and read again; wipe or exercise what still moves.",
    )


def movement_words(movement: float) -> str:
    """How far readings move within a mating, in words.

    Examples
    --------
    >>> movement_words(3.04), movement_words(1.24)
    ('they change by a factor of 3', 'they change by 24 %')
    """
    return f"they change by {f'a factor of {movement:.2g}' if movement >= 2 else f'{movement - 1:.0%}'.replace('%', ' %')}"
