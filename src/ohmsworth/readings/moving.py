"""Contacts that have not settled, and readings that were copied rather than taken."""

from __future__ import annotations

import numpy as np
from scipy import special

from ohmsworth.readings.courses import Courses, last_digits, leading_column, read_courses, usual_scatter
from ohmsworth.readings.doubt import Doubt
from ohmsworth.readings.table import OFF, Codes, ReadingTable, number_cells

#: A drift over one mating below this fraction is nobody's concern.
SMALLEST_DRIFT = 0.03
#: Scatter within a mating that is this many times the usual one does not settle.
UNSETTLED = 5.0
#: Chance that a study of settled contacts is told of one that moves.
FALSE_ALARM = 0.01
#: Equal readings in a row that look copied, when written with three digits or more.
_COPIES = 4
#: Neighbours that must differ, as a share, to show that the meter's step is what they differ by.
_CHANGING = 0.1


def find_moving(table: ReadingTable) -> list[Doubt]:
    """Doubt STILL_MOVING: matings whose readings drift or will not settle, one doubt a mating."""
    course = read_courses(table)
    if course is None:
        return []
    drifting, restless = drifting_matings(course), restless_matings(course)
    cell = table.cells()
    return [
        _doubt(table, cell, int(c), bool(drifting[c]), float(course.drift[c]))
        for c in np.flatnonzero(drifting | restless)
    ]


def drifting_matings(course: Courses, least: float = SMALLEST_DRIFT) -> np.ndarray:
    """Which matings change along a line by more than `least` and by more than scatter explains."""
    # About the mean has more degrees of freedom; about the line, contacts that all drift do not hide each other.
    noise, freedom = usual_scatter(course.about_mean, course.mean_freedom, course.count)
    smooth, fewer = usual_scatter(course.about_line, course.line_freedom, course.count)
    if not np.isfinite(noise):
        return np.zeros(len(course.count), bool)
    share = _share(course) / 4
    reach = np.minimum(
        np.maximum(noise, course.rounding) * -special.stdtrit(freedom, share),
        np.maximum(smooth, course.rounding) * -special.stdtrit(fewer, share),
    )
    return np.asarray((course.count >= 4) & (np.abs(course.drift) > np.maximum(least, reach * course.error)))


def restless_matings(course: Courses) -> np.ndarray:
    """Which matings scatter many times more than is usual."""
    noise, freedom = usual_scatter(course.about_mean, course.mean_freedom, course.count)
    if not np.isfinite(noise):
        return np.zeros(len(course.count), bool)
    beside = np.maximum(course.mean_freedom, 1)
    times = np.maximum(UNSETTLED, np.sqrt(special.fdtri(beside, freedom, 1 - _share(course))))
    sigma = np.sqrt(course.about_mean / beside)
    usual = times * np.maximum(noise, course.rounding)
    return np.asarray((course.count >= 3) & (sigma > np.maximum(SMALLEST_DRIFT, usual)))


def _share(course: Courses) -> float:
    """The false alarm that each mating may have, for the study to have its own."""
    return FALSE_ALARM / max(int((course.count >= 3).sum()), 1)


def _doubt(table: ReadingTable, cell: Codes, number: int, drifting: bool, drift: float) -> Doubt:
    member = cell == number
    specimen = table.specimen.names[table.specimen.codes[member][0]]
    how = f"drifts by {drift:+.0%} while being read" if drifting else "will not settle while being read"
    return Doubt(
        "STILL_MOVING",
        f"{specimen}: the contact {how.replace('%', ' %').replace('-', '−')}.",
        tuple(table.line[member].tolist()),
        "Let it settle and read again: its value is not yet a resistance.",
    )


def find_copies(table: ReadingTable) -> list[Doubt]:
    """Doubt COPIED: the same reading to the last digit many times over within one mating."""
    columns = [c for c in (table.voltage, table.current, table.resistance) if c is not None]
    same = np.ones(max(len(table) - 1, 0), bool)
    for column in columns:
        same &= np.abs(column[1:]) == np.abs(column[:-1])  # whichever way the current flows
    cell = table.cells()
    same &= (cell[1:] == cell[:-1]) & (table.polarity[1:] != OFF)
    if _coarse(table, cell):
        return []
    leading = leading_column(table)
    rows: list[int] = []
    for start, stop in _runs(same):
        if stop - start + 1 >= _COPIES and _digits(float(leading[start])) >= 3:
            rows += table.line[start : stop + 1].tolist()
    if not rows:
        return []
    return [
        Doubt(
            "COPIED",
            "the same reading to the last digit, again and again: copied, or a meter too coarse to see "
            "its own scatter.",
            tuple(rows),
            "Take each reading afresh; if they are real, their scatter says nothing and the meter's "
            "accuracy counts.",
        )
    ]


def _coarse(table: ReadingTable, cell: Codes) -> bool:
    """Whether readings of one mating that differ at all do so by a step of the meter: then equal ones are no copies."""
    if len(table) == 0:
        return False
    side = number_cells([cell, table.polarity.astype(np.int64) + 1])
    order = np.argsort(side, kind="stable")
    same = np.diff(side[order]) == 0
    leading = np.abs(leading_column(table))
    written = np.full(int(side.max()) + 1, 400)
    np.minimum.at(written, side, last_digits(leading))
    apart = np.abs(np.diff(leading[order]))[same]
    apart /= 10.0 ** written[side[order][1:]][same]
    differing = apart[apart > 0.5]
    return len(differing) > _CHANGING * len(apart) and float(np.quantile(differing, 0.9)) < 1.5


def _runs(flags: np.ndarray) -> list[tuple[int, int]]:
    """First and last row of each run in which neighbours are the same."""
    padded = np.concatenate([[False], flags, [False]]).astype(int)
    edges = np.diff(padded)
    return list(zip(np.flatnonzero(edges == 1).tolist(), np.flatnonzero(edges == -1).tolist(), strict=True))


def _digits(value: float) -> int:
    """Significant digits that a number was written with, trailing zeros not counted."""
    return len(f"{abs(value):.8e}".split("e")[0].replace(".", "").rstrip("0"))
