"""The list of built cables, and finding one in it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import Response

from ohmsworth.web.at_hand import shop_of
from ohmsworth.web.cables.frame import TONES, tone_of
from ohmsworth.web.pages import Page, show
from ohmsworth.work.builds.face import NOT_TESTED
from ohmsworth.work.records import Card

pages = APIRouter()
EACH = 50
STATES = (NOT_TESTED, *TONES)


@dataclass(frozen=True, kw_only=True)
class Cables(Page):
    """Cables, the last worked on first, each with the tone and the sign of its state."""

    template: ClassVar[str] = "cable_list.html.j2"
    place: ClassVar[str] = "Cables"

    cards: tuple[tuple[Card, str, str], ...]
    search: str
    state: str
    states: tuple[str, ...]
    count: int
    first: int
    each: int


@pages.get("/cables")
def cables(request: Request, search: str = "", state: str = "", first: int = 0) -> Response:
    """The list; `search` looks through names, serials, descriptions and notes."""
    records = shop_of(request).records
    wanted = state if state in STATES else None
    first = max(first, 0)
    cards = records.cards("cable", search=search[:200], state=wanted, first=first, most=EACH)
    page = Cables(
        title="Cables",
        cards=tuple((card, *tone_of(card.face.state)) for card in cards),
        search=search,
        state=wanted or "",
        states=STATES,
        count=records.count("cable", search=search[:200], state=wanted),
        first=first,
        each=EACH,
    )
    return show(request, page)
