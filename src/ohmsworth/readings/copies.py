"""Readings that stand again in another mating or specimen, to the last digit: filled down or pasted."""

from __future__ import annotations

import numpy as np
from scipy import stats

from ohmsworth.readings.doubt import Doubt
from ohmsworth.readings.table import OFF, Array, Codes, ReadingTable, number_cells

#: Neighbouring rows that must be the same, by the significant digits of their leading column.
_RUNS = ((2, 4), (3, 3))
#: Chance that a study of honest readings is told of copies.
_FALSE_ALARM = 0.01
#: Readings farther apart than this many times their scatter do not coincide by chance.
_REACH = 4.0
#: Specimens that the usual scatter is taken over, where there are many more.
_ENOUGH = 200
#: Readings that the last digit is judged from, where there are many more.
_ENOUGH_DIGITS = 2000


def find_copied_runs(table: ReadingTable) -> list[Doubt]:
    """Doubt COPIED: a run of readings that stands at the same place in two matings.

    Honest readings coincide too where the meter is coarse beside their scatter: nothing is told unless chance
    makes so many coincidences less than once in a hundred studies.
    """
    flowing = np.flatnonzero(table.polarity != OFF)
    if len(flowing) < 2 * _RUNS[0][0]:
        return []
    table = table.take(flowing)
    leading = table.voltage if table.voltage is not None else table.resistance
    assert leading is not None
    order = np.argsort(table.cells(), kind="stable")
    table, leading = table.take(order), leading[order]
    cell = table.cells()
    step = _last_digit(leading)
    columns = [c for c in (table.voltage, table.current, table.resistance) if c is not None]
    reading = number_cells([np.unique(c, return_inverse=True)[1] for c in columns])
    rows: set[int] = set()
    for length, digits in _RUNS:
        enough = np.abs(leading) >= 0.999 * 10.0 ** (digits - 1) * step
        starts = _repeated(reading, cell, enough, length)
        extra = sum(len(group) - 1 for group in starts)
        if extra and _chance(table, leading, cell, step, length, extra) < _FALSE_ALARM:
            rows |= {int(table.line[i + k]) for group in starts for i in group for k in range(length)}
    if not rows:
        return []
    return [
        Doubt(
            "COPIED",
            "the same readings to the last digit stand in another mating or specimen too: filled down, or a meter "
            "too coarse to see its own scatter.",
            tuple(sorted(rows)),
            "Type what was read there, or read it again: copies make the scatter too small.",
        )
    ]


def _last_digit(values: Array) -> float:
    """The step of the last digit that most readings were written with."""
    exponents = []
    written = values[values != 0]
    for value in written[:: max(len(written) // _ENOUGH_DIGITS, 1)].tolist():
        mantissa, exponent = f"{abs(value):.8e}".split("e")
        exponents.append(int(exponent) - len(mantissa.replace(".", "").rstrip("0")) + 1)
    return 10.0 ** float(np.floor(np.median(exponents))) if exponents else 1.0


def _repeated(reading: Codes, cell: Codes, enough: np.ndarray, length: int) -> list[list[int]]:
    """First rows of runs that are the same in several cells at the same place of each, group by group."""
    first = np.flatnonzero(np.diff(cell, prepend=-1))
    place = np.arange(len(cell)) - first[cell]
    start = np.arange(len(cell) - length + 1)
    run = start[:, None] + np.arange(length)
    start = start[(cell[run[:, 0]] == cell[run[:, -1]]) & enough[run].all(1)]
    if len(start) == 0:
        return []
    # A meter that stands still within a mating stands in COPIED already.
    start = start[(reading[start[:, None] + np.arange(length)] != reading[start][:, None]).any(1)]
    if len(start) == 0:
        return []
    group = number_cells([place[start], *(reading[start + k] for k in range(length))])
    again = np.flatnonzero(np.bincount(group) > 1)
    return [start[group == g].tolist() for g in again]


def _chance(table: ReadingTable, leading: Array, cell: Codes, step: float, length: int, extra: int) -> float:
    """Probability of at least `extra` coincidences among honest readings."""
    logs = _log_ohm(table)
    scatter = _scatter(table, logs, cell)
    if not scatter > 0:
        return 1.0
    first = np.flatnonzero(np.diff(cell, prepend=-1))
    sorted_logs = np.sort(logs[first][np.isfinite(logs[first])])
    near = np.searchsorted(sorted_logs, sorted_logs + _REACH * scatter, side="right")
    pairs = float(np.sum(near - np.arange(len(sorted_logs)) - 1))
    size = float(np.median(np.abs(leading)))
    each = min(1.0, step / (2 * np.sqrt(np.pi) * scatter * size))
    places = max(float(np.median(np.bincount(cell))) - length + 1, 1.0)
    return float(stats.poisson.sf(extra - 1, pairs * places * each**length))


def _log_ohm(table: ReadingTable) -> Array:
    with np.errstate(divide="ignore", invalid="ignore"):
        ohm = table.resistance if table.resistance is not None else table.voltage / table.current  # type: ignore[operator]
        logs = np.log(np.abs(ohm))
    logs[~np.isfinite(logs)] = np.nan
    return np.asarray(logs)


def _scatter(table: ReadingTable, logs: Array, cell: Codes) -> float:
    """Usual relative scatter of the readings of one mating, copies not counted."""
    group = number_cells([table.specimen.codes, table.condition.codes])
    squares, freedom, fallback = [], [], []
    members = np.split(np.argsort(group, kind="stable"), np.cumsum(np.bincount(group))[:-1])
    for member in members[:: max(len(members) // _ENOUGH, 1)]:
        courses = np.unique(_courses(logs[member], cell[member]), axis=0)
        if courses.size:
            fallback.append(float(np.std(np.unique(courses))))
        ss, df = _residual(courses)
        if df > 0:
            squares.append(ss)
            freedom.append(df)
    if squares:
        return float(np.sqrt(np.median(np.array(squares) / stats.chi2.median(freedom))))
    return (
        float(np.median(fallback)) if fallback else 0.0
    )  # all copies: what differs within one is what there is


def _courses(logs: Array, cell: Codes) -> Array:
    """The readings of a specimen, one line a mating, those that have as many as most of its matings."""
    own, count = np.unique(cell, return_counts=True)
    usual = int(np.median(count))
    known = [logs[cell == c] for c in own[count == usual]]
    courses = np.array([course for course in known if np.isfinite(course).all()])
    return courses.reshape(len(courses), usual)


def _residual(courses: Array) -> tuple[float, int]:
    """Sum of squares and degrees of freedom within matings; places (polarities in turn) may differ by an EMF."""
    matings, places = courses.shape
    if matings == 0:
        return 0.0, 0
    if matings > 1:
        rest = courses - courses.mean(axis=1, keepdims=True)
        return float(np.sum((rest - rest.mean(axis=0)) ** 2)), (matings - 1) * (places - 1)
    sides = [side for side in (courses[:, 0::2], courses[:, 1::2]) if side.size > 1]
    return float(sum(np.sum((side - side.mean()) ** 2) for side in sides)), sum(s.size - 1 for s in sides)
