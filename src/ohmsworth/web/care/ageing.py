"""How contacts age, by what is chosen, over everything in the records."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar
from urllib.parse import urlencode

from fastapi import APIRouter, Request
from fastapi.responses import Response
from markupsafe import Markup
from starlette.exceptions import HTTPException

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.report.answer import as_json
from ohmsworth.report.care.ageing_answer import WAYS, By, Chosen
from ohmsworth.report.particulars import dated
from ohmsworth.web.at_hand import shop_of
from ohmsworth.web.drawing import drawing_of, picture_answer, report_fragment, to_keep
from ohmsworth.web.pages import Page, show
from ohmsworth.work.care.ageing import ToldAgeing, levels_kept, report_ageing
from ohmsworth.work.shop_settings import read_settings, signed

pages = APIRouter(prefix="/studies/known/ageing")
_PLACE = "/studies/known/ageing"
#: Studies that are looked through anew for one page: some seconds.
MOST_ANEW = 100
_LONGEST = 120


@dataclass(frozen=True, slots=True)
class OnlyField:
    """A choice of what contacts must have in common; `value` is what is chosen."""

    what: By
    name: str
    values: tuple[str, ...]
    value: str


@dataclass(frozen=True, kw_only=True)
class HowContactsAge(Page):
    """The choice, and what is told; `query` is what names it in an address."""

    template: ClassVar[str] = "ageing.html.j2"
    place: ClassVar[str] = "Studies"

    by: By
    ways: tuple[By, ...]
    only: tuple[OnlyField, ...]
    told: bool
    report: Markup
    faults: tuple[Fault, ...]
    query: str


@pages.get("")
def ageing(request: Request, by: str = "part") -> Response:
    """How contacts age, and the form that chooses by what."""
    way, only = _way(by), _only(request)
    query = _query(way, only)
    report, faults = Markup(), tuple[Fault, ...]()
    kept: Mapping[By, tuple[str, ...]]
    try:
        told = _told(request, way, only)
    except InputRefused as refused:
        faults, kept = refused.faults, levels_kept(shop_of(request).records)
    else:
        kept = told.kept
        report = report_fragment(request, told.report, lambda name: f"{_PLACE}/pictures/{name}?{query}")
    chosen = {one.what: one.value for one in only}
    page = HowContactsAge(
        title=f"How contacts age, by {way}",
        by=way,
        ways=WAYS,
        only=tuple(
            OnlyField(what, _name(what), kept[what], chosen.get(what, "")) for what in WAYS if kept[what]
        ),
        told=not faults,
        report=report,
        faults=faults,
        query=query,
    )
    return show(request, page, 422 if faults else 200)


def _way(by: str) -> By:
    way = next((one for one in WAYS if one == by), None)
    if way is None:
        raise HTTPException(404)
    return way


def _name(what: By) -> str:
    """The name of its field, which an address holds without a blank."""
    return f"only.{what.replace(' ', '-')}"


def _only(request: Request) -> tuple[Chosen, ...]:
    given = request.query_params
    texts = {what: given.get(_name(what), "").strip()[:_LONGEST] for what in WAYS}
    return tuple(Chosen(what, text) for what, text in texts.items() if text)


def _query(by: By, only: tuple[Chosen, ...]) -> str:
    return urlencode({"by": by, **{_name(one.what): one.value for one in only}})


def _told(request: Request, by: By, only: tuple[Chosen, ...]) -> ToldAgeing:
    return report_ageing(shop_of(request).records, by, only, MOST_ANEW)


@pages.get("/pictures/{name}")
def picture(request: Request, name: str, by: str) -> Response:
    """A picture of the report, or its numbers."""
    return picture_answer(request, _told(request, _way(by), _only(request)).report, name)


@pages.get("/report.pdf")
def pdf(request: Request, by: str) -> Response:
    """The report of today as a PDF, in the shop's name."""
    shop = shop_of(request)
    told = _told(request, _way(by), _only(request)).report
    whole = signed(dated(told, shop.clock().astimezone().date()), read_settings(shop.records))
    return to_keep(drawing_of(request).pdf(whole, shop.clock()), "application/pdf", "ageing.pdf")


@pages.get("/answer.json")
def data(request: Request, by: str) -> Response:
    """The answer as data."""
    told = as_json(_told(request, _way(by), _only(request)).answer)
    text = json.dumps(told, ensure_ascii=False, indent=2, allow_nan=False)
    return to_keep(text, "application/json", "ageing.json")
