"""A wiring drawing: the row in the middle, return and bridge above it, the inputs below; no two wires cross."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import pairwise

from ohmsworth.adapters.render import palette
from ohmsworth.adapters.render.layers import Rows, Spec, picture, points, rules, texts
from ohmsworth.adapters.render.measure import cut_pixels, text_width, wrap_pixels
from ohmsworth.report.document import WiredPart, WiringFigure

INNER_WIDTH = palette.WIDTH - 12
#: Heights of the return wire, the bridge, the row, and the top of the inputs' boxes.
BACK, BRIDGE, ROW, INPUTS = 26.0, 92.0, 172.0, 246.0
PART_WIDTH, PART_HEIGHT, INPUT_HEIGHT, MARGIN = 76.0, 20.0, 34.0, 16.0
EDGE, WIRE = 2.0, 1.6
WIDEST_OUTPUT, MOST_LINES = 112, 5
#: From the end of a part to where its sense lead is fixed.
SENSE = 10.0


@dataclass(slots=True)
class _Sheet:
    """What has been drawn so far."""

    wires: Rows = field(default_factory=list)
    joints: Rows = field(default_factory=list)
    names: Rows = field(default_factory=list)
    words: Rows = field(default_factory=list)

    def wire(self, *corners: tuple[float, float]) -> None:
        """A wire from corner to corner."""
        for (x, y), (x2, y2) in pairwise(corners):
            self.wires.append({"x": x, "y": y, "x2": x2, "y2": y2})

    def box(self, left: float, top: float, right: float, bottom: float) -> None:
        """The four sides of a box."""
        self.wire((left, top), (right, top), (right, bottom), (left, bottom), (left, top))

    def joint(self, x: float) -> None:
        """Where wires meet on the row."""
        self.joints.append({"x": x, "y": ROW})


def draw_wiring(figure: WiringFigure) -> Spec:
    """The Vega-Lite drawing of a wiring."""
    sheet = _Sheet()
    start, end = _output(sheet, figure), INNER_WIDTH - MARGIN
    cell = (end - start) / max(len(figure.row), 1)
    for number, part in enumerate(figure.row):
        left = start + number * cell
        _part(sheet, part, left, left + cell)
    sheet.wire((end, ROW), (end, BACK), (start, BACK))
    sensed = [number for number, part in enumerate(figure.row) if part.input_name]
    if figure.bridge is not None and sensed:
        last = end - MARGIN if sensed[-1] == len(figure.row) - 1 else start + (sensed[-1] + 1) * cell
        first = start + (MARGIN if figure.across_row else sensed[0] * cell)
        _bridge(sheet, figure.bridge, first, last)
    height = (INPUTS + INPUT_HEIGHT if sensed else ROW + PART_HEIGHT) + 6
    layers = [
        *rules(sheet.wires, palette.INK, WIRE),
        *points(sheet.joints, "circle", palette.INK, 44),
        *texts(sheet.names, "center", fontWeight="bold"),
        *texts(sheet.words, "center"),
    ]
    x = {"scale": {"domain": [0, INNER_WIDTH], "nice": False}, "axis": None}
    down = {"scale": {"domain": [0, height], "reverse": True, "nice": False}, "axis": None}
    return picture(layers, x, down, INNER_WIDTH, height)


def _output(sheet: _Sheet, figure: WiringFigure) -> float:
    """The box at the left, with its two terminals; where its right side is."""
    lines = wrap_pixels(figure.output, WIDEST_OUTPUT, palette.TEXT_SIZE, bold=True)[:MOST_LINES]
    back = cut_pixels(figure.back, WIDEST_OUTPUT, palette.TEXT_SIZE)
    widths = [text_width(line, palette.TEXT_SIZE, bold=True) for line in lines]
    right = EDGE + max(*widths, text_width(back, palette.TEXT_SIZE)) + MARGIN
    sheet.box(EDGE, BACK - 20, right, ROW + 20)
    middle = (EDGE + right) / 2
    sheet.words.append({"x": middle, "y": BACK, "text": [back]})
    sheet.names.append({"x": middle, "y": ROW - (len(lines) - 1) * palette.LINE_HEIGHT, "text": lines})
    return right


def _part(sheet: _Sheet, part: WiredPart, left: float, right: float) -> None:
    """A part with the wires to its neighbours, and its input below."""
    middle = (left + right) / 2
    first, last = middle - PART_WIDTH / 2, middle + PART_WIDTH / 2
    if part.kind == "contact":
        _mated(sheet, middle)
        sheet.wire((left, ROW), (middle - 4, ROW))
        sheet.wire((middle + 5, ROW), (right, ROW))
    else:
        sheet.box(first, ROW - PART_HEIGHT / 2, last, ROW + PART_HEIGHT / 2)
        sheet.wire((left, ROW), (first, ROW))
        sheet.wire((last, ROW), (right, ROW))
    _tell(sheet, part, middle, ROW, right - left - 16)
    if part.input_name:
        _sense(sheet, part, first - SENSE, last + SENSE)


def _mated(sheet: _Sheet, middle: float) -> None:
    """A plug in its socket: two arrowheads, one in the other."""
    for tip in (middle - 4, middle + 5):
        sheet.wire((tip - 10, ROW - 9), (tip, ROW), (tip - 10, ROW + 9))


def _sense(sheet: _Sheet, part: WiredPart, first: float, last: float) -> None:
    """The leads from both ends of a part down to the box of its input."""
    for x, sign in ((first, "+"), (last, "−")):
        sheet.joint(x)
        sheet.wire((x, ROW), (x, INPUTS))
        sheet.words.append({"x": x + (8 if sign == "+" else -8), "y": INPUTS - 9, "text": [sign]})
    sheet.box(first - 14, INPUTS, last + 14, INPUTS + INPUT_HEIGHT)
    name = cut_pixels(part.input_name, last - first + 20, palette.TEXT_SIZE, bold=True)
    sheet.names.append({"x": (first + last) / 2, "y": INPUTS + INPUT_HEIGHT / 2, "text": [name]})


def _bridge(sheet: _Sheet, bridge: WiredPart, first: float, last: float) -> None:
    """A part above the row, from one joint of it to another."""
    middle = (first + last) / 2
    sheet.joint(first)
    sheet.joint(last)
    sheet.box(
        middle - PART_WIDTH / 2, BRIDGE - PART_HEIGHT / 2, middle + PART_WIDTH / 2, BRIDGE + PART_HEIGHT / 2
    )
    sheet.wire((first, ROW), (first, BRIDGE), (middle - PART_WIDTH / 2, BRIDGE))
    sheet.wire((middle + PART_WIDTH / 2, BRIDGE), (last, BRIDGE), (last, ROW))
    _tell(sheet, bridge, middle, BRIDGE, last - first)


def _tell(sheet: _Sheet, part: WiredPart, x: float, y: float, room: float) -> None:
    """Name and value above a part."""
    above = y - PART_HEIGHT / 2 - 12
    name = cut_pixels(part.name, room, palette.TEXT_SIZE, bold=True)
    sheet.names.append({"x": x, "y": above - palette.LINE_HEIGHT, "text": [name]})
    sheet.words.append({"x": x, "y": above, "text": [cut_pixels(part.value, room, palette.TEXT_SIZE)]})
