"""Finding anything in the shop's records."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar
from urllib.parse import urlencode

from fastapi import APIRouter, Request
from fastapi.responses import Response

from ohmsworth.web.at_hand import shop_of
from ohmsworth.web.card_places import card_address, list_address, several_of
from ohmsworth.web.pages import Page, show
from ohmsworth.work.records import CARD_KINDS, Card

pages = APIRouter()
EACH = 8
MOST_WORDS, MOST_LETTERS = 20, 200


@dataclass(frozen=True, slots=True)
class Group:
    """What was found of one kind: the first few, and where the others stand."""

    words: str
    count: int
    cards: tuple[tuple[Card, str], ...]
    all_of_them: str


@dataclass(frozen=True, kw_only=True)
class Search(Page):
    """What was found, by kind."""

    template: ClassVar[str] = "search.html.j2"

    search: str
    groups: tuple[Group, ...]


def searched(text: str) -> str:
    """What is looked for: so many words as anybody types."""
    return " ".join(text[:MOST_LETTERS].split()[:MOST_WORDS])


@pages.get("/search")
def search(request: Request, q: str = "") -> Response:
    """Look through every card: each word has to stand somewhere on it."""
    words = searched(q)
    records = shop_of(request).records
    groups = []
    for kind in CARD_KINDS if words else ():
        cards = records.cards(kind, search=words, most=EACH)
        if cards:
            named = several_of(kind)
            address = f"{list_address(kind)}?{urlencode({'search': words, 'state': ''})}"
            pairs = tuple((card, card_address(card)) for card in cards)
            groups.append(Group(named.capitalize(), records.count(kind, search=words), pairs, address))
    return show(request, Search(title="Find", search=words, groups=tuple(groups)))
