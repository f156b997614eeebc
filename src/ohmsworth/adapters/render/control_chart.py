"""Control charts: checks in order between their limits; what stands out differs in shape, not in colour alone."""

from __future__ import annotations

import math
from dataclasses import replace

from ohmsworth.adapters.render import palette
from ohmsworth.adapters.render.layers import Rows, Spec, boxes, paths, picture, points, texts
from ohmsworth.adapters.render.legend import FLAG_SHAPES, Entry, legend
from ohmsworth.adapters.render.lines import spread
from ohmsworth.adapters.render.measure import text_width, wrap_pixels
from ohmsworth.adapters.render.scales import Ruler, alike, even_ruler, ruler_ticks, tick_axis
from ohmsworth.report.document import ChartFigure, ChartLine

LEFT, BOTTOM, HEIGHT = 66, 30, 200
NAME_GAP, DATE_GAP, WIDEST_NAME = 10, 14, 110
#: More checks than this are not told apart in a picture: the last ones are drawn.
MOST_CHECKS = 150
_SERIES = (("circle", palette.CONTACT, True, (1, 0)), ("square", palette.THRESHOLD, False, (5, 3)))


def draw_chart(figure: ChartFigure) -> Spec:
    """The Vega-Lite drawing of a control chart; positions are pixels, the axis carries the readable values."""
    figure = _latest(figure)
    names = [wrap_pixels(line.label, WIDEST_NAME, palette.TEXT_SIZE) for line in figure.lines]
    widest = max((text_width(part, palette.TEXT_SIZE) for parts in names for part in parts), default=0.0)
    right = math.ceil(widest) + NAME_GAP + 12
    width = palette.WIDTH - LEFT - right
    up = even_ruler([v for values in _followed(figure) for v in values], HEIGHT)
    above, height = legend(_entries(figure), width + right)
    layers = [
        *_begun(figure, width),
        *texts([{"x": -LEFT + 8, "y": -12, "text": figure.up.label}], color=palette.MUTED),
        *(layer for line in figure.lines for layer in _line(line, figure, up, width)),
        *_series(figure, up, width),
        *_names(figure, names, up, width),
        *_moved(above, -26),
    ]
    ticks = ruler_ticks(up)
    axis = tick_axis(
        [HEIGHT - up.pixel(t) for t in ticks],
        alike(ticks, figure.up.unit),
        grid=True,
        domain=False,
    )
    places, dates = _dates(figure, width)
    below = tick_axis(places, dates, grid=False, orient="bottom", labelFlush=False)
    x = {"scale": {"domain": [0, width], "nice": False}, "axis": below}
    y = {"scale": {"domain": [0, HEIGHT], "reverse": True, "nice": False}, "axis": axis}
    spec = picture(layers, x, y, width, HEIGHT)
    padding = {"left": LEFT, "right": right, "top": 26 + height, "bottom": BOTTOM}
    return {**spec, "padding": padding, "autosize": {"type": "none"}}


def _followed(figure: ChartFigure) -> list[tuple[float, ...]]:
    return [series.values for series in figure.series] + [line.values for line in figure.lines]


def chart_note(figure: ChartFigure) -> str:
    """What the picture leaves out, or ""."""
    if len(figure.checks) <= MOST_CHECKS:
        return ""
    return f"The last {MOST_CHECKS} of {len(figure.checks)} checks are drawn; the data hold all."


def _latest(figure: ChartFigure) -> ChartFigure:
    """The figure with its last checks only, where there are too many to draw."""
    gone = max(len(figure.checks) - MOST_CHECKS, 0)
    if not gone:
        return figure
    series = tuple(replace(s, values=s.values[gone:], flags=s.flags[gone:]) for s in figure.series)
    lines = tuple(replace(line, values=line.values[gone:]) for line in figure.lines)
    first = max(figure.first - gone, 0)
    return replace(figure, checks=figure.checks[gone:], series=series, lines=lines, first=first)


def _across(figure: ChartFigure, width: float, place: float) -> float:
    """Pixels from the left for the check number `place`, from 0; halves lie between checks."""
    return round((place + 0.5) / max(len(figure.checks), 1) * width, 2)


def _begun(figure: ChartFigure, width: float) -> list[Spec]:
    """A band behind the checks that set the limits."""
    if not 0 < figure.first < len(figure.checks):
        return []
    end = _across(figure, width, figure.first - 0.5)
    return boxes([{"x": 0, "x2": end, "y": 0, "y2": HEIGHT}], palette.CONTACT_BAND)


def _line(line: ChartLine, figure: ChartFigure, up: Ruler, width: float) -> list[Spec]:
    """The centre solid, a limit dashed, from edge to edge."""
    values = [line.values[0], *line.values, line.values[-1]] if line.values else []
    rows: Rows = [
        {"x": _across(figure, width, min(max(k - 1, -0.5), len(line.values) - 0.5)), "y": HEIGHT - up.pixel(v),
         "path": "", "order": k}
        for k, v in enumerate(values)
        if math.isfinite(v)
    ]  # fmt: skip
    if line.kind == "centre":
        return paths(rows, palette.MUTED, 1.2)
    return paths(rows, palette.LIMIT, 1.8, (6, 3))


def _flags(figure: ChartFigure) -> dict[str, str]:
    """The shape that stands for each flag."""
    kinds = dict.fromkeys(flag for series in figure.series for flag in series.flags if flag)
    return {flag: FLAG_SHAPES[i % len(FLAG_SHAPES)] for i, flag in enumerate(kinds)}


def _series(figure: ChartFigure, up: Ruler, width: float) -> list[Spec]:
    layers: list[Spec] = []
    shapes = _flags(figure)
    for (shape, color, filled, dash), series in reversed(list(zip(_SERIES, figure.series, strict=False))):
        rows: Rows = [
            {
                "x": _across(figure, width, k),
                "y": HEIGHT - up.pixel(v) if math.isfinite(v) else None,
                "path": "",
                "order": k,
                "flag": flag,
            }
            for k, (v, flag) in enumerate(zip(series.values, series.flags, strict=True))
        ]
        layers += paths(rows, color, 1, dash, 0.7)
        size = 44 if len(rows) <= 60 else 22
        layers += points(
            [r for r in rows if not r["flag"] and r["y"] is not None], shape, color, size, filled
        )
        for flag, sign in shapes.items():
            layers += points([r for r in rows if r["flag"] == flag], sign, palette.FLAG, 130, False)
    return layers


def _entries(figure: ChartFigure) -> list[Entry]:
    entries: list[Entry] = [
        (shape, series.label, color, filled)
        for (shape, color, filled, _), series in zip(_SERIES, figure.series, strict=False)
    ]
    entries += [(shape, flag, palette.FLAG, False) for flag, shape in _flags(figure).items()]
    if 0 < figure.first < len(figure.checks):
        entries.append(
            ("square", f"band: the first {figure.first}, which set the limits", palette.CONTACT_BAND, True)
        )
    return entries


def _moved(layers: list[Spec], by: float) -> list[Spec]:
    """Layers of points and texts moved down by `by` pixels."""
    for layer in layers:
        for row in layer["data"]["values"]:
            row["y"] += by
    return layers


def _names(figure: ChartFigure, names: list[list[str]], up: Ruler, width: float) -> list[Spec]:
    """What each line is, right of its end, pushed apart."""
    ends = [HEIGHT - up.pixel(line.values[-1]) if line.values else 0.0 for line in figure.lines]
    middles = spread(ends, [len(parts) * palette.LINE_HEIGHT for parts in names], HEIGHT)
    layers: list[Spec] = []
    for parts, middle, line in zip(names, middles, figure.lines, strict=True):
        first = middle - (len(parts) - 1) * palette.LINE_HEIGHT / 2
        color = palette.MUTED if line.kind == "centre" else palette.LIMIT
        layers += texts([{"x": width + NAME_GAP, "y": first, "text": parts}], color=color)
    return layers


def _dates(figure: ChartFigure, width: float) -> tuple[list[float], list[str]]:
    """Checks to name below the picture: as many as fit, evenly, the last among them."""
    count = len(figure.checks)
    if not count:
        return [], []
    longest = max(text_width(name, palette.TEXT_SIZE) for name in figure.checks) + DATE_GAP
    every = max(math.ceil(count * longest / width), 1)
    chosen = list(range(count - 1, -1, -every))
    # A name in the middle of its tick must not leave the picture on the left.
    chosen = [k for k in chosen if _across(figure, width, k) + LEFT - 8 >= longest / 2]
    return [_across(figure, width, k) for k in chosen], [figure.checks[k] for k in chosen]
