"""What we know: a comparison that occurs in several studies of the shop, and what they say together."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import ClassVar
from urllib.parse import urlencode

from fastapi import APIRouter, Request
from fastapi.responses import Response
from markupsafe import Markup

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.report.answer import as_json
from ohmsworth.report.care.ageing_answer import WAYS
from ohmsworth.report.document import Document
from ohmsworth.report.particulars import dated
from ohmsworth.web.at_hand import desk_of, shop_of
from ohmsworth.web.drawing import drawing_of, picture_answer, report_fragment, to_keep
from ohmsworth.web.pages import Page, show
from ohmsworth.work.care.known_records import KnownInRecords, comparisons_kept, known_in_records
from ohmsworth.work.shop_settings import read_settings, signed

pages = APIRouter(prefix="/studies/known")
_PLACE = "/studies/known"


@dataclass(frozen=True, slots=True)
class Choice:
    """A comparison that can be chosen."""

    of: str
    against: str
    studies: int
    address: str
    chosen: bool


@dataclass(frozen=True, kw_only=True)
class WhatWeKnow(Page):
    """The comparisons, and what is told of the chosen one; `query` is what names it in an address; `ways` lead to ageing."""

    template: ClassVar[str] = "known.html.j2"
    place: ClassVar[str] = "Studies"

    choices: tuple[Choice, ...]
    ways: tuple[tuple[str, str], ...]
    told: bool
    report: Markup
    faults: tuple[Fault, ...]
    left_out: tuple[tuple[int, str], ...]
    query: str


@pages.get("")
def known(request: Request, of: str = "", against: str = "") -> Response:
    """The comparisons of the shop, and what its studies say of the one that is named."""
    report, faults, left_out = Markup(), tuple[Fault, ...](), tuple[tuple[int, str], ...]()
    told = bool(of and against)
    if told:
        try:
            found = _found(request, of, against)
        except InputRefused as refused:
            faults = refused.faults
        else:
            left_out = found.left_out
            query = _query(of, against)
            report = report_fragment(
                request, found.told.report, lambda name: f"{_PLACE}/pictures/{name}?{query}"
            )
    page = WhatWeKnow(
        title=f"What we know of {of} against {against}" if told else "What we know",
        choices=tuple(
            Choice(
                one.of,
                one.against,
                len(one.studies),
                f"{_PLACE}?{_query(one.of, one.against)}",
                (one.of, one.against) == (of, against),
            )
            for one in comparisons_kept(desk_of(request), shop_of(request).records)
        ),
        ways=tuple((way, f"{_PLACE}/ageing?{urlencode({'by': way})}") for way in WAYS),
        told=told,
        report=report,
        faults=faults,
        left_out=left_out,
        query=_query(of, against) if told else "",
    )
    return show(request, page, 422 if faults else 200)


def _query(of: str, against: str) -> str:
    return urlencode({"of": of, "against": against})


def _found(request: Request, of: str, against: str) -> KnownInRecords:
    return known_in_records(desk_of(request), shop_of(request).records, of, against)


def _handed_over(request: Request, of: str, against: str) -> Document:
    """The report of today in the shop's name."""
    shop = shop_of(request)
    report = _found(request, of, against).told.report
    return signed(dated(report, shop.clock().astimezone().date()), read_settings(shop.records))


@pages.get("/pictures/{name}")
def picture(request: Request, name: str, of: str, against: str) -> Response:
    """A picture of the report, or its numbers."""
    return picture_answer(request, _found(request, of, against).told.report, name)


@pages.get("/report.pdf")
def pdf(request: Request, of: str, against: str) -> Response:
    """The report as a PDF."""
    content = drawing_of(request).pdf(_handed_over(request, of, against), shop_of(request).clock())
    return to_keep(content, "application/pdf", "known.pdf")


@pages.get("/answer.json")
def data(request: Request, of: str, against: str) -> Response:
    """The answer as data."""
    told = as_json(_found(request, of, against).told.answer)
    text = json.dumps(told, ensure_ascii=False, indent=2, allow_nan=False)
    return to_keep(text, "application/json", "known.json")
