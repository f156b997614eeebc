"""Equations of one pattern at many frequencies, solved by elimination: each coefficient is a number or a value a frequency."""

from __future__ import annotations

from collections.abc import Sequence
from functools import reduce

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]
Complex = npt.NDArray[np.complex128]

#: A coefficient: the same at all frequencies, or one of each, shape (m,).
Entry = complex | Complex
#: Coefficients of an equation by their unknown; those of its right-hand side s stand at ~s, which is negative.
Row = dict[int, Entry]
#: The magnitude of a coefficient.
Size = float | Array
#: An unknown, minus one over its coefficient, and what else its equation holds.
Step = tuple[int, Entry, Row]

#: Part of the largest coefficient of its equation that a pivot has at least, at every frequency.
_SHARE = 0.1
#: Part of its first size below which an equation may be nothing but rounding.
_ROUNDING = 1e-13
#: Nothing that is smaller is a pivot.
_NOTHING = 1e-300


def eliminate(rows: Sequence[Row], sides: int, wanted: Sequence[int], count: int) -> Complex | None:
    """Solve for the `wanted` unknowns at `count` frequencies, shape (count, wanted, sides).

    None where no order of elimination is safe at all frequencies: then each of them needs an order of its own.

    Notes
    -----
    The shortest equation goes first, by that unknown in it which the fewest others hold, if its coefficient is no less than
    a tenth of the largest: no other equation then grows more than elevenfold. As unknowns have units of volts and amperes,
    each is counted in its largest coefficient.
    """
    left = {i: dict(row) for i, row in enumerate(rows)}
    sizes = [{j: _typical(entry) for j, entry in row.items() if j >= 0} for row in rows]
    holders: list[set[int]] = [set() for _ in rows]
    unit = [0.0] * len(rows)
    for i, size in enumerate(sizes):
        for j, value in size.items():
            holders[j].add(i)
            unit[j] = max(unit[j], value)
    if not all(unit):
        return None
    floor = [_ROUNDING * max((value / unit[j] for j, value in size.items()), default=0.0) for size in sizes]
    steps: list[Step] = []
    with np.errstate(over="ignore", invalid="ignore"):
        while left:
            pivot = _pivot(left, holders, unit, floor)
            if pivot is None:
                return None
            steps.append(_taken(left, holders, *pivot))
        result = _stacked(_substituted(steps, set(wanted)), sides, wanted, count)
    return result if np.all(np.isfinite(result)) else None


def _typical(entry: Entry) -> float:
    """The size of a coefficient, as far as three of the frequencies tell."""
    if isinstance(entry, np.ndarray):
        return float(max(abs(entry[0]), abs(entry[len(entry) // 2]), abs(entry[-1])))
    return abs(entry)


def _pivot(
    left: dict[int, Row], holders: list[set[int]], unit: list[float], floor: list[float]
) -> tuple[int, int] | None:
    """The equation and the unknown to go next."""
    for i in sorted(left, key=lambda i: len(left[i])):
        size = {j: _size(entry) * (1 / unit[j]) for j, entry in left[i].items() if j >= 0}
        least = _larger(_SHARE * reduce(_larger, size.values()), max(floor[i], _NOTHING)) if size else 0.0
        for j in sorted(size, key=lambda j: len(holders[j])):
            if _reaches(size[j], least):
                return i, j
    return None


def _size(entry: Entry) -> Size:
    return np.abs(entry) if isinstance(entry, np.ndarray) else abs(entry)


def _larger(a: Size, b: Size) -> Size:
    """The larger of two sizes; of plain numbers without the detour through arrays."""
    return np.maximum(a, b) if isinstance(a, np.ndarray) or isinstance(b, np.ndarray) else max(a, b)


def _reaches(size: Size, least: Size) -> bool:
    """Whether a size is no less anywhere."""
    enough = size >= least
    return bool(enough.all()) if isinstance(enough, np.ndarray) else enough


def _taken(left: dict[int, Row], holders: list[set[int]], i: int, j: int) -> Step:
    """Take equation `i` out and its unknown `j` out of all others."""
    row = left.pop(i)
    minus = -1 / row.pop(j)
    holders[j].remove(i)
    for column in row:
        if column >= 0:
            holders[column].remove(i)
    for k in holders[j]:
        other = left[k]
        factor = other.pop(j) * minus
        for column, entry in row.items():
            other[column] = other[column] + factor * entry if column in other else factor * entry
            if column >= 0:
                holders[column].add(k)
    return j, minus, row


def _substituted(steps: list[Step], needed: set[int]) -> dict[int, Row]:
    """The needed unknowns by right-hand sides, the last one first."""
    for j, _, row in steps:
        if j in needed:
            needed.update(column for column in row if column >= 0)
    known: dict[int, Row] = {}
    for j, minus, row in reversed(steps):
        if j not in needed:
            continue
        total: Row = {}
        for column, entry in row.items():
            terms = {column: -entry} if column < 0 else {s: entry * x for s, x in known[column].items()}
            for s, term in terms.items():
                total[s] = total[s] + term if s in total else term
        known[j] = {s: value * minus for s, value in total.items()}
    return known


def _stacked(known: dict[int, Row], sides: int, wanted: Sequence[int], count: int) -> Complex:
    """The unknowns in one array, all frequencies of a value in a row."""
    result = np.zeros((len(wanted), sides, count), dtype=np.complex128)
    for k, j in enumerate(wanted):
        for s, value in known[j].items():
            result[k, ~s] = value
    return np.moveaxis(result, 2, 0)
