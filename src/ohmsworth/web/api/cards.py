"""The other cards of the records over JSON."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Query, Request

from ohmsworth.web.api.forms import After, CardOut, LineOut, Most, Number, card_out, line_out
from ohmsworth.web.api.studies import REFUSALS
from ohmsworth.web.at_hand import shop_of
from ohmsworth.work.records import CardKind

pages = APIRouter(prefix="/api", tags=["cards"], responses=REFUSALS)


@pages.get("/cards")
def cards(
    request: Request,
    kind: CardKind | None = None,
    search: Annotated[str, Query(max_length=200)] = "",
    first: After = 0,
    most: Most = 100,
) -> list[CardOut]:
    """Cards of a kind or of all, the last touched first."""
    found = shop_of(request).records.cards(kind, search=search, first=first, most=most)
    return [card_out(card) for card in found]


@pages.get("/cards/{number}")
def one_card(request: Request, number: Number) -> CardOut:
    """One card."""
    return card_out(shop_of(request).records.card(number))


@pages.get("/cards/{number}/log")
def card_log(request: Request, number: Number, after: After = 0) -> list[LineOut]:
    """Everything that was ever said on it, from line `after` + 1 on."""
    return [line_out(line) for line in shop_of(request).records.lines(number, after)]
