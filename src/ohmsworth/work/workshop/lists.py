"""The workshop's lists in the records: one card whose log holds every text that reels.csv and prices.toml ever had.

Nothing is written over: the last text counts, and those before it stand in the log with who wrote them, when and why.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from ohmsworth.work.records import Face, Line, Records
from ohmsworth.work.workshop_ports import PRICES, REELS

ListName = Literal["reels", "prices"]
#: Kinds of the lines, and the files that their texts are.
WRITTEN: dict[ListName, str] = {"reels": "reels written", "prices": "prices written"}
FILES: dict[ListName, str] = {"reels": REELS, "prices": PRICES}
OPENED = "lists opened"
#: By this key the one card is known wherever it goes: who writes first opens it, and nobody a second time.
KEY = "the-lists-of-the-workshop"
TITLE = "Reels and prices"


@dataclass(frozen=True, slots=True)
class KeptList:
    """A list as it stands: its text, "" for none; the line that wrote it, 0 for none; and all such lines."""

    text: str = ""
    written: int = 0
    lines: tuple[Line, ...] = ()


@dataclass(frozen=True, slots=True)
class WorkshopLists:
    """The reels in stock and the prices, after line `last` of their card."""

    reels: KeptList = KeptList()
    prices: KeptList = KeptList()
    last: int = 0

    def named(self, name: ListName) -> KeptList:
        """One of the two."""
        return self.reels if name == "reels" else self.prices


def fold_lists(lines: Iterable[Line], before: WorkshopLists | None = None) -> WorkshopLists:
    """Read the log, or go on from what it said `before`."""
    lists = before or WorkshopLists()
    for line in lines:
        lists = replace(lists, last=line.number)
        for name, kind in WRITTEN.items():
            if line.kind == kind:
                text = str(line.fields.get("text", ""))
                kept = KeptList(text, line.number, (*lists.named(name).lines, line))
                lists = replace(lists, reels=kept) if name == "reels" else replace(lists, prices=kept)
    return lists


def lists_face(lines: Sequence[Line]) -> Face:
    """What a search finds: the names of wires and parts."""
    lists = fold_lists(lines)
    return Face(TITLE, "kept", f"{lists.reels.text}\n{lists.prices.text}")


def read_lists(records: Records, before: WorkshopLists | None = None) -> WorkshopLists:
    """What the records hold; of the log only what was added since `before`."""
    card = records.card_of(KEY)
    if card is None:
        return WorkshopLists()
    return fold_lists(records.lines(card, before.last if before else 0), before)
