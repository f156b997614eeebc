"""The list of studies, and finding one in it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import Response

from ohmsworth.web.at_hand import shop_of
from ohmsworth.web.pages import Page, show
from ohmsworth.work.records import Card

pages = APIRouter()
EACH = 50


@dataclass(frozen=True, kw_only=True)
class Studies(Page):
    """Studies, the last worked on first."""

    template: ClassVar[str] = "studies.html.j2"
    place: ClassVar[str] = "Studies"

    cards: tuple[Card, ...]
    search: str
    state: str
    count: int
    first: int
    each: int


@pages.get("/studies")
def studies(request: Request, search: str = "", state: str = "", first: int = 0) -> Response:
    """The list; `search` looks through questions, conditions, specimens and notes."""
    records = shop_of(request).records
    wanted = state if state in ("open", "closed") else None
    first = max(first, 0)
    cards = records.cards("study", search=search[:200], state=wanted, first=first, most=EACH)
    count = records.count("study", search=search[:200], state=wanted)
    return show(
        request,
        Studies(
            title="Studies",
            cards=cards,
            search=search,
            state=wanted or "",
            count=count,
            first=first,
            each=EACH,
        ),
    )
