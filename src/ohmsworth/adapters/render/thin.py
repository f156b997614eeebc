"""Which points of a long line are drawn: as few as leave it looking the same."""

from __future__ import annotations

import math
from itertools import pairwise

#: Pixels by which a drawn line may pass a point that it leaves out, and within which points lie one upon the other.
TOLERANCE, COLUMN = 0.2, 0.5


def thinned(across: list[float], up: list[list[float]]) -> list[int]:
    """Numbers of the points to draw, first and last among them.

    Straight lines through them pass every other point within TOLERANCE pixels, in each of the lines `up` over the
    same pixels `across`. Where points lie closer than COLUMN side by side, the outermost of them stay.
    """
    if any(b < a for a, b in pairwise(across)):
        return list(range(len(across)))
    return _straightened(_outermost(across, up), across, up)


def _outermost(across: list[float], up: list[list[float]]) -> list[int]:
    """First, last, highest and lowest of the points in each column."""
    columns: dict[int, list[int]] = {}
    for k, x in enumerate(across):
        columns.setdefault(math.floor(x / COLUMN), []).append(k)
    kept: list[int] = []
    for inside in columns.values():
        ends = {pick(inside, key=line.__getitem__) for line in up for pick in (min, max)}
        kept += sorted({inside[0], inside[-1], *ends})
    return kept


def _straightened(points: list[int], across: list[float], up: list[list[float]]) -> list[int]:
    """The points where a line from the last one kept would no longer pass those between."""
    kept = points[:1]
    slopes = [(-math.inf, math.inf)] * len(up)
    for before, k in pairwise(points):
        last = kept[-1]
        if before != last and not _passes(last, k, across, up, slopes):
            kept.append(before)
            last, slopes = before, [(-math.inf, math.inf)] * len(up)
        slopes = [_narrowed(ends, last, k, across, line) for ends, line in zip(slopes, up, strict=True)]
    return [*kept, *points[-1:]] if len(points) > 1 else kept


def _passes(
    last: int, k: int, across: list[float], up: list[list[float]], slopes: list[tuple[float, float]]
) -> bool:
    run = across[k] - across[last]
    return run > 0 and all(
        low <= (line[k] - line[last]) / run <= high for line, (low, high) in zip(up, slopes, strict=True)
    )


def _narrowed(
    slopes: tuple[float, float], last: int, k: int, across: list[float], line: list[float]
) -> tuple[float, float]:
    """The slopes from `last` that pass the point `k` too."""
    run, rise = across[k] - across[last], line[k] - line[last]
    if run <= 0:
        # Nothing but this very point follows one that stands above or below it.
        return (math.inf, -math.inf)
    return max(slopes[0], (rise - TOLERANCE) / run), min(slopes[1], (rise + TOLERANCE) / run)
