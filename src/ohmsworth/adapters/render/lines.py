"""Lines, each named where it ends, perhaps in a band, with the points that the text speaks of."""

from __future__ import annotations

import math
from collections.abc import Iterable

from ohmsworth.adapters.render import palette
from ohmsworth.adapters.render.bands import band_legend, draw_bands
from ohmsworth.adapters.render.layers import Rows, Spec, boxes, paths, picture, points, rules, texts
from ohmsworth.adapters.render.measure import text_width, wrap_pixels
from ohmsworth.adapters.render.scales import (
    Ruler,
    alike,
    even_ruler,
    log_ruler,
    parted_labels,
    plain,
    ruler_ticks,
    tick_axis,
)
from ohmsworth.adapters.render.tracks import Plot, Track, is_jagged, lone_rows, path_rows, tracks
from ohmsworth.report.document import Axis, LineFigure
from ohmsworth.units import LARGEST, SMALLEST

LEFT, TOP, BOTTOM, HEIGHT = 56, 26, 30, 280
#: More room below where the axis has words.
AXIS_WORDS = 22
WIDEST_NAME, NAME_GAP = 190, 36
WIDEST_MARK, MARK_GAP = 230, 12


def draw_lines(figure: LineFigure) -> Spec:
    """The Vega-Lite drawing of lines; positions are pixels, the axes carry the readable values."""
    drawn, up = tracks(figure), up_ruler(figure)
    names = [
        wrap_pixels(label, WIDEST_NAME, palette.TEXT_SIZE)
        for label in (*(track.line.label for track in drawn), *_threshold_name(figure))
    ]
    right = math.ceil(_widest(line for lines in names for line in lines)) + NAME_GAP + 12
    beside = ruler_ticks(up)
    labels = _labels(beside, figure.up)
    left = max(LEFT, math.ceil(_widest(labels)) + 18)
    width = palette.WIDTH - left - right
    across = _across_ruler(figure, width)
    plot = Plot(across, up)
    legend, above = band_legend(figure, left, palette.WIDTH)
    layers = [
        *texts([{"x": 8 - left, "y": -14, "text": figure.up.label}], color=palette.MUTED),
        *legend,
        *_across_words(figure, width),
        *draw_bands(drawn, plot),
        *_threshold(figure, plot),
        *_lines(drawn, plot),
        *_names(figure, drawn, names, plot),
        *_marks(figure, plot),
    ]
    below = ruler_ticks(across)
    x_axis = tick_axis(
        [across.pixel(t) for t in below],
        parted_labels(below, _labels(below, figure.across), across),
        grid=True,
        orient="bottom",
        labelFlush=False,
    )
    y_axis = tick_axis([plot.y(t) for t in beside], labels, grid=True, domain=False)
    x = {"scale": {"domain": [0, width], "nice": False}, "axis": x_axis}
    y = {"scale": {"domain": [0, HEIGHT], "reverse": True, "nice": False}, "axis": y_axis}
    spec = picture(layers, x, y, width, HEIGHT)
    bottom = BOTTOM + (AXIS_WORDS if figure.across.label else 0)
    padding = {"left": left, "right": right, "top": TOP + above, "bottom": bottom}
    return {**spec, "padding": padding, "autosize": {"type": "none"}}


def up_ruler(figure: LineFigure) -> Ruler:
    """The upright axis: around all lines, bands and the threshold."""
    values = [v for line in figure.lines for part in (line.up, line.low, line.high) for v in part]
    if figure.threshold is not None:
        values.append(figure.threshold)
    if figure.up.logarithmic:
        return log_ruler(values, HEIGHT, least=figure.up.least, believed=(SMALLEST, LARGEST))
    return even_ruler(values, HEIGHT, figure.up.least)


def _across_ruler(figure: LineFigure, width: float) -> Ruler:
    axis, values = figure.across, [v for line in figure.lines for v in line.across]
    if axis.logarithmic:
        return log_ruler(values, width, 1.0, axis.least)
    return even_ruler(values, width, axis.least)


def _labels(ticks: list[float], axis: Axis) -> list[str]:
    """Even ticks in one unit; those of a logarithmic axis each in its own."""
    return [plain(t, axis.unit) for t in ticks] if axis.logarithmic else alike(ticks, axis.unit)


def _widest(lines: Iterable[str]) -> float:
    return max((text_width(line, palette.TEXT_SIZE) for line in lines), default=0.0)


def _across_words(figure: LineFigure, width: float) -> list[Spec]:
    row: Rows = [{"x": width / 2, "y": HEIGHT + BOTTOM + 8, "text": figure.across.label}]
    return texts(row, "center", color=palette.MUTED) if figure.across.label else []


def _threshold_name(figure: LineFigure) -> list[str]:
    if figure.threshold is None:
        return []
    return [f"{figure.threshold_words} {plain(figure.threshold, figure.up.unit)}"]


def _threshold(figure: LineFigure, plot: Plot) -> list[Spec]:
    if figure.threshold is None:
        return []
    y = plot.y(figure.threshold)
    return rules([{"x": 0, "x2": plot.across.length, "y": y, "y2": y}], palette.LIMIT, 1.8, (6, 3))


def _lines(drawn: list[Track], plot: Plot) -> list[Spec]:
    """One line a label, the ideal ones below; a gap where a value is missing, a dot where one stands alone."""
    layers: list[Spec] = []
    for track in sorted(drawn, key=lambda track: not track.line.ideal):
        rows = path_rows(track.line.across, track.line.up, plot)
        layers += paths(rows, track.color, 1.0 if is_jagged(rows, plot) else track.width, track.dash)
        layers += points(lone_rows(track.line, plot), "circle", track.color, 30)
    return layers


def _marks(figure: LineFigure, plot: Plot) -> list[Spec]:
    """The points with words: right of each, or left where there is no room; on the side the lines leave free."""
    layers: list[Spec] = []
    falls = _falling(figure)
    for mark in figure.marks:
        x, y = plot.across.pixel(mark.across), plot.y(mark.up)
        words = wrap_pixels(mark.label, WIDEST_MARK, palette.TEXT_SIZE)
        widest = _widest(words)
        on_right = x + MARK_GAP + widest <= plot.across.length
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


def _names(figure: LineFigure, drawn: list[Track], names: list[list[str]], plot: Plot) -> list[Spec]:
    """The name of each line at its end, pushed apart, with a lead from the line to its name in the dashes of the line."""
    width = plot.across.length
    ends = [plot.y(_last(track.line.up)) for track in drawn]
    looks = [(track.color, track.dash) for track in drawn]
    if figure.threshold is not None:
        ends.append(plot.y(figure.threshold))
        looks.append((palette.LIMIT, (6, 3)))
    middles = spread(ends, [len(lines) * palette.LINE_HEIGHT for lines in names], HEIGHT)
    layers: list[Spec] = []
    for lines, end, middle, (color, dash) in zip(names, ends, middles, looks, strict=True):
        first = middle - (len(lines) - 1) * palette.LINE_HEIGHT / 2
        lead = {"x": width + 2, "x2": width + NAME_GAP - 5, "y": end, "y2": middle}
        layers += rules([lead], color, 1.4, dash)
        layers += texts([{"x": width + NAME_GAP, "y": first, "text": lines}], color=color)
    return layers


def _last(values: tuple[float, ...]) -> float:
    return [v for v in values if math.isfinite(v)][-1]


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
