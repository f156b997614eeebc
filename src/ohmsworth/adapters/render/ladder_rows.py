"""Where everything on the ladder goes: one row a mark, headings between, each label where there is room."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from ohmsworth.adapters.render.measure import text_width, wrap_pixels
from ohmsworth.adapters.render.palette import LINE_HEIGHT, TEXT_SIZE
from ohmsworth.adapters.render.scales import (
    HIGHEST_DECADE,
    LOWEST_DECADE,
    decade_span,
    interval_words,
    plain,
    readable,
    unbroken,
)
from ohmsworth.errors import ArgumentFault
from ohmsworth.report.document import LadderMark

#: Heading of each lane, in the order drawn. The limit is a line across, not a lane.
LANES = {
    "contact": "Measured contacts",
    "wire": "Wire with the same resistance",
    "threshold": "Where a use begins to suffer",
}
ROW_GAP, HEADING_HEIGHT, GROUP_HEIGHT, LANE_GAP = 5, 22, 23, 7
LABEL_GAP, SMALLEST_LABEL = 11, 190


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

    def held(self, value: float) -> float:
        """`value` (ohm), or the end of the scale that it lies beyond."""
        first, last = self.domain()
        return min(max(value, first), last)

    def off_scale(self, value: float) -> int:
        """-1 or 1 when `value` lies beyond the left or right end, else 0."""
        first, last = self.domain()
        return int(value > last) - int(value < first)

    def pixel(self, value: float) -> float:
        """Distance of `value` (ohm) from the left end."""
        span = self.high - self.low + 2 * self.room
        return (math.log10(self.held(value)) - self.low + self.room) / span * self.width


@dataclass(frozen=True, slots=True)
class Row:
    """One mark with its label: `side` is "right", "left", or "above" when neither side has room.

    `extent` is the label's left and right end.
    """

    mark: LadderMark
    y: float
    label_y: float
    label_x: float
    lines: tuple[str, ...]
    side: str
    extent: tuple[float, float]

    def span(self) -> tuple[float, float]:
        """Top and bottom of the label."""
        top = self.label_y - LINE_HEIGHT / 2
        return top, top + LINE_HEIGHT * len(self.lines)


@dataclass(frozen=True, slots=True)
class Heading:
    """A lane's or a group's name at height `y`."""

    text: str
    y: float
    lane: bool


@dataclass(frozen=True, slots=True)
class Layout:
    """The whole ladder, in pixels from its top."""

    scale: Scale
    rows: tuple[Row, ...]
    headings: tuple[Heading, ...]
    height: float


def scale_of(marks: Iterable[LadderMark], width: float) -> Scale:
    """The decades that hold everything marked, within microohm to kilohm."""
    ends = [
        v for m in marks for v in (m.value, m.low, m.high) if v is not None and math.isfinite(v) and v > 0
    ]
    return Scale(*decade_span(ends, LOWEST_DECADE, HIGHEST_DECADE), width)


def label_of(mark: LadderMark) -> str:
    """The words beside a mark: label, value, and interval when there is one.

    A limit is exact as given; wires and thresholds are computed, and two digits say all that they support.
    """
    low, high = mark.low, mark.high
    if mark.kind == "limit":
        value = unbroken(plain(mark.value, "Ω"))
    elif low is not None and high is not None:
        interval = unbroken(interval_words(low, high, "Ω"))
        value = f"{readable(mark.value, 'Ω', _digits(mark.value, low, high))} ({interval})"
    else:
        value = readable(mark.value, "Ω", 3 if mark.kind == "contact" else 2)
    return f"{mark.label}: {value}, {mark.note}" if mark.note else f"{mark.label}: {value}"


def _digits(value: float, low: float, high: float) -> int:
    """Digits of `value` that reach the place to which its interval is written; two to six."""
    if value <= 0 or not 0 < high - low < math.inf:
        return 3
    return min(max(math.floor(math.log10(value)) - math.floor(math.log10((high - low) / 2)) + 2, 2), 6)


def lay_out(marks: tuple[LadderMark, ...], width: float) -> Layout:
    """Place every mark but the limits.

    Raises
    ------
    ArgumentFault
        For a mark whose value is no number.
    """
    for mark in marks:
        if math.isnan(mark.value):
            raise ArgumentFault("marks", mark.label, "a mark with a resistance")
    scale = scale_of(marks, width)
    rows: list[Row] = []
    headings: list[Heading] = []
    y = 0.0
    for kind, title in LANES.items():
        lane = [mark for mark in marks if mark.kind == kind]
        if not lane:
            continue
        y = _start_lane(title, y, headings)
        for group, members in _groups(lane):
            if group and (kind == "threshold" or len(_groups(lane)) > 1):
                headings.append(Heading(group, y + GROUP_HEIGHT / 2 - 0.5, lane=False))
                y += GROUP_HEIGHT
            for mark in members:
                row, taken = _row(mark, y, scale)
                rows.append(row)
                y += taken
        y += LANE_GAP
    return Layout(scale, tuple(rows), tuple(headings), max(y, 2 * ROW_GAP))


def _start_lane(title: str, y: float, headings: list[Heading]) -> float:
    headings.append(Heading(title, y + HEADING_HEIGHT / 2 + 2, lane=True))
    return y + HEADING_HEIGHT + 4


def _groups(lane: list[LadderMark]) -> list[tuple[str, list[LadderMark]]]:
    """The lane's groups in the order given; what is not measured sorts by value within its group."""
    groups: dict[str, list[LadderMark]] = {}
    for mark in lane:
        groups.setdefault(mark.group, []).append(mark)
    return [
        (name, members if members[0].kind == "contact" else _sorted(members))
        for name, members in groups.items()
    ]


def _sorted(marks: list[LadderMark]) -> list[LadderMark]:
    return sorted(marks, key=lambda mark: mark.value)


def _row(mark: LadderMark, top: float, scale: Scale) -> tuple[Row, float]:
    """The row of one mark that begins at `top`, and the height it takes."""
    bold = mark.kind == "contact"
    low = mark.value if mark.low is None else mark.low
    high = mark.value if mark.high is None else mark.high
    gap = LABEL_GAP + (8 if scale.off_scale(mark.value) else 0)
    left = scale.pixel(low) - gap
    right = scale.width - scale.pixel(high) - gap
    words = label_of(mark)
    needed = text_width(words, TEXT_SIZE, bold)
    side = _side(needed, left, right, first="left" if mark.kind == "threshold" else "right")
    room = {"right": right, "left": left, "above": scale.width}[side]
    lines = wrap_pixels(words, room, TEXT_SIZE, bold)
    tall = len(lines) * LINE_HEIGHT
    widest = max(text_width(line, TEXT_SIZE, bold) for line in lines)
    if side == "above":
        start = min(max(scale.pixel(mark.value) - needed / 2, 0), max(scale.width - needed, 0))
        return Row(
            mark, top + tall + 7, top + LINE_HEIGHT / 2, start, tuple(lines), side, (start, start + widest)
        ), tall + 14 + ROW_GAP
    start = scale.pixel(high) + gap if side == "right" else left
    extent = (start, start + widest) if side == "right" else (start - widest, start)
    middle = top + tall / 2
    return Row(mark, middle, top + LINE_HEIGHT / 2, start, tuple(lines), side, extent), tall + ROW_GAP


def _side(needed: float, left: float, right: float, first: str) -> str:
    """The side `first` when the label fits there, else the other, else the roomier; above when cramped."""
    room = {"left": left, "right": right}
    other = "left" if first == "right" else "right"
    for side in (first, other):
        if needed <= room[side]:
            return side
    roomier = max(room, key=lambda side: room[side])
    return roomier if room[roomier] >= SMALLEST_LABEL else "above"


def words_across(layout: Layout, pixel: float) -> list[tuple[float, float]]:
    """Tops and bottoms of all labels and headings that a vertical line at `pixel` would cross."""
    crossed = [row.span() for row in layout.rows if row.extent[0] - 4 <= pixel <= row.extent[1] + 4]
    half = LINE_HEIGHT / 2
    for heading in layout.headings:
        if pixel <= text_width(heading.text, TEXT_SIZE, heading.lane) + 4:
            crossed.append((heading.y - half, heading.y + half))
    return sorted(crossed)


def open_spans(top: float, bottom: float, closed: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """What is left of `top` to `bottom` without the `closed` spans (sorted)."""
    spans = []
    for start, end in closed:
        if start > top:
            spans.append((top, start))
        top = max(top, end)
    return [*spans, (top, bottom)] if bottom > top else spans
