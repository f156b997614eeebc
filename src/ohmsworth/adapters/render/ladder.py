"""The ladder: every resistance that matters on one logarithmic scale."""

from __future__ import annotations

from typing import Any

from ohmsworth.adapters.render import palette
from ohmsworth.adapters.render.ladder_rows import (
    HEADING_HEIGHT,
    Layout,
    Row,
    label_of,
    lay_out,
    open_spans,
    words_across,
)
from ohmsworth.adapters.render.layers import Rows, Spec, boxes, picture, points, rules, texts
from ohmsworth.adapters.render.measure import text_width
from ohmsworth.adapters.render.scales import decades, plain, tick_axis
from ohmsworth.report.document import LadderFigure, LadderMark

INNER_WIDTH = palette.WIDTH - 14
LIMIT_ROOM = 20


def draw_ladder(figure: LadderFigure) -> Spec:
    """The Vega-Lite drawing of a ladder.

    Resistances (ohm) run along a logarithmic x axis with a tick at each decade; rows run down in pixels.
    """
    layout = lay_out(figure.marks, INNER_WIDTH)
    limits = [mark for mark in figure.marks if mark.kind == "limit"]
    top = -LIMIT_ROOM * len(limits)
    layers = [
        *_ground(layout),
        *_bands(layout),
        *_zones(layout),
        *_headings(layout),
        *_limits(limits, layout, top),
        *_marks(layout),
        *_labels(layout),
    ]
    ticks = decades(layout.scale.low, layout.scale.high)
    axis = tick_axis(ticks, [plain(tick, "Ω") for tick in ticks], orient="top", domain=False)
    x = {"scale": {"type": "log", "domain": list(layout.scale.domain()), "nice": False}, "axis": axis}
    y = {
        "scale": {"domain": [top, layout.height], "reverse": True, "nice": False, "zero": False},
        "axis": None,
    }
    return picture(layers, x, y, INNER_WIDTH, layout.height - top)


def _ground(layout: Layout) -> list[Spec]:
    """The right edge, drawn even when nothing is marked, so that the axis has something to stand on."""
    end = layout.scale.domain()[1]
    return rules([{"x": end, "x2": end, "y": 0, "y2": layout.height}], palette.PAPER)


def _bands(layout: Layout) -> list[Spec]:
    """A tint down the picture where the measured contacts lie, to hold every threshold against it."""
    contacts = [row.mark for row in layout.rows if row.mark.kind == "contact"]
    if not contacts:
        return []
    held = layout.scale.held
    low = min(held(mark.value if mark.low is None else mark.low) for mark in contacts)
    high = max(held(mark.value if mark.high is None else mark.high) for mark in contacts)
    if layout.scale.pixel(high) - layout.scale.pixel(low) > layout.scale.width / 2:
        return []
    return boxes([{"x": low, "x2": high, "y": 0, "y2": layout.height}], palette.CONTACT_BAND)


def _zones(layout: Layout) -> list[Spec]:
    """A tint from each threshold to the end of the scale: from here on it suffers."""
    end = layout.scale.domain()[1]
    rows = [
        {"x": layout.scale.held(row.mark.value), "x2": end, "y": row.y - 8.5, "y2": row.y + 8.5}
        for row in layout.rows
        if row.mark.kind == "threshold" and layout.scale.off_scale(row.mark.value) <= 0
    ]
    return boxes(rows, palette.THRESHOLD_ZONE)


def _headings(layout: Layout) -> list[Spec]:
    first, last = layout.scale.domain()
    lanes = [h for h in layout.headings if h.lane]
    lines: Rows = [
        {"x": first, "x2": last, "y": y, "y2": y} for y in (h.y - HEADING_HEIGHT / 2 - 2 for h in lanes)
    ]
    names: Rows = [{"x": first, "y": h.y, "text": h.text} for h in lanes]
    groups: Rows = [{"x": first, "y": h.y, "text": h.text} for h in layout.headings if not h.lane]
    return [
        *rules(lines, palette.RULE),
        *texts(names, fontWeight="bold"),
        *texts(groups, color=palette.MUTED),
    ]


def _limits(limits: list[LadderMark], layout: Layout, top: float) -> list[Spec]:
    """A dashed line down the picture for each limit, open where it would cross words; named on top.

    A limit beyond the scale is only named, with an arrow.
    """
    layers: list[Spec] = []
    for index, mark in enumerate(limits):
        at, y = layout.scale.held(mark.value), top + palette.LINE_HEIGHT / 2 + LIMIT_ROOM * index
        words, pixel = label_of(mark), layout.scale.pixel(mark.value)
        beyond = layout.scale.off_scale(mark.value)
        leftward = pixel + text_width(words, palette.TEXT_SIZE, bold=True) + 8 > layout.scale.width
        words = {-1: f"← {words}", 0: words, 1: f"{words} →"}[beyond]
        pieces = [] if beyond else open_spans(y - 7, layout.height, words_across(layout, pixel))
        layers += rules([{"x": at, "x2": at, "y": a, "y2": b} for a, b in pieces], palette.LIMIT, 1.8, (6, 3))
        layers += texts(
            [{"x": at, "y": y, "text": words}],
            "right" if leftward else "left",
            dx=-7 if leftward else 7,
            color=palette.LIMIT,
            fontWeight="bold",
        )
    return layers


def _marks(layout: Layout) -> list[Spec]:
    """Intervals, then the marks: a disc for a contact, a square for a wire, a triangle for a threshold."""
    contacts = [row for row in layout.rows if row.mark.kind == "contact"]
    bars: Rows = [
        _bar(row, layout) for row in contacts if row.mark.low is not None and row.mark.high is not None
    ]
    caps: Rows = [
        {"x": bar[end], "x2": bar[end], "y": bar["y"] - 4.5, "y2": bar["y"] + 4.5}
        for bar in bars
        for end in ("x", "x2")
    ]
    return [
        *rules(bars, palette.CONTACT, 2.5),
        *rules(caps, palette.CONTACT, 1.5),
        *points(_places(layout, "contact"), "circle", palette.CONTACT, 95),
        *points(_places(layout, "wire"), "square", palette.WIRE, 60, filled=False),
        *points(_places(layout, "threshold"), "triangle-right", palette.THRESHOLD, 95),
        *_beyond(layout),
    ]


def _bar(row: Row, layout: Layout) -> dict[str, Any]:
    held = layout.scale.held
    return {"x": held(row.mark.low or 0.0), "x2": held(row.mark.high or 0.0), "y": row.y, "y2": row.y}


def _places(layout: Layout, kind: str) -> Rows:
    """The marks of one kind that lie on the scale."""
    return [
        {"x": row.mark.value, "y": row.y}
        for row in layout.rows
        if row.mark.kind == kind and not layout.scale.off_scale(row.mark.value)
    ]


def _beyond(layout: Layout) -> list[Spec]:
    """Arrows at the ends of the scale for marks that lie beyond them."""
    layers: list[Spec] = []
    for side, text, align in ((-1, "←", "left"), (1, "→", "right")):
        rows: Rows = [
            {"x": layout.scale.held(row.mark.value), "y": row.y, "text": text}
            for row in layout.rows
            if layout.scale.off_scale(row.mark.value) == side
        ]
        layers += texts(rows, align, fontWeight="bold")
    return layers


def _labels(layout: Layout) -> list[Spec]:
    """The words beside each mark; measured contacts bold."""
    layers: list[Spec] = []
    for weight in ("normal", "bold"):
        for align in ("left", "right"):
            rows = [
                {"x": _value_at(layout, row.label_x), "y": row.label_y, "text": list(row.lines)}
                for row in layout.rows
                if (row.mark.kind == "contact") == (weight == "bold")
                and (row.side == "left") == (align == "right")
            ]
            layers += texts(rows, align, fontWeight=weight)
    return layers


def _value_at(layout: Layout, pixel: float) -> float:
    """The resistance (ohm) that lies `pixel` from the left end."""
    scale = layout.scale
    exponent = scale.low - scale.room + pixel / scale.width * (scale.high - scale.low + 2 * scale.room)
    return float(10**exponent)
