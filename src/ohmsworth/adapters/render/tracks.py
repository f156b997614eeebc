"""A line on its way through a picture: pixels, looks, and the few points that are drawn of it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import groupby, pairwise

from ohmsworth.adapters.render import palette
from ohmsworth.adapters.render.layers import Rows
from ohmsworth.adapters.render.scales import Ruler
from ohmsworth.adapters.render.thin import thinned
from ohmsworth.report.document import Line, LineFigure

#: A line that goes so many pixels up and down for each to the right is drawn fine.
_JAGGED = 8


@dataclass(frozen=True, slots=True)
class Plot:
    """Where values fall in a picture: pixels from the left and from the top."""

    across: Ruler
    up: Ruler

    def y(self, value: float) -> float:
        """Pixels from the top; an infinite value falls on the nearer edge."""
        return round(self.up.length - self.up.pixel(value), 2)

    def holds(self, value: float) -> bool:
        """Whether `value` has a place up or down; no logarithmic axis has one for zero."""
        return not math.isnan(value) and (value > 0 or not self.up.logarithmic)


@dataclass(frozen=True, slots=True)
class Track:
    """A line with its colour, its dashes and its width."""

    line: Line
    color: str
    dash: tuple[int, ...]
    width: float


def tracks(figure: LineFigure) -> list[Track]:
    """The lines that have a value to draw; ideal ones thin and grey, the others each in a look of its own."""
    found: list[Track] = []
    number = 0
    for line in figure.lines:
        look = (
            (palette.MUTED, palette.IDEAL_DASH, 1.6) if line.ideal else (_color(number), _dash(number), 2.0)
        )
        number += not line.ideal
        if any(map(math.isfinite, line.up)):
            found.append(Track(line, *look))
    return found


def _color(number: int) -> str:
    return palette.LINES[number % len(palette.LINES)]


def _dash(number: int) -> tuple[int, ...]:
    return palette.DASHES[number % len(palette.DASHES)]


def path_rows(across: tuple[float, ...], up: tuple[float, ...], plot: Plot) -> Rows:
    """The points of a line that are drawn, with an empty one in each gap."""
    rows: Rows = []
    for run in _runs([math.isfinite(v) and plot.holds(v) for v in up]):
        x, y = [plot.across.pixel(across[k]) for k in run], [plot.y(up[k]) for k in run]
        rows += [{"x": x[0], "y": None, "path": "", "order": len(rows)}] if rows else []
        rows += [{"x": x[k], "y": y[k], "path": "", "order": len(rows) + k} for k in thinned(x, [y])]
    return rows


def band_rows(line: Line, plot: Plot) -> Rows:
    """The same of a band, from ``y`` to ``y2``."""
    rows: Rows = []
    ends = list(zip(line.low, line.high, strict=True))
    # A lower end that has no place, on a logarithmic axis, runs out of the picture like an infinite one.
    for run in _runs([not math.isnan(low) and plot.holds(high) for low, high in ends]):
        x = [plot.across.pixel(line.across[k]) for k in run]
        low, high = ([plot.y(ends[k][i]) for k in run] for i in (0, 1))
        rows += [{"x": x[0], "y": None, "y2": None}] if rows else []
        rows += [{"x": x[k], "y": low[k], "y2": high[k]} for k in thinned(x, [low, high])]
    return rows


def lone_rows(line: Line, plot: Plot) -> Rows:
    """Values alone between two gaps, which no line leads to."""
    runs = [run for run in _runs([math.isfinite(v) and plot.holds(v) for v in line.up]) if len(run) == 1]
    return [{"x": plot.across.pixel(line.across[k]), "y": plot.y(line.up[k])} for (k,) in runs]


def is_jagged(rows: Rows, plot: Plot) -> bool:
    """Whether a line goes up and down so much that it would fill the picture, as noise does."""
    heights: list[float] = [row["y"] for row in rows if row["y"] is not None]
    return sum(abs(b - a) for a, b in pairwise(heights)) > _JAGGED * plot.across.length


def _runs(there: list[bool]) -> list[list[int]]:
    """Numbers of what is there, parted by gaps."""
    return [list(run) for yes, run in groupby(range(len(there)), key=there.__getitem__) if yes]
