"""A cable as a drawing: contacts in two columns, a wire from each to its other end, and places along the length below."""

from __future__ import annotations

from ohmsworth.adapters.render import palette
from ohmsworth.adapters.render.layers import Rows, Spec, picture, points, rules, texts
from ohmsworth.adapters.render.measure import cut_pixels
from ohmsworth.report.document import CableFigure, CableWireMark
from ohmsworth.units import show, show_stated

INNER_WIDTH = palette.WIDTH - 12
#: Where wires begin and end, from the left; the first row, from row to row, and the scale below the last.
LEFT, RIGHT = 210.0, INNER_WIDTH - 130.0
TOP, ROW, SCALE, BOTTOM = 14.0, 22.0, 34.0, 34.0
GAP, THIN, THICK = 14.0, 1.4, 4.0


def draw_cable(figure: CableFigure) -> Spec:
    """The Vega-Lite drawing of a cable."""
    left = {name: TOP + ROW * k for k, name in enumerate(dict.fromkeys(w.start for w in figure.wires))}
    right = {name: TOP + ROW * k for k, name in enumerate(figure.stops)}
    sound: Rows = []
    bad: Rows = []
    dots: Rows = []
    for wire in figure.wires:
        y, y2 = left[wire.start], right[wire.stop]
        (bad if wire.flag else sound).extend(_wire(wire, y, y2))
        dots += [{"x": LEFT, "y": y}, {"x": RIGHT, "y": y2}]
    bottom = max([*left.values(), *right.values()], default=TOP)
    layers = [
        *rules(sound, palette.INK, THIN),
        *rules(bad, palette.LIMIT, THIN + 1),
        *points(dots, "circle", palette.INK, 30),
        *texts(_starts(figure, left), "right"),
        *texts(
            [
                {"x": RIGHT + 10, "y": y, "text": [cut_pixels(name, 112, palette.TEXT_SIZE)]}
                for name, y in right.items()
            ],
            "left",
        ),
    ]
    height = bottom + ROW
    if figure.places:
        layers += _scale(figure, bottom + SCALE)
        height = bottom + SCALE + BOTTOM
    x = {"scale": {"domain": [0, INNER_WIDTH], "nice": False}, "axis": None}
    down = {"scale": {"domain": [0, height], "reverse": True, "nice": False}, "axis": None}
    return picture(layers, x, down, INNER_WIDTH, height)


def _wire(wire: CableWireMark, y: float, y2: float) -> Rows:
    """From end to end; one without a path has a gap in the middle."""
    if not wire.broken:
        return [{"x": LEFT, "y": y, "x2": RIGHT, "y2": y2}]
    share = (0.5 - GAP / (RIGHT - LEFT), 0.5 + GAP / (RIGHT - LEFT))
    (x1, y1), (x3, y3) = ((LEFT + s * (RIGHT - LEFT), y + s * (y2 - y)) for s in share)
    return [{"x": LEFT, "y": y, "x2": x1, "y2": y1}, {"x": x3, "y": y3, "x2": RIGHT, "y2": y2}]


def _starts(figure: CableFigure, left: dict[str, float]) -> Rows:
    """Contact, name and what is wrong, before each row."""
    told: dict[str, list[str]] = {}
    for wire in figure.wires:
        told.setdefault(wire.start, []).append(f"{wire.name}: {wire.flag}" if wire.flag else wire.name)
    return [
        {
            "x": LEFT - 10,
            "y": y,
            "text": [cut_pixels(f"{', '.join(told[name])} · {name}", LEFT - 14, palette.TEXT_SIZE)],
        }
        for name, y in left.items()
    ]


def _scale(figure: CableFigure, y: float) -> list[Spec]:
    """The length of the cable with its places: a bar as wide as the interval, and the distance below."""

    def across(metres: float) -> float:
        return LEFT + min(max(metres / figure.length, 0.0), 1.0) * (RIGHT - LEFT)

    bars = [{"x": across(p.low), "y": y, "x2": across(p.high), "y2": y} for p in figure.places]
    ends = [
        {"x": LEFT - 10, "y": y, "text": ["0 m"]},
        {"x": RIGHT + 10, "y": y, "text": [show_stated(figure.length, "m")]},
    ]
    words = [{"x": across(p.metres), "y": y + 18, "text": [show(p.metres, "m")]} for p in figure.places[:1]]
    return [
        *rules([{"x": LEFT, "y": y, "x2": RIGHT, "y2": y}], palette.MUTED, THIN),
        *rules(bars, palette.LIMIT, THICK),
        *points([{"x": across(p.metres), "y": y} for p in figure.places], "diamond", palette.LIMIT, 90),
        *texts(ends[:1], "right"),
        *texts(ends[1:], "left"),
        *texts(words, "center", fontWeight="bold"),
    ]
