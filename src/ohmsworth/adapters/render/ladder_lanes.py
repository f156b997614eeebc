"""One lane a use: a bar from where it first suffers, deeper from each further threshold on.

The first threshold is told in words above the bar, the others by a stroke and a word or two on it; where there is
room, in full below it. Between the largest measured contact and the bar stands how many times it would have to be.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

from ohmsworth.adapters.render import palette
from ohmsworth.adapters.render.ladder_frame import Block, Frame, Words
from ohmsworth.adapters.render.ladder_parts import REACH, beyond_arrow, tip_box
from ohmsworth.adapters.render.ladder_strokes import SMALL, Run, stroke_words
from ohmsworth.adapters.render.ladder_words import OF_LARGEST, far_words, times_words, tip_of, value_words
from ohmsworth.adapters.render.layers import Rows, boxes, points, rules
from ohmsworth.adapters.render.measure import text_width, wrap_pixels
from ohmsworth.report.document import LadderMark

BAR, ABOVE, BELOW = 15, 4, 7
LINE = palette.LINE_HEIGHT
#: Words end so far before the end of the scale, for they are drawn a little wider in some places.
SLACK = 6
#: A head or an arrow takes so much before a word may begin.
HEAD_ROOM = 14
#: Marks nearer than this share a box for the pointer.
TOGETHER = 8


@dataclass(frozen=True, slots=True)
class Lane:
    """A use with its thresholds, smallest first; its bar lies about `middle`."""

    name: str
    marks: tuple[LadderMark, ...]
    top: float
    middle: float


def add_lane(
    block: Block,
    name: str,
    marks: list[LadderMark],
    frame: Frame,
    contacts: list[LadderMark],
    spelled: bool,
) -> None:
    """Add the lane of one use to the foot of `block`; all its thresholds in words where it is `spelled` out."""
    ordered = tuple(sorted(marks, key=lambda mark: mark.value))
    title = frame.name(name, block.height + ABOVE + LINE / 2, bold=True)
    words = _told(ordered[:1], frame, title.y, palette.INK)
    lines = len(words[-1].lines)
    here = Lane(name, ordered, block.height, block.height + ABOVE + LINE * lines + 1 + BAR / 2)
    foot = here.middle + BAR / 2
    further = _told(ordered[1:], frame, foot + 3 + LINE / 2, palette.MUTED) if spelled else []
    edge = {"x": -frame.left + 6, "x2": frame.scale.width, "y": here.top, "y2": here.top}
    block.under += rules([edge], palette.GRID)
    block.words += [title, *words, *further]
    _headroom(block, here, frame, contacts)
    _bar(block, here, frame, contacts)
    block.tips += _tips(here, frame, contacts)
    block.height = max(foot, *(w.span()[1] for w in (title, *further))) + BELOW


def _told(marks: tuple[LadderMark, ...], frame: Frame, y: float, color: str) -> list[Words]:
    """The thresholds in words, a line or more each: from the first mark on, or as far right as there is room."""
    if not marks:
        return []
    values = [value_words(mark) for mark in marks]
    lead = max(text_width(value, palette.TEXT_SIZE, bold=True) for value in values) + 6
    wrapped = [
        tuple(wrap_pixels(mark.label, frame.scale.width - lead - SLACK, palette.TEXT_SIZE)) for mark in marks
    ]
    needed = SLACK + lead + max(text_width(line, palette.TEXT_SIZE) for lines in wrapped for line in lines)
    start = max(min(frame.scale.pixel(marks[0].value) - 4, frame.scale.width - needed), 0)
    words: list[Words] = []
    for value, lines in zip(values, wrapped, strict=True):
        words += [
            Words((value,), start, y, bold=True, color=color),
            Words(lines, start + lead, y, color=color),
        ]
        y += LINE * len(lines)
    return words


def _bar(block: Block, here: Lane, frame: Frame, contacts: list[LadderMark]) -> None:
    """The zones, with a head at the first threshold, a stroke at each further one, a diamond where there is hazard."""
    scale, y = frame.scale, here.middle
    top, bottom = y - BAR / 2, y + BAR / 2
    starts = [scale.pixel(mark.value) for mark in here.marks if scale.off_scale(mark.value) <= 0]
    for i, (start, end) in enumerate(pairwise([*starts, scale.width])):
        zone = palette.THRESHOLD_ZONES[min(i, len(palette.THRESHOLD_ZONES) - 1)]
        block.under += boxes([{"x": start, "x2": end, "y": top, "y2": bottom}], zone)
    first, *later = here.marks
    strokes: Rows = [
        {"x": scale.pixel(mark.value), "x2": scale.pixel(mark.value), "y": top, "y2": bottom}
        for mark in later
        if not scale.off_scale(mark.value)
    ]
    block.amid += rules(strokes, palette.THRESHOLD, 2)
    block.over += [
        *points(_on([first], False, here, frame), "triangle-right", palette.THRESHOLD, 95),
        *points(_on(here.marks, True, here, frame), "diamond", palette.FLAG, 100),
    ]
    ends = {scale.off_scale(mark.value): mark for mark in here.marks}
    arrows = [arrow for mark in ends.values() for arrow in beyond_arrow(mark, frame, y)]
    discs = tuple(frame.scale.pixel(mark.value) for mark in _reached(here, frame, contacts))
    block.words += [*_further(here, frame, discs), *arrows]


def _on(marks: Iterable[LadderMark], serious: bool, here: Lane, frame: Frame) -> Rows:
    """Where those `marks` on the scale stand that are a hazard, or those that are none."""
    return [
        {"x": frame.scale.pixel(mark.value), "y": here.middle}
        for mark in marks
        if mark.serious == serious and not frame.scale.off_scale(mark.value)
    ]


def _further(here: Lane, frame: Frame, discs: tuple[float, ...]) -> list[Words]:
    """A word at each threshold on the scale but the first of all, which is told above."""
    scale = frame.scale
    runs = [
        Run(scale.pixel(mark.value), scale.pixel(mark.value), (mark.harm or str(number),))
        for number, mark in enumerate(here.marks, start=1)
        if number > 1 and not scale.off_scale(mark.value)
    ]
    beyond = scale.off_scale(here.marks[-1].value) > 0
    free = scale.pixel(here.marks[0].value) + HEAD_ROOM
    return stroke_words(runs, free, scale.width - HEAD_ROOM * beyond, here.middle, discs)


def _reached(here: Lane, frame: Frame, contacts: list[LadderMark]) -> list[LadderMark]:
    """The contacts that stand on the bar."""
    first = here.marks[0].value
    return [c for c in contacts if c.value >= first and not frame.scale.off_scale(c.value)]


def _headroom(block: Block, here: Lane, frame: Frame, contacts: list[LadderMark]) -> None:
    """A disc for each contact on the bar; where there is none, how many times the largest one the bar begins."""
    first, y = here.marks[0].value, here.middle
    reached = _reached(here, frame, contacts)
    dots: Rows = [{"x": frame.scale.pixel(mark.value), "y": y} for mark in reached]
    block.amid += points(dots, "circle", palette.CONTACT, 80)
    largest = max((c.value for c in contacts), default=0.0)
    if reached or largest <= 0 or frame.scale.off_scale(first):
        return
    text = times_words(first / largest)
    start, end = frame.scale.pixel(largest) + 6, frame.scale.pixel(first) - 8
    left = end - text_width(text, SMALL)
    if left >= start:
        block.words.append(Words((text,), left, y, color=palette.MUTED, size=SMALL))
    if left - 5 > start + 4:
        block.amid += rules([{"x": start, "x2": left - 5, "y": y, "y2": y}], palette.MUTED, 1, (1, 3))


def _tips(here: Lane, frame: Frame, contacts: list[LadderMark]) -> Rows:
    """A box around each mark of the lane; marks too close to tell apart share one."""
    clusters: list[list[LadderMark]] = []
    for mark in here.marks:
        at = frame.scale.pixel(mark.value)
        if clusters and at - frame.scale.pixel(clusters[-1][-1].value) < TOGETHER:
            clusters[-1].append(mark)
        else:
            clusters.append([mark])
    ends = [(frame.scale.pixel(c[0].value), frame.scale.pixel(c[-1].value)) for c in clusters]
    rows: Rows = []
    for i, (cluster, (low, high)) in enumerate(zip(clusters, ends, strict=True)):
        left = low - REACH if i == 0 else max(low - REACH, (ends[i - 1][1] + low) / 2)
        right = high + REACH if i == len(ends) - 1 else min(high + REACH, (high + ends[i + 1][0]) / 2)
        lines = [here.name, *(tip_of(mark) for mark in cluster), _far(contacts, cluster[0])]
        tip = "\n".join(line for line in lines if line)
        box = tip_box(0.0, here.middle - REACH, here.middle + REACH, tip)
        rows.append({**box, "x": left, "x2": right})
    return rows


def _far(contacts: list[LadderMark], mark: LadderMark) -> str:
    words = far_words(contacts, mark)
    return f"{words[2:]} {OF_LARGEST}" if words.startswith("×") else words
