"""The part of the ladder that shows where each use begins to suffer."""

from __future__ import annotations

from ohmsworth.adapters.render import palette
from ohmsworth.adapters.render.ladder_frame import Block, Frame, Words, by_use, heading_height
from ohmsworth.adapters.render.ladder_lanes import add_lane
from ohmsworth.adapters.render.ladder_words import OF_LARGEST
from ohmsworth.adapters.render.layers import points
from ohmsworth.adapters.render.measure import text_width
from ohmsworth.report.document import LadderMark

HEADING, HAZARD, TIMES = "Where each use begins to suffer", "hazard", f"×: {OF_LARGEST}"
#: So many thresholds are all told in words; of more, only the first of each use.
MOST_SPELLED = 12


def uses(marks: list[LadderMark], frame: Frame, top: float, contacts: list[LadderMark]) -> Block:
    """A lane for each use, the one that suffers first on top."""
    block = Block(top)
    if not marks:
        return block
    heading = frame.heading(HEADING, top)
    block.words.append(heading)
    _key(block, frame, any(mark.serious for mark in marks), bool(contacts))
    block.height += heading_height(heading)
    for name, members in by_use(marks).items():
        add_lane(block, name, members, frame, contacts, spelled=len(marks) <= MOST_SPELLED)
    return block


def _key(block: Block, frame: Frame, serious: bool, measured: bool) -> None:
    """What the diamond and the number of times mean, right of the heading."""
    y, end = block.words[-1].y, frame.scale.width
    if measured:
        block.words.append(Words((TIMES,), end, y, "right", color=palette.MUTED))
        end -= text_width(TIMES, palette.TEXT_SIZE) + 22
    if serious:
        block.words.append(Words((HAZARD,), end, y, "right", color=palette.MUTED))
        at = end - text_width(HAZARD, palette.TEXT_SIZE) - 10
        block.over += points([{"x": at, "y": y}], "diamond", palette.FLAG, 100)
