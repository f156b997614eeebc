"""Where the ladder stands: a column of names, right of it the logarithmic scale, all in pixels."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from ohmsworth.adapters.render import palette
from ohmsworth.adapters.render.layers import Rows, Spec, texts
from ohmsworth.adapters.render.measure import text_width, wrap_pixels
from ohmsworth.adapters.render.scales import HIGHEST_DECADE, LOWEST_DECADE, decade_span
from ohmsworth.report.document import LadderMark

#: The column of names is as wide as the widest needs, to a point; beside it a gap, and room right of the scale.
NARROWEST_NAMES, WIDEST_NAMES, NAME_GAP, EDGE, RIGHT = 100, 150, 16, 6, 24
HEADING_HEIGHT, ROW = 25, 20
#: Least room between a heading and the scale.
HEADING_GAP = 4
#: So much of a band is left open beside words on it.
CLEAR = 4


@dataclass(frozen=True, slots=True)
class Scale:
    """The logarithmic axis: whole decades `low` to `high` over `width` pixels, with a little room outside."""

    low: int
    high: int
    width: float
    room: float = 0.05

    def domain(self) -> tuple[float, float]:
        """The resistances (ohm) at both ends."""
        return 10 ** (self.low - self.room), 10 ** (self.high + self.room)

    def off_scale(self, value: float) -> int:
        """-1 or 1 when `value` lies beyond the left or right end, else 0."""
        first, last = self.domain()
        return int(value > last) - int(value < first)

    def pixel(self, value: float) -> float:
        """Distance of `value` (ohm) from the left end; what lies beyond an end is held there."""
        first, last = self.domain()
        span = self.high - self.low + 2 * self.room
        held = min(max(value, first), last)
        return round((math.log10(held) - self.low + self.room) / span * self.width, 2)


def scale_of(marks: Iterable[LadderMark], width: float) -> Scale:
    """The decades that hold everything marked, within microohm to megohm.

    Wires are there to compare with and stretch no scale, unless nothing else is marked.
    """
    given = list(marks)
    telling = [m for m in given if m.kind != "wire"] or given
    ends = [
        v for m in telling for v in (m.value, m.low, m.high) if v is not None and math.isfinite(v) and v > 0
    ]
    return Scale(*decade_span(ends, LOWEST_DECADE, HIGHEST_DECADE), width)


def by_use(marks: Iterable[LadderMark]) -> dict[str, list[LadderMark]]:
    """The thresholds of each use, smallest first; the use that suffers first leads."""
    uses: dict[str, list[LadderMark]] = {}
    for mark in sorted((m for m in marks if m.kind == "threshold"), key=lambda mark: mark.value):
        uses.setdefault(mark.group, []).append(mark)
    return uses


@dataclass(frozen=True, slots=True)
class Words:
    """Lines of text: the first at height `y`, each beginning at `x`, or ending there when `align` is "right"."""

    lines: tuple[str, ...]
    x: float
    y: float
    align: str = "left"
    bold: bool = False
    color: str = palette.INK
    size: int = palette.TEXT_SIZE

    def ends(self) -> tuple[float, float]:
        """The left and right end of the widest line."""
        wide = max(text_width(line, self.size, self.bold) for line in self.lines)
        return (self.x - wide, self.x) if self.align == "right" else (self.x, self.x + wide)

    def span(self) -> tuple[float, float]:
        """Top and bottom."""
        top = self.y - palette.LINE_HEIGHT / 2
        return top, top + palette.LINE_HEIGHT * len(self.lines)


@dataclass(slots=True)
class Block:
    """One part of the ladder: what lies under the lines through the whole picture, on them, and over both.

    `height` is the bottom so far, in pixels from the top of the picture; `tips` are the boxes that tell more.
    """

    height: float
    under: list[Spec] = field(default_factory=list)
    amid: list[Spec] = field(default_factory=list)
    over: list[Spec] = field(default_factory=list)
    words: list[Words] = field(default_factory=list)
    tips: Rows = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Frame:
    """The column of names, `left` pixels wide, and the scale."""

    left: float
    scale: Scale

    def name(self, text: str, y: float, bold: bool = False) -> Words:
        """`text` in the column of names, wrapped, its first line at height `y`."""
        return Words(tuple(_wrapped(text, bold)), EDGE - self.left, y, bold=bold)

    def heading(self, text: str, y: float) -> Words:
        """The heading of a part that begins at height `y`, wrapped so that it keeps out of the scale."""
        lines = wrap_pixels(text, self.left - EDGE - HEADING_GAP, palette.TEXT_SIZE)
        return Words(tuple(lines), EDGE - self.left, y + HEADING_HEIGHT / 2 + 1, color=palette.MUTED)


def frame_of(marks: tuple[LadderMark, ...], names: Iterable[str]) -> Frame:
    """The frame that holds `marks` beside their `names`."""
    lines = [line for name in names for line in _wrapped(name, bold=True)]
    widest = max((text_width(line, palette.TEXT_SIZE, bold=True) for line in lines), default=0.0)
    left = math.ceil(max(widest, NARROWEST_NAMES)) + EDGE + NAME_GAP
    return Frame(left, scale_of(marks, palette.WIDTH - left - RIGHT))


def _wrapped(text: str, bold: bool) -> list[str]:
    return wrap_pixels(text, WIDEST_NAMES, palette.TEXT_SIZE, bold)


def heading_height(heading: Words) -> float:
    """How much of the picture a heading takes."""
    return HEADING_HEIGHT + palette.LINE_HEIGHT * (len(heading.lines) - 1)


def clearings(
    words: Iterable[Words], bands: Iterable[tuple[float, float]], top: float, bottom: float
) -> Rows:
    """Boxes behind the lines of `words` that lie on a band (pixels from and to) between `top` and `bottom`."""
    spans, rows = list(bands), []
    for one in words:
        for number, line in enumerate(one.lines):
            left, right = replace(one, lines=(line,)).ends()
            middle = one.y + palette.LINE_HEIGHT * number
            if top < middle < bottom and any(left < high and right > low for low, high in spans):
                half = palette.LINE_HEIGHT / 2
                rows.append({"x": left - CLEAR, "x2": right + CLEAR, "y": middle - half, "y2": middle + half})
    return rows


def word_layers(words: Iterable[Words]) -> list[Spec]:
    """Text layers, one for each look."""
    looks: dict[tuple[str, bool, str, int], Rows] = {}
    for w in words:
        row = {"x": w.x, "y": w.y, "text": list(w.lines)}
        looks.setdefault((w.align, w.bold, w.color, w.size), []).append(row)
    return [
        layer
        for (align, bold, color, size), rows in looks.items()
        for layer in texts(rows, align, fontWeight="bold" if bold else "normal", color=color, fontSize=size)
    ]


def crossed(words: Iterable[Words], pixel: float) -> list[tuple[float, float]]:
    """Tops and bottoms of the `words` that a vertical line at `pixel` would cross."""
    return sorted(w.span() for w in words if w.ends()[0] - 4 <= pixel <= w.ends()[1] + 4)


def open_spans(top: float, bottom: float, closed: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """What is left of `top` to `bottom` without the `closed` spans (sorted)."""
    spans = []
    for start, end in closed:
        if top < start < bottom:
            spans.append((top, start))
        if start < bottom:
            top = max(top, end)
    return [*spans, (top, bottom)] if bottom > top else spans
