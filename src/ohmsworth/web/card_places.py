"""Where each kind of card is found: its place in the navigation, its list, its page."""

from __future__ import annotations

from dataclasses import dataclass

from ohmsworth.web.pages import Place
from ohmsworth.work.cards.kinds import KINDS, Kind
from ohmsworth.work.records import Card, CardKind

#: Kinds that are turned to from one another.
TOGETHER: tuple[tuple[str, tuple[CardKind, ...]], ...] = (
    ("Specimens", ("specimen",)),
    ("Meters", ("meter", "check standard")),
    ("People & jobs", ("job", "customer", "person", "limit")),
)


@dataclass(frozen=True, slots=True)
class KindPlace:
    """A kind of card with its address and the kinds beside it."""

    kind: Kind
    place: str
    address: str
    turns: tuple[Place, ...]


def kind_place(kind: CardKind) -> KindPlace:
    """The place of a kind."""
    place, kinds = next(pair for pair in TOGETHER if kind in pair[1])
    turns = tuple(Place(KINDS[k].several.capitalize(), list_address(k), k == kind) for k in kinds)
    if place == "Meters":
        turns = (*turns, Place("On this bench", "/meters/live"))
    return KindPlace(KINDS[kind], place, list_address(kind), turns if len(turns) > 1 else ())


#: Kinds with pages of their own: their words, and where they are listed.
OWN_PAGES: dict[CardKind, tuple[str, str]] = {
    "study": ("studies", "/studies"),
    "specimen": ("specimens", "/specimens"),
    "cable": ("built cables", "/cables"),
    "workshop": ("reels and prices", "/cables/reels"),
}


def several_of(kind: CardKind) -> str:
    """The word for many of a kind."""
    return OWN_PAGES[kind][0] if kind in OWN_PAGES else KINDS[kind].several


def list_address(kind: CardKind) -> str:
    """The page that lists a kind."""
    return OWN_PAGES[kind][1] if kind in OWN_PAGES else f"/{KINDS[kind].slug}"


def card_address(card: Card) -> str:
    """The page of a card."""
    return address_of(card.kind, card.number)


def address_of(kind: CardKind, number: int) -> str:
    """The page of card `number`; the lists of the workshop are one card, and their page is that of their kind."""
    if kind == "workshop":
        return OWN_PAGES[kind][1]
    return f"{OWN_PAGES[kind][1] if kind in OWN_PAGES else '/cards'}/{number}"
