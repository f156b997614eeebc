"""A QR code with words beside it; black on white also on a dark page, where machines would not read it turned round."""

from __future__ import annotations

from ohmsworth.adapters.render import palette
from ohmsworth.adapters.render.layers import Spec, boxes, picture, texts
from ohmsworth.adapters.render.measure import wrap_pixels
from ohmsworth.adapters.render.qr import modules, outline
from ohmsworth.report.document import CodeFigure

INNER_WIDTH = palette.WIDTH - 12
SIDE, GAP = 150.0, 18.0
#: Not the colours of the other drawings, which a dark page turns round.
BLACK, WHITE = "#000000", "#fefefe"


def draw_code(figure: CodeFigure) -> Spec:
    """The Vega-Lite drawing of a code: one shape, so that no hairline shows between its modules."""
    matrix = modules(figure.content)
    side = len(matrix)
    # A shape spans −1 to 1 of a square whose area is `size`, so that half of its side is 1 there.
    shape = {
        "type": "point",
        "shape": outline(matrix, 2 / side, -1.0),
        "size": SIDE**2,
        "fill": BLACK,
        "strokeWidth": 0,
        "opacity": 1,
    }
    lines = [
        part
        for k, line in enumerate(figure.lines)
        for part in wrap_pixels(line, INNER_WIDTH - SIDE - GAP, palette.TEXT_SIZE, bold=k == 0)
    ]
    top = (SIDE - palette.LINE_HEIGHT * (len(lines) - 1)) / 2
    rows = [
        {"x": SIDE + GAP, "y": top + palette.LINE_HEIGHT * k, "text": [line]} for k, line in enumerate(lines)
    ]
    layers = [
        *boxes([{"x": 0.0, "y": 0.0, "x2": SIDE, "y2": SIDE}], WHITE),
        {"data": {"values": [{"x": SIDE / 2, "y": SIDE / 2}]}, "mark": shape, "encoding": {}},
        *texts(rows[:1], "left", fontWeight="bold"),
        *texts(rows[1:], "left"),
    ]
    x = {"scale": {"domain": [0, INNER_WIDTH], "nice": False}, "axis": None}
    down = {"scale": {"domain": [0, SIDE], "reverse": True, "nice": False}, "axis": None}
    return picture(layers, x, down, INNER_WIDTH, SIDE)
