"""Curves over frequency, each named where it ends."""

from __future__ import annotations

import math

from ohmsworth.adapters.render import palette
from ohmsworth.adapters.render.layers import Rows, Spec, paths, picture, rules, texts
from ohmsworth.adapters.render.measure import text_width, wrap_pixels
from ohmsworth.adapters.render.scales import Ruler, even_ruler, log_ruler, plain, ruler_ticks, tick_axis
from ohmsworth.report.document import CurveFigure

LEFT, TOP, BOTTOM, HEIGHT = 56, 26, 30, 280
WIDEST_NAME, NAME_GAP = 190, 26


def draw_curves(figure: CurveFigure) -> Spec:
    """The Vega-Lite drawing of curves; frequency (hertz) is logarithmic, the quantity even."""
    names = [
        wrap_pixels(label, WIDEST_NAME, palette.TEXT_SIZE)
        for label in (*figure.labels, *_threshold_name(figure))
    ]
    widest = max((text_width(line, palette.TEXT_SIZE) for lines in names for line in lines), default=0.0)
    right = math.ceil(widest) + NAME_GAP + 12
    width = palette.WIDTH - LEFT - right
    across = log_ruler(list(figure.frequency), width, room=1.0)
    up = even_ruler(_values(figure), HEIGHT)
    layers = [
        *texts([{"x": -LEFT + 8, "y": -14, "text": figure.quantity}], color=palette.MUTED),
        *_threshold(figure, up, width),
        *_lines(figure, across, up),
        *_names(figure, names, up, width),
    ]
    below, beside = ruler_ticks(across), ruler_ticks(up)
    x_axis = tick_axis(
        [across.pixel(t) for t in below],
        [plain(t, "Hz") for t in below],
        grid=True,
        orient="bottom",
        labelFlush=False,
    )
    y_axis = tick_axis(
        [HEIGHT - up.pixel(t) for t in beside], [plain(t, "") for t in beside], grid=True, domain=False
    )
    x = {"scale": {"domain": [0, width], "nice": False}, "axis": x_axis}
    y = {"scale": {"domain": [0, HEIGHT], "reverse": True, "nice": False}, "axis": y_axis}
    spec = picture(layers, x, y, width, HEIGHT)
    padding = {"left": LEFT, "right": right, "top": TOP, "bottom": BOTTOM}
    return {**spec, "padding": padding, "autosize": {"type": "none"}}


def _values(figure: CurveFigure) -> list[float]:
    values = [v for line in figure.values for v in line if math.isfinite(v)]
    return values if figure.threshold is None else [*values, figure.threshold]


def _threshold_name(figure: CurveFigure) -> list[str]:
    return [] if figure.threshold is None else [f"threshold {plain(figure.threshold, '')}"]


def _threshold(figure: CurveFigure, up: Ruler, width: float) -> list[Spec]:
    if figure.threshold is None:
        return []
    y = HEIGHT - up.pixel(figure.threshold)
    return rules([{"x": 0, "x2": width, "y": y, "y2": y}], palette.LIMIT, 1.8, (6, 3))


def _lines(figure: CurveFigure, across: Ruler, up: Ruler) -> list[Spec]:
    """One line a label; a gap where a value is missing."""
    layers: list[Spec] = []
    for index, line in enumerate(figure.values):
        rows: Rows = [
            {
                "x": across.pixel(f),
                "y": HEIGHT - up.pixel(v) if math.isfinite(v) else None,
                "path": "",
                "order": k,
            }
            for k, (f, v) in enumerate(zip(figure.frequency, line, strict=True))
        ]
        layers += paths(rows, color_of(index), 2, dash_of(index))
    return layers


def color_of(index: int) -> str:
    """Colour of the line `index`."""
    return palette.LINES[index % len(palette.LINES)]


def dash_of(index: int) -> tuple[int, ...]:
    """Dash pattern of the line `index`."""
    return palette.DASHES[index % len(palette.DASHES)]


def _names(figure: CurveFigure, names: list[list[str]], up: Ruler, width: float) -> list[Spec]:
    """The name of each line at its end, pushed apart, with a lead from the line to its name."""
    ends = [HEIGHT - up.pixel(_last(line)) for line in figure.values]
    colors = [color_of(index) for index in range(len(ends))]
    if figure.threshold is not None:
        ends.append(HEIGHT - up.pixel(figure.threshold))
        colors.append(palette.LIMIT)
    middles = spread(ends, [len(lines) * palette.LINE_HEIGHT for lines in names], HEIGHT)
    layers: list[Spec] = []
    for lines, end, middle, color in zip(names, ends, middles, colors, strict=True):
        first = middle - (len(lines) - 1) * palette.LINE_HEIGHT / 2
        layers += rules([{"x": width + 2, "x2": width + NAME_GAP - 5, "y": end, "y2": middle}], color, 1)
        layers += texts([{"x": width + NAME_GAP, "y": first, "text": lines}], color=color)
    return layers


def _last(line: tuple[float, ...]) -> float:
    finite = [v for v in line if math.isfinite(v)]
    return finite[-1] if finite else 0.0


def spread(wanted: list[float], heights: list[float], room: float) -> list[float]:
    """Middles near `wanted`, moved so that spans of `heights` neither overlap nor leave 0 to `room`."""
    order = sorted(range(len(wanted)), key=lambda i: wanted[i])
    middles = list(wanted)
    top = 0.0
    for i in order:
        middles[i] = max(wanted[i], top + heights[i] / 2)
        top = middles[i] + heights[i] / 2
    bottom = max(room, sum(heights))
    for i in reversed(order):
        middles[i] = min(middles[i], bottom - heights[i] / 2)
        bottom = middles[i] - heights[i] / 2
    return middles
