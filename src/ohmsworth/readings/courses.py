"""Each mating's course while it was read, the scatter that is usual, and the step that the meter shows."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy import special

from ohmsworth.readings.once import once_each
from ohmsworth.readings.slips import row_resistance
from ohmsworth.readings.table import Array, Codes, ReadingTable, number_cells

#: Scatter below which no meter on a bench can see.
_FINEST = 1e-4
#: Standard deviation of what rounding to whole steps does, in steps.
_ROUNDING = 1 / np.sqrt(12)
#: Digits of a number that are looked at; more are no longer written but computed.
_DIGITS = 9


@dataclass(frozen=True, slots=True, eq=False)
class Courses:
    """Each mating's course in time: one entry a mating, logarithms of the readings.

    `drift` is the change along a fitted line and `error` its standard error for scatter 1; `about_mean` and
    `about_line` are sums of squares with `mean_freedom` and `line_freedom` degrees of freedom; `span` is the highest reading
    less the lowest, `rounding` the standard deviation that the last digit alone makes, and `cell` numbers each row's mating
    (of the `rows` that have a logarithm, in the order of time).
    """

    rows: Codes
    cell: Codes
    count: Array
    drift: Array
    error: Array
    about_mean: Array
    mean_freedom: Array
    about_line: Array
    line_freedom: Array
    span: Array
    rounding: Array


@once_each
def read_courses(table: ReadingTable) -> Courses | None:
    """The course of every mating; None where fewer than three readings have a logarithm.

    The two polarities are centred apart, so that a thermal EMF is not taken for movement.
    """
    with np.errstate(divide="ignore", invalid="ignore"):
        logs = np.log(np.abs(row_resistance(table)))
    rows = np.flatnonzero(np.isfinite(logs))
    if table.time is not None and not np.isnan(table.time).any():
        rows = rows[np.argsort(table.time[rows], kind="stable")]
    if len(rows) < 3:
        return None
    cell, logs = table.cells()[rows], logs[rows]
    size = int(cell.max()) + 1
    side = number_cells([cell, table.polarity[rows].astype(np.int64) + 1])
    order = np.arange(len(cell), dtype=float) - _least(np.arange(len(cell), dtype=float), cell, size)[cell]
    r, x = _centred(logs, side), _centred(order, side)
    count = np.bincount(cell, minlength=size).astype(float)
    xx = np.bincount(cell, x * x, size)
    slope = np.divide(np.bincount(cell, x * r, size), xx, out=np.zeros(size), where=xx > 0)
    length = np.zeros(size)  # a mating without a reading has none
    np.maximum.at(length, cell, order)
    sides = np.bincount(cell[np.unique(side, return_index=True)[1]], minlength=size).astype(float)
    return Courses(
        rows,
        cell,
        count,
        slope * length,
        np.divide(length, np.sqrt(xx), out=np.zeros(size), where=xx > 0),
        np.bincount(cell, r * r, size).astype(float),
        count - sides,
        np.bincount(cell, (r - slope[cell] * x) ** 2, size).astype(float),
        count - sides - 1,
        np.where(count > 0, -_least(-r, cell, size) - _least(r, cell, size), 0.0),
        _rounding(table, rows, cell, size),
    )


def _least(values: Array, group: Codes, size: int) -> Array:
    least = np.full(size, np.inf)
    np.minimum.at(least, group, values)
    return least


def _centred(values: Array, group: Codes) -> Array:
    return values - (np.bincount(group, values) / np.bincount(group))[group]


def usual_scatter(squares: Array, freedom: Array, count: Array) -> tuple[float, float]:
    """The usual scatter within a mating, with its degrees of freedom: the median over matings.

    A sum of squares divided by the median of its chi-squared distribution has the variance as its median,
    however few readings there are.
    """
    known = (count >= 3) & (freedom >= 1)
    if not known.any():
        return np.inf, 1.0
    variance = np.median(squares[known] / special.chdtri(freedom[known], 0.5))
    # A median is worth about half of the readings it is taken over.
    return max(float(np.sqrt(variance)), _FINEST), max(float(freedom[known].sum()) / 2, 1.0)


def _rounding(table: ReadingTable, rows: Codes, cell: Codes, size: int) -> Array:
    """Relative scatter of each mating that comes from the last digit of its readings as written."""
    leading = leading_column(table)[rows]
    step = 10.0 ** _least(last_digits(leading).astype(float), cell, size)
    with np.errstate(divide="ignore"):
        relative = (_ROUNDING * step[cell] / np.abs(leading)) ** 2
    return np.asarray(np.sqrt(np.bincount(cell, relative, size) / np.maximum(np.bincount(cell), 1)))


def leading_column(table: ReadingTable) -> Array:
    """The column that shows how finely was read: voltage, or resistance where that was read directly."""
    leading = table.voltage if table.voltage is not None else table.resistance
    assert leading is not None
    return leading


def last_digits(values: Array) -> Codes:
    """Power of ten of the last digit that each number is written with; trailing zeros are not seen.

    Examples
    --------
    >>> last_digits(np.array([2.4e-3, 0.125, 30.0])).tolist()
    [-4, -3, 1]
    """
    size = np.abs(np.where(values == 0, 1.0, values))
    first = np.floor(np.log10(size) + 1e-12).astype(np.int64)
    mantissa = np.round(size / 10.0**first, _DIGITS - 1)
    last, left = first - (_DIGITS - 1), np.arange(len(size))
    for digit in range(_DIGITS - 1):
        scaled = mantissa[left] * 10.0**digit
        short = np.abs(scaled - np.rint(scaled)) < 0.5 * 10.0 ** (digit - _DIGITS + 1)
        last[left[short]] = first[left[short]] - digit
        left = left[~short]
    return last
