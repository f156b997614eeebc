"""Values with their intervals in rows about a common line: what lies off it with certainty is drawn full and named."""

from __future__ import annotations

import math

from ohmsworth.adapters.render import palette
from ohmsworth.adapters.render.layers import Rows, Spec, picture, points, rules, texts
from ohmsworth.adapters.render.measure import text_width, wrap_pixels
from ohmsworth.adapters.render.scales import (
    Ruler,
    alike,
    even_ruler,
    even_ticks,
    log_ruler,
    ruler_ticks,
    tick_axis,
)
from ohmsworth.report.document import IntervalFigure, IntervalMark

WIDEST_LABEL, FLAG_ROOM, ROW, AXIS_ROOM, EDGE = 220, 70, 20, 46, 12
#: Fewer decades-and-steps ticks than this say too little; even ones are taken.
_FEWEST_TICKS = 4


def draw_intervals(figure: IntervalFigure) -> Spec:
    """The Vega-Lite drawing: groups and labels left, intervals on one scale, what stands out named at the right."""
    wrapped = [wrap_pixels(m.label, WIDEST_LABEL, palette.TEXT_SIZE) for m in figure.marks]
    heads = [wrap_pixels(m.group, WIDEST_LABEL, palette.TEXT_SIZE, bold=True) for m in figure.marks]
    widest = max(
        (text_width(line, palette.TEXT_SIZE) for lines in (*wrapped, *heads) for line in lines), default=0.0
    )
    left = math.ceil(1.1 * widest) + 2 * EDGE
    width = palette.WIDTH - left - FLAG_ROOM
    ruler = _ruler(figure, width)
    middles, group_rows, height = _rows(figure, wrapped, heads)
    names: Rows = [
        {"x": -EDGE, "y": _first(y, lines), "text": lines} for y, lines in zip(middles, wrapped, strict=True)
    ]
    line = ruler.pixel(figure.middle)
    layers = [
        *rules([{"x": line, "x2": line, "y": 0, "y2": height}], palette.MUTED, 1.4),
        *_bars(figure, middles, ruler),
        *texts(group_rows, "right", fontWeight="bold"),
        *texts(names, "right"),
        *texts(
            [{"x": width / 2, "y": height + 38, "text": figure.across.label}], "center", color=palette.MUTED
        ),
    ]
    ticks = _ticks(ruler)
    axis = tick_axis(
        [ruler.pixel(t) for t in ticks], alike(ticks, figure.across.unit), grid=True, orient="bottom"
    )
    x = {"scale": {"domain": [0, width], "nice": False}, "axis": axis}
    y = {"scale": {"domain": [0, height], "reverse": True, "nice": False}, "axis": None}
    padding = {"left": left, "right": FLAG_ROOM, "top": 6, "bottom": AXIS_ROOM}
    return {**picture(layers, x, y, width, height), "padding": padding, "autosize": {"type": "none"}}


def _ruler(figure: IntervalFigure, width: float) -> Ruler:
    values = [v for m in figure.marks for v in (m.value, m.low, m.high)] + [figure.middle]
    return log_ruler(values, width, 1.03) if figure.across.logarithmic else even_ruler(values, width)


def _ticks(ruler: Ruler) -> list[float]:
    """Ticks of the axis; a logarithmic one of less than a decade has even ones, which need no thinning there."""
    ticks = ruler_ticks(ruler)
    if ruler.logarithmic and len(ticks) < _FEWEST_TICKS:
        ticks = [t for t in even_ticks(ruler.low, ruler.high) if ruler.holds(t) and t > 0]
    return ticks


def _rows(
    figure: IntervalFigure, wrapped: list[list[str]], heads: list[list[str]]
) -> tuple[list[float], Rows, float]:
    """The middle of each mark's row, the names of the groups, and the height of all."""
    y, group = 4.0, None
    middles: list[float] = []
    groups: Rows = []
    for mark, lines, head in zip(figure.marks, wrapped, heads, strict=True):
        if mark.group != group:
            group = mark.group
            tall = len(head) * palette.LINE_HEIGHT + 6
            groups.append({"x": -EDGE, "y": _first(y + tall / 2, head), "text": head})
            y += tall
        tall = max(len(lines) * palette.LINE_HEIGHT + 4, ROW)
        middles.append(y + tall / 2)
        y += tall
    return middles, groups, max(y + 4, 2 * ROW)


def _first(middle: float, lines: list[str]) -> float:
    """Where the first of several lines stands that are to be centred about `middle`."""
    return middle - (len(lines) - 1) * palette.LINE_HEIGHT / 2


def _bars(figure: IntervalFigure, middles: list[float], ruler: Ruler) -> list[Spec]:
    """Intervals with their values; full and named where they stand out, hollow where not."""
    bars: Rows = []
    plain: Rows = []
    flagged: Rows = []
    words: Rows = []
    for mark, y in zip(figure.marks, middles, strict=True):
        low, high = (ruler.pixel(_held(end, mark)) for end in (mark.low, mark.high))
        bars.append({"x": low, "x2": high, "y": y, "y2": y})
        (flagged if mark.flag else plain).append({"x": ruler.pixel(_held(mark.value, mark)), "y": y})
        if mark.flag:
            words.append({"x": ruler.length + EDGE, "y": y, "text": mark.flag})
    return [
        *rules(bars, palette.CONTACT, 2),
        *points(plain, "circle", palette.CONTACT, 50, filled=False),
        *points(flagged, "diamond", palette.INK, 70),
        *texts(words, fontWeight="bold"),
    ]


def _held(value: float, mark: IntervalMark) -> float:
    """`value`, or where it is no number the mark's own."""
    return value if math.isfinite(value) else mark.value if math.isfinite(mark.value) else 0.0
