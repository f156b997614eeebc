"""The parts of the ladder above and below its uses: limits, measured contacts, and wire to compare with."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from ohmsworth.adapters.render import palette
from ohmsworth.adapters.render.ladder_frame import ROW, Block, Frame, Words, heading_height
from ohmsworth.adapters.render.ladder_words import tip_of, value_words
from ohmsworth.adapters.render.layers import Rows, points, rules
from ohmsworth.adapters.render.measure import cut_pixels, text_width, wrap_pixels
from ohmsworth.report.document import ASKED, LadderMark

LABEL_GAP, ARROW_ROOM, SMALLEST_LABEL = 11, 8, 190
#: A hollow square of a wire reaches so far, and its words begin there.
HALF, SQUARE_GAP = 4, 9
#: Words keep so far from a line that runs down the picture, and move no farther than this to do so.
LINE_GAP, MOST_MOVED = 7, 60
#: Half of the smallest box that a finger is asked to hit.
REACH = 12


def limits(marks: list[LadderMark], frame: Frame, top: float) -> Block:
    """A row for each limit, its value beside the line that begins there; beyond the scale an arrow points to it."""
    block = Block(top)
    for mark in marks:
        y, at = block.height + ROW / 2, frame.scale.pixel(mark.value)
        name = frame.name(mark.label, y, bold=True)
        words = {-1: "← {}", 0: "{}", 1: "{} →"}[frame.scale.off_scale(mark.value)].format(value_words(mark))
        value = _beside(words, (at, at), frame, y, 7, bold=True)
        block.words += [replace(words, color=palette.LIMIT) for words in (name, value)]
        block.tips.append(tip_box(at, block.height, block.height + ROW, tip_of(mark)))
        block.height += max(ROW, palette.LINE_HEIGHT * len(name.lines) + 5)
    return block


def contacts(marks: list[LadderMark], frame: Frame, top: float, lines: tuple[float, ...] = ()) -> Block:
    """A row for each contact: a disc, its interval, and its value; `lines` are the pixels of lines that run down the picture."""
    block = Block(top)
    if not marks:
        return block
    asked = all(mark.group == ASKED for mark in marks)
    heading = frame.heading("Contacts asked about" if asked else "Measured contacts", top)
    block.words.append(heading)
    block.height += heading_height(heading)
    dots: Rows = []
    bars: Rows = []
    for mark in marks:
        low, high = interval_pixels(mark, frame)
        y = _contact_words(block, mark, frame, lines)
        block.tips.append(tip_box((low + high) / 2, y - ROW / 2, y + ROW / 2, tip_of(mark), high - low))
        if not frame.scale.off_scale(mark.value):
            dots.append({"x": frame.scale.pixel(mark.value), "y": y})
        if mark.low is not None and mark.high is not None:
            bars.append({"x": low, "x2": high, "y": y, "y2": y})
    block.over = [
        *rules(bars, palette.CONTACT, 2.5),
        *rules(end_caps(bars), palette.CONTACT, 1.5),
        *points(dots, "circle", palette.CONTACT, 95),
    ]
    return block


def _contact_words(block: Block, mark: LadderMark, frame: Frame, lines: tuple[float, ...]) -> float:
    """Add the words of a contact's row to the foot of `block`; the height at which its disc belongs."""
    first = block.height + ROW / 2
    ends = interval_pixels(mark, frame)
    gap = LABEL_GAP + (ARROW_ROOM if frame.scale.off_scale(mark.value) else 0)
    name = frame.name(mark.label, first)
    value = _past(_beside(value_words(mark), ends, frame, first, gap, bold=True), lines, frame)
    above = value.ends()[0] < ends[1] and value.ends()[1] > ends[0]
    tall = palette.LINE_HEIGHT * len(value.lines)
    y = first + (tall if above else (tall - palette.LINE_HEIGHT) / 2)
    block.words += [name, value, *beyond_arrow(mark, frame, y)]
    block.height += max(tall + palette.LINE_HEIGHT * above, palette.LINE_HEIGHT * len(name.lines)) + 5
    return y


def interval_pixels(mark: LadderMark, frame: Frame) -> tuple[float, float]:
    """Both ends of a mark's interval, or twice its place."""
    low, high = mark.low, mark.high
    return (
        frame.scale.pixel(mark.value if low is None else low),
        frame.scale.pixel(mark.value if high is None else high),
    )


def end_caps(bars: Rows) -> Rows:
    """Short strokes across both ends of level `bars`."""
    return [
        {"x": bar[end], "x2": bar[end], "y": bar["y"] - 4.5, "y2": bar["y"] + 4.5}
        for bar in bars
        for end in ("x", "x2")
    ]


def beyond_arrow(mark: LadderMark, frame: Frame, y: float) -> list[Words]:
    """An arrow at the end of the scale that `mark` lies beyond."""
    side = frame.scale.off_scale(mark.value)
    if not side:
        return []
    if side < 0:
        return [Words(("←",), 0.0, y, bold=True)]
    return [Words(("→",), frame.scale.width, y, "right", bold=True)]


def wires(marks: list[LadderMark], frame: Frame, top: float) -> Block:
    """A second axis: lengths of wire as hollow squares, a row or more for each conductor."""
    block = Block(top)
    shown = [m for m in marks if not frame.scale.off_scale(m.value)]
    if not shown:
        return block
    heading = frame.heading("Wire with the same resistance", top)
    block.words.append(heading)
    block.height += heading_height(heading)
    squares: Rows = []
    for group in dict.fromkeys(m.group for m in shown):
        members = sorted((m for m in shown if m.group == group), key=lambda m: m.value)
        squares += _lengths(block, group, members, frame)
    block.over = points(squares, "square", palette.WIRE, 60, filled=False)
    return block


def _lengths(block: Block, group: str, members: list[LadderMark], frame: Frame) -> Rows:
    """Add the words of one conductor to the foot of `block`; where its squares belong."""
    first = block.height + ROW / 2
    name = frame.name(group, first)
    block.words.append(name)
    squares: Rows = []
    taken: list[float] = []
    for mark in members:
        at = frame.scale.pixel(mark.value)
        label, row = _in_free_row(mark.label, at, taken, frame, first)
        y = first + ROW * row
        block.words.append(label)
        block.tips.append(tip_box(at, y - ROW / 2, y + ROW / 2, tip_of(mark)))
        squares.append({"x": at, "y": y})
    block.height += max(ROW * len(taken), palette.LINE_HEIGHT * len(name.lines) + 5)
    return squares


def _in_free_row(text: str, at: float, rows: list[float], frame: Frame, first: float) -> tuple[Words, int]:
    """The label of a mark at pixel `at` in the first row that is free there; `rows` holds where each is taken up to."""
    right = frame.scale.width - at - SQUARE_GAP
    shown = cut_pixels(text, max(right, at - SQUARE_GAP), palette.TEXT_SIZE)
    needed = text_width(shown, palette.TEXT_SIZE)
    leftward = needed > right
    needed += SQUARE_GAP
    start, end = (at - needed, at + HALF) if leftward else (at - HALF, at + needed)
    row = next((i for i, taken in enumerate(rows) if taken + 3 <= start), len(rows))
    rows[row:] = [end, *rows[row + 1 :]]
    gap, align = (-SQUARE_GAP, "right") if leftward else (SQUARE_GAP, "left")
    return Words((shown,), at + gap, first + ROW * row, align), row


def _beside(
    text: str, ends: tuple[float, float], frame: Frame, y: float, gap: float, bold: bool = False
) -> Words:
    """`text` right of what reaches between `ends`, else left of it, else wrapped on the roomier side, else above."""
    needed = text_width(text, palette.TEXT_SIZE, bold)
    right, left = frame.scale.width - ends[1] - gap, ends[0] - gap
    if needed <= right or (needed > left and right >= max(left, SMALLEST_LABEL)):
        return Words(_lines(text, right, bold), ends[1] + gap, y, bold=bold)
    if needed <= left or left >= SMALLEST_LABEL:
        return Words(_lines(text, left, bold), ends[0] - gap, y, "right", bold)
    start = min(max((ends[0] + ends[1] - needed) / 2, 0), max(frame.scale.width - needed, 0))
    return Words(_lines(text, frame.scale.width, bold), start, y, bold=bold)


def _past(words: Words, lines: tuple[float, ...], frame: Frame) -> Words:
    """Words that would begin just before a line that runs down, moved past it where there is room."""
    near = [at for at in lines if words.x - LINE_GAP < at < words.x + MOST_MOVED]
    moved = replace(words, x=max(near, default=0.0) + LINE_GAP)
    if not near or words.align == "right" or moved.x <= words.x or moved.ends()[1] > frame.scale.width:
        return words
    return moved


def _lines(text: str, room: float, bold: bool) -> tuple[str, ...]:
    return tuple(wrap_pixels(text, room, palette.TEXT_SIZE, bold))


def tip_box(middle: float, top: float, bottom: float, tip: str, wide: float = 0.0) -> dict[str, Any]:
    """The box around `middle` where a pointer finds `tip`."""
    half = max(wide / 2, REACH)
    return {"x": middle - half, "x2": middle + half, "y": top, "y2": bottom, "tip": tip}
