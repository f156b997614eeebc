"""Cards to choose from in a form."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

from ohmsworth.work.cards.log import fold_card
from ohmsworth.work.cards.said import AnyCard
from ohmsworth.work.records import CardKind, Records

#: A longer list is nobody's choice.
MOST = 500


class Choice(NamedTuple):
    """A card that can be chosen: its number, what a list shows, what it says, and its fields as typed."""

    card: int
    label: str
    said: AnyCard
    texts: Mapping[str, Any]

    def typed(self, key: str) -> str:
        """One field as typed."""
        return str(self.texts.get(key) or "")


def choices(records: Records, kind: CardKind) -> tuple[Choice, ...]:
    """Cards of a kind that are in use and can be read, by what a list shows of them."""
    found = []
    for card in records.cards(kind, state="open", most=MOST):
        state = fold_card(kind, records.lines(card.number))
        if state.said is not None:
            found.append(Choice(card.number, card.face.title, state.said, state.texts))
    return tuple(sorted(found, key=lambda one: (one.label.casefold(), one.card)))


def labels(records: Records, kind: CardKind) -> tuple[tuple[int, str], ...]:
    """The same without what the cards say, which is quicker."""
    cards = records.cards(kind, state="open", most=MOST)
    return tuple(
        sorted(((card.number, card.face.title) for card in cards), key=lambda one: one[1].casefold())
    )
