"""Lines, each named where it ends, with the points that the text speaks of."""

from __future__ import annotations

import math

from ohmsworth.adapters.render import palette
from ohmsworth.adapters.render.layers import Rows, Spec, boxes, paths, picture, points, rules, texts
from ohmsworth.adapters.render.measure import text_width, wrap_pixels
from ohmsworth.adapters.render.scales import Ruler, even_ruler, log_ruler, plain, ruler_ticks, tick_axis
from ohmsworth.report.document import Axis, LineFigure

LEFT, TOP, BOTTOM, HEIGHT = 56, 26, 30, 280
#: More room below where the axis has words.
AXIS_WORDS = 22
WIDEST_NAME, NAME_GAP = 190, 26
WIDEST_MARK, MARK_GAP = 230, 12


def draw_lines(figure: LineFigure) -> Spec:
    """The Vega-Lite drawing of lines; positions are pixels, the axes carry the readable values."""
    names = [
        wrap_pixels(label, WIDEST_NAME, palette.TEXT_SIZE)
        for label in (*(line.label for line in figure.lines), *_threshold_name(figure))
    ]
    widest = max((text_width(line, palette.TEXT_SIZE) for lines in names for line in lines), default=0.0)
    right = math.ceil(widest) + NAME_GAP + 12
    width = palette.WIDTH - LEFT - right
    across = _ruler(figure.across, [v for line in figure.lines for v in line.across], width, 1.0)
    up = _ruler(figure.up, _values(figure), HEIGHT, 1.12)
    layers = [
        *texts([{"x": -LEFT + 8, "y": -14, "text": figure.up.label}], color=palette.MUTED),
        *_across_words(figure, width),
        *_threshold(figure, up, width),
        *_lines(figure, across, up),
        *_names(figure, names, up, width),
        *_marks(figure, across, up, width),
    ]
    below, beside = ruler_ticks(across), ruler_ticks(up)
    x_axis = tick_axis(
        [across.pixel(t) for t in below],
        [plain(t, figure.across.unit) for t in below],
        grid=True,
        orient="bottom",
        labelFlush=False,
    )
    y_axis = tick_axis(
        [HEIGHT - up.pixel(t) for t in beside],
        [plain(t, figure.up.unit) for t in beside],
        grid=True,
        domain=False,
    )
    x = {"scale": {"domain": [0, width], "nice": False}, "axis": x_axis}
    y = {"scale": {"domain": [0, HEIGHT], "reverse": True, "nice": False}, "axis": y_axis}
    spec = picture(layers, x, y, width, HEIGHT)
    bottom = BOTTOM + (AXIS_WORDS if figure.across.label else 0)
    padding = {"left": LEFT, "right": right, "top": TOP, "bottom": bottom}
    return {**spec, "padding": padding, "autosize": {"type": "none"}}


def _ruler(axis: Axis, values: list[float], length: float, room: float) -> Ruler:
    return log_ruler(values, length, room) if axis.logarithmic else even_ruler(values, length)


def _values(figure: LineFigure) -> list[float]:
    values = [v for line in figure.lines for v in line.up if math.isfinite(v)]
    return values if figure.threshold is None else [*values, figure.threshold]


def _across_words(figure: LineFigure, width: float) -> list[Spec]:
    row: Rows = [{"x": width / 2, "y": HEIGHT + BOTTOM + 8, "text": figure.across.label}]
    return texts(row, "center", color=palette.MUTED) if figure.across.label else []


def _threshold_name(figure: LineFigure) -> list[str]:
    if figure.threshold is None:
        return []
    return [f"{figure.threshold_words} {plain(figure.threshold, figure.up.unit)}"]


def _threshold(figure: LineFigure, up: Ruler, width: float) -> list[Spec]:
    if figure.threshold is None:
        return []
    y = HEIGHT - up.pixel(figure.threshold)
    return rules([{"x": 0, "x2": width, "y": y, "y2": y}], palette.LIMIT, 1.8, (6, 3))


def _lines(figure: LineFigure, across: Ruler, up: Ruler) -> list[Spec]:
    """One line a label; a gap where a value is missing."""
    layers: list[Spec] = []
    for index, line in enumerate(figure.lines):
        rows: Rows = [
            {
                "x": across.pixel(a),
                "y": HEIGHT - up.pixel(v) if math.isfinite(v) else None,
                "path": "",
                "order": k,
            }
            for k, (a, v) in enumerate(zip(line.across, line.up, strict=True))
        ]
        layers += paths(rows, color_of(index), 2, dash_of(index))
    return layers


def _marks(figure: LineFigure, across: Ruler, up: Ruler, width: float) -> list[Spec]:
    """The points with words: right of each, or left where there is no room; on the side the lines leave free."""
    layers: list[Spec] = []
    falls = _falling(figure)
    for mark in figure.marks:
        x, y = across.pixel(mark.across), HEIGHT - up.pixel(mark.up)
        words = wrap_pixels(mark.label, WIDEST_MARK, palette.TEXT_SIZE)
        widest = max(text_width(line, palette.TEXT_SIZE) for line in words)
        on_right = x + MARK_GAP + widest <= width
        above = falls == on_right
        first = _first_line(y, len(words), above)
        start = x + (MARK_GAP if on_right else -MARK_GAP)
        row: Rows = [{"x": start, "y": first, "text": words}]
        end = start + (widest if on_right else -widest)
        height = len(words) * palette.LINE_HEIGHT
        # Paper behind the words, for a line that runs through them.
        layers += boxes([{"x": start, "x2": end, "y": first - 8, "y2": first - 8 + height}], palette.PAPER)
        layers += points([{"x": x, "y": y}], "circle", palette.INK, 70)
        layers += texts(row, "left" if on_right else "right")
    return layers


def _first_line(y: float, lines: int, above: bool) -> float:
    """Where the first of `lines` lines of words stands, inside the picture."""
    height = (lines - 1) * palette.LINE_HEIGHT
    first = y - 6 - height if above else y + 8
    return min(max(first, 8.0), HEIGHT - 8.0 - height)


def _falling(figure: LineFigure) -> bool:
    """Whether the first line ends lower than it begins."""
    finite = [v for line in figure.lines[:1] for v in line.up if math.isfinite(v)]
    return bool(finite) and finite[-1] <= finite[0]


def color_of(index: int) -> str:
    """Colour of the line `index`."""
    return palette.LINES[index % len(palette.LINES)]


def dash_of(index: int) -> tuple[int, ...]:
    """Dash pattern of the line `index`."""
    return palette.DASHES[index % len(palette.DASHES)]


def _names(figure: LineFigure, names: list[list[str]], up: Ruler, width: float) -> list[Spec]:
    """The name of each line at its end, pushed apart, with a lead from the line to its name."""
    ends = [HEIGHT - up.pixel(_last(line.up)) for line in figure.lines]
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
