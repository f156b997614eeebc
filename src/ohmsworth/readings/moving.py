"""Contacts that have not settled, and readings that were copied rather than taken."""

from __future__ import annotations

import numpy as np

from ohmsworth.readings.doubt import Doubt
from ohmsworth.readings.slips import row_resistance
from ohmsworth.readings.table import OFF, Array, Codes, ReadingTable, number_cells

#: A drift over one mating below this fraction is nobody's concern.
_SMALLEST_DRIFT = 0.03
#: Scatter within a mating that is this many times the usual one does not settle.
_UNSETTLED = 5.0
#: Equal readings in a row that look copied, when written with three digits or more.
_COPIES = 4


def find_moving(table: ReadingTable) -> list[Doubt]:
    """Doubt STILL_MOVING: matings whose readings drift or will not settle, one doubt a mating."""
    cell = table.cells()
    with np.errstate(divide="ignore", invalid="ignore"):
        logs = np.log(np.abs(row_resistance(table)))
    usable = np.flatnonzero(np.isfinite(logs))
    if len(usable) < 3:
        return []
    drift, sigma, count = _drift(logs[usable], cell[usable], table.polarity[usable])
    noise = _usual(sigma, count)
    span = np.maximum(count - 1.0, 1.0)
    # Slope error from the usual scatter: sqrt(12 / n^3) a reading, times the span of the mating.
    error = noise * np.sqrt(12 / np.maximum(count, 1) ** 3) * span
    drifting = (count >= 4) & (np.abs(drift) > np.maximum(_SMALLEST_DRIFT, 5 * error))
    restless = (count >= 3) & (sigma > _UNSETTLED * noise) & (sigma > _SMALLEST_DRIFT)
    return [
        _doubt(table, cell, int(c), bool(drifting[c]), float(drift[c]))
        for c in np.flatnonzero(drifting | restless)
    ]


def _drift(logs: Array, cell: Codes, polarity: np.ndarray) -> tuple[Array, Array, Array]:
    """Relative change over each mating (fitted line), scatter about its mean, and number of readings.

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
    sides = np.bincount(cell[np.unique(side, return_index=True)[1]], minlength=size)
    scatter = np.sqrt(np.bincount(cell, r * r, size) / np.maximum(count - sides, 1))
    return slope * span, scatter, count


def _first(cell: Codes, size: int) -> Array:
    first = np.full(size, np.inf)
    np.minimum.at(first, cell, np.arange(len(cell), dtype=float))
    return first


def _centred(values: Array, group: Codes) -> Array:
    return values - (np.bincount(group, values) / np.bincount(group))[group]


def _usual(sigma: Array, count: Array) -> float:
    """The usual scatter within a mating: the median over matings with three readings or more."""
    known = sigma[count >= 3]
    return max(float(np.median(known)) if len(known) else 0.0, 1e-4)


def _doubt(table: ReadingTable, cell: Codes, number: int, drifting: bool, drift: float) -> Doubt:
    member = cell == number
    specimen = table.specimen.names[table.specimen.codes[member][0]]
    how = f"drifts by {drift:+.0%} while being read" if drifting else "will not settle while being read"
    return Doubt(
        "STILL_MOVING",
        f"{specimen}: the contact {how.replace('%', ' %').replace('-', '−')}.",
        tuple(table.line[member].tolist()),
        "Let it settle and read again, or note it as unsettled: its value is not yet a resistance.",
    )


def find_copies(table: ReadingTable) -> list[Doubt]:
    """Doubt COPIED: the same reading to the last digit many times over within one mating."""
    columns = [c for c in (table.voltage, table.current, table.resistance) if c is not None]
    same = np.ones(max(len(table) - 1, 0), bool)
    for column in columns:
        same &= column[1:] == column[:-1]
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
