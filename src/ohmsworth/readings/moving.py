"""Contacts that have not settled, and readings that were copied rather than taken."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy import stats

from ohmsworth.readings.doubt import Doubt
from ohmsworth.readings.slips import row_resistance
from ohmsworth.readings.table import OFF, Array, Codes, ReadingTable, number_cells

#: A drift over one mating below this fraction is nobody's concern.
_SMALLEST_DRIFT = 0.03
#: Scatter within a mating that is this many times the usual one does not settle.
_UNSETTLED = 5.0
#: Chance that a study of settled contacts is told of one that moves.
_FALSE_ALARM = 0.01
#: Scatter below which no meter on a bench can see.
_FINEST = 1e-4
#: Equal readings in a row that look copied, when written with three digits or more.
_COPIES = 4


@dataclass(frozen=True, slots=True, eq=False)
class _Courses:
    """Each mating's course in time: one entry a mating, logarithms of the readings.

    `drift` is the change along a fitted line and `error` its standard error for scatter 1; `about_mean` and
    `about_line` are sums of squares with `mean_freedom` and `line_freedom` degrees of freedom.
    """

    count: Array
    drift: Array
    error: Array
    about_mean: Array
    mean_freedom: Array
    about_line: Array
    line_freedom: Array


def find_moving(table: ReadingTable) -> list[Doubt]:
    """Doubt STILL_MOVING: matings whose readings drift or will not settle, one doubt a mating."""
    cell = table.cells()
    with np.errstate(divide="ignore", invalid="ignore"):
        logs = np.log(np.abs(row_resistance(table)))
    usable = np.flatnonzero(np.isfinite(logs))
    if table.time is not None and not np.isnan(table.time).any():
        usable = usable[np.argsort(table.time[usable], kind="stable")]
    if len(usable) < 3:
        return []
    course = _courses(logs[usable], cell[usable], table.polarity[usable])
    share = _FALSE_ALARM / max(int((course.count >= 3).sum()), 1)
    # About the mean has more degrees of freedom; about the line, contacts that all drift do not hide each other.
    noise, freedom = _usual(course.about_mean, course.mean_freedom, course.count)
    smooth, fewer = _usual(course.about_line, course.line_freedom, course.count)
    if not np.isfinite(noise):
        return []
    reach = min(noise * stats.t.isf(share / 4, freedom), smooth * stats.t.isf(share / 4, fewer))
    drifting = (course.count >= 4) & (
        np.abs(course.drift) > np.maximum(_SMALLEST_DRIFT, reach * course.error)
    )
    beside = np.maximum(course.mean_freedom, 1)
    usual = noise * np.maximum(_UNSETTLED, np.sqrt(stats.f.isf(share, beside, freedom)))
    sigma = np.sqrt(course.about_mean / beside)
    restless = (course.count >= 3) & (sigma > np.maximum(_SMALLEST_DRIFT, usual))
    return [
        _doubt(table, cell, int(c), bool(drifting[c]), float(course.drift[c]))
        for c in np.flatnonzero(drifting | restless)
    ]


def _courses(logs: Array, cell: Codes, polarity: np.ndarray) -> _Courses:
    """Fit a line to each mating's readings, in the order in which they stand.

    The two polarities are centred apart, so that a thermal EMF is not taken for movement.
    """
    size = int(cell.max()) + 1
    side = number_cells([cell, polarity.astype(np.int64) + 1])
    order = np.arange(len(cell), dtype=float) - _first(cell, size)[cell]
    r, x = _centred(logs, side), _centred(order, side)
    count = np.bincount(cell, minlength=size).astype(float)
    xx = np.bincount(cell, x * x, size)
    slope = np.divide(np.bincount(cell, x * r, size), xx, out=np.zeros(size), where=xx > 0)
    span = np.zeros(size)
    np.maximum.at(span, cell, order)
    sides = np.bincount(cell[np.unique(side, return_index=True)[1]], minlength=size).astype(float)
    return _Courses(
        count,
        slope * span,
        np.divide(span, np.sqrt(xx), out=np.zeros(size), where=xx > 0),
        np.bincount(cell, r * r, size).astype(float),
        count - sides,
        np.bincount(cell, (r - slope[cell] * x) ** 2, size).astype(float),
        count - sides - 1,
    )


def _first(cell: Codes, size: int) -> Array:
    first = np.full(size, np.inf)
    np.minimum.at(first, cell, np.arange(len(cell), dtype=float))
    return first


def _centred(values: Array, group: Codes) -> Array:
    return values - (np.bincount(group, values) / np.bincount(group))[group]


def _usual(squares: Array, freedom: Array, count: Array) -> tuple[float, float]:
    """The usual scatter within a mating, with its degrees of freedom: the median over matings.

    A sum of squares divided by the median of its chi-squared distribution has the variance as its median,
    however few readings there are.
    """
    known = (count >= 3) & (freedom >= 1)
    if not known.any():
        return np.inf, 1.0
    variance = np.median(squares[known] / stats.chi2.median(freedom[known]))
    # A median is worth about half of the readings it is taken over.
    return max(float(np.sqrt(variance)), _FINEST), max(float(freedom[known].sum()) / 2, 1.0)


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
    leading = table.voltage if table.voltage is not None else table.resistance
    assert leading is not None
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


def _runs(flags: np.ndarray) -> list[tuple[int, int]]:
    """First and last row of each run in which neighbours are the same."""
    padded = np.concatenate([[False], flags, [False]]).astype(int)
    edges = np.diff(padded)
    return list(zip(np.flatnonzero(edges == 1).tolist(), np.flatnonzero(edges == -1).tolist(), strict=True))


def _digits(value: float) -> int:
    """Significant digits that a number was written with, trailing zeros not counted."""
    return len(f"{abs(value):.8e}".split("e")[0].replace(".", "").rstrip("0"))
