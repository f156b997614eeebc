"""A specimen's page: its card, and what its contacts were over the years."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import Response
from markupsafe import Markup
from starlette.exceptions import HTTPException

from ohmsworth.errors import Fault
from ohmsworth.web.at_hand import desk_of, go_to, shop_of
from ohmsworth.web.card_page import CardPage, card_context, card_page
from ohmsworth.web.card_places import card_address
from ohmsworth.web.drawing import picture_answer, report_fragment
from ohmsworth.web.pages import show
from ohmsworth.web.years import Years, draw_years, sign_of
from ohmsworth.work.cards.said import LimitCard, SpecimenCard
from ohmsworth.work.cards.specimen_history import InStudy, Spell, specimen_history, spells
from ohmsworth.work.cards.writing import read_card
from ohmsworth.work.care.specimen_trend import SpecimenTrend, specimen_trend
from ohmsworth.work.records import Card, NoSuchCard

pages = APIRouter()
SCALES = ("log", "linear")


@dataclass(frozen=True, kw_only=True)
class SpecimenPage(CardPage):
    """The card with its history over all studies."""

    template: ClassVar[str] = "specimen.html.j2"

    studies: tuple[InStudy, ...]
    spells: tuple[Spell, ...]
    signs: Mapping[int, str]
    years: Years | None
    scale: str
    limit: float | None
    limit_name: str
    trend: Markup


@pages.get("/specimens/{number}")
def specimen(request: Request, number: int, scale: str = "log") -> Response:
    """The page of a specimen; another card's number leads to that card."""
    found = shop_of(request).records.card(number)
    if found.kind != "specimen":
        return go_to(card_address(found))
    return show(request, specimen_page(request, found, scale=scale))


def page_of(
    request: Request, card: Card, sent: str, given: Mapping[str, Any], faults: Sequence[Fault]
) -> CardPage:
    """The page of any card, with the form `sent` on it that cannot be used as it was `given`."""
    if card.kind == "specimen":
        return specimen_page(request, card, sent, given, faults)
    return card_page(request, card, sent, given, faults)


def specimen_page(
    request: Request,
    card: Card,
    sent: str = "",
    given: Mapping[str, Any] | None = None,
    faults: Sequence[Fault] = (),
    scale: str = "log",
) -> SpecimenPage:
    """The page of a specimen."""
    records = shop_of(request).records
    studies = specimen_history(records, card.number, desk_of(request).state)
    limit, name = limit_of(request, card.number)
    shown = scale if scale in SCALES else "log"
    trend, pictures = _trend(request, studies, limit), f"/specimens/{card.number}/pictures"
    return SpecimenPage(
        **card_context(request, card, sent, given or {}, faults),
        studies=studies,
        spells=spells(studies),
        signs={one.study: sign_of(place) for place, one in enumerate(studies)},
        years=draw_years(studies, limit, logarithmic=shown == "log"),
        scale=shown,
        limit=limit,
        limit_name=name,
        trend=Markup()
        if trend is None
        else report_fragment(
            request, trend.document, lambda picture: f"{pictures}/{picture}", anchors=("trend",)
        ),
    )


def _trend(request: Request, studies: Sequence[InStudy], limit: float | None) -> SpecimenTrend | None:
    return specimen_trend(studies, limit, shop_of(request).clock().astimezone().date())


@pages.get("/specimens/{number}/pictures/{name}")
def picture(request: Request, number: int, name: str) -> Response:
    """The picture of its trend, or the numbers of it."""
    studies = specimen_history(shop_of(request).records, number, desk_of(request).state)
    trend = _trend(request, studies, limit_of(request, number)[0])
    if trend is None:
        raise HTTPException(404)
    return picture_answer(request, trend.document, name)


def limit_of(request: Request, number: int) -> tuple[float | None, str]:
    """The resistance (ohm) and the name of the limit that the specimen's card names."""
    records = shop_of(request).records
    said = read_card(records, number).said
    if not isinstance(said, SpecimenCard) or said.limit is None:
        return None, ""
    try:
        limit = read_card(records, said.limit).said
    except NoSuchCard:
        return None, ""
    return (limit.resistance, limit.name) if isinstance(limit, LimitCard) else (None, "")
