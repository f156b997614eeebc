"""Steps to take, each with its cautions right below it."""

from __future__ import annotations

from collections.abc import Sequence

from ohmsworth.report.answer import ActionAnswer
from ohmsworth.report.document import Block, Bullets, Paragraph


def step_blocks(actions: Sequence[ActionAnswer]) -> tuple[Block, ...]:
    """The steps with their numbers and cautions."""
    blocks: list[Block] = []
    for number, action in enumerate(actions, start=1):
        blocks.append(Paragraph(f"{number}. {action.words} {action.why}"))
        if action.cautions:
            blocks.append(Bullets(action.cautions, tone="caution"))
    return tuple(blocks)
