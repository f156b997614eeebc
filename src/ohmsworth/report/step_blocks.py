"""Steps to take, each with its cautions right below it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ohmsworth.report.answer import ActionAnswer
from ohmsworth.report.document import Block, Bullets


def step_blocks(
    actions: Sequence[ActionAnswer], *, once: bool = False, most: int | None = None, told: Iterable[str] = ()
) -> tuple[Block, ...]:
    """The steps with their numbers and cautions.

    Parameters
    ----------
    actions
        The steps.
    once
        Whether a caution stands below the first step alone that needs it: for a page without room.
    most
        Steps that are shown at most, and then how many more there are; None for all.
    told
        Cautions that stand above the steps already; `once` counts them.
    """
    shown = actions[:most]
    blocks: list[Block] = []
    waiting: list[str] = []
    seen = set(told)
    for number, action in enumerate(shown, start=1):
        waiting.append(f"{action.words} {action.why}".strip())
        cautions = tuple(one for one in dict.fromkeys(action.cautions) if not (once and one in seen))
        seen.update(cautions)
        if cautions:
            blocks.append(Bullets(tuple(waiting), numbered=True, first=number - len(waiting) + 1))
            blocks.append(Bullets(cautions, tone="caution"))
            waiting = []
    if len(actions) > len(shown):
        waiting.append(f"{len(actions) - len(shown)} more stand in the answer's data (JSON).")
    if waiting:
        first = len(shown) + (len(actions) > len(shown)) - len(waiting) + 1
        blocks.append(Bullets(tuple(waiting), numbered=True, first=first))
    return tuple(blocks)
