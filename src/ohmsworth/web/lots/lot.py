"""The lot of a study: the plan of its sample, the verdict once pieces were read, and the files that are handed over."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import Response
from markupsafe import Markup

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.report.answer import as_json
from ohmsworth.report.particulars import dated
from ohmsworth.web.at_hand import desk_of, shop_of, study_state
from ohmsworth.web.drawing import drawing_of, picture_answer, report_fragment, to_keep
from ohmsworth.web.pages import show
from ohmsworth.web.study_frame import StudyPage, readings_of, study_frame
from ohmsworth.work.lots.told import lot_answer, lot_document
from ohmsworth.work.shop_settings import read_settings, signed

if TYPE_CHECKING:
    from ohmsworth.report.document import Document

pages = APIRouter(prefix="/studies/{study}/lot")


@dataclass(frozen=True, kw_only=True)
class LotPage(StudyPage):
    """The report inside the page; `faults` where nothing can be told yet."""

    template: ClassVar[str] = "study_lot.html.j2"

    report: Markup
    faults: tuple[Fault, ...]


@pages.get("")
def lot(request: Request, study: int) -> Response:
    """How many pieces to draw and what decides, or the verdict."""
    state = study_state(request, study)
    drawn, faults = Markup(), tuple[Fault, ...]()
    try:
        document = lot_document(desk_of(request), study, state)
        drawn = report_fragment(
            request,
            document,
            lambda name: f"/studies/{study}/lot/pictures/{name}",
            reading_at=readings_of(study, state),
        )
    except InputRefused as refused:
        faults = refused.faults
    page = LotPage(
        title=f"Lot of study {study}",
        study=study_frame(study, state, "Lot"),
        report=drawn,
        faults=faults,
    )
    return show(request, page)


def _document(request: Request, study: int) -> Document:
    return lot_document(desk_of(request), study, study_state(request, study))


def _handed_over(request: Request, study: int) -> Document:
    """The report of today in the shop's name."""
    shop = shop_of(request)
    day = shop.clock().astimezone().date()
    return signed(dated(_document(request, study), day), read_settings(shop.records))


@pages.get("/pictures/{name}")
def picture(request: Request, study: int, name: str) -> Response:
    """A picture of the report, or its numbers."""
    return picture_answer(request, _document(request, study), name)


@pages.get("/report.pdf")
def pdf(request: Request, study: int) -> Response:
    """The report as a PDF."""
    content = drawing_of(request).pdf(_handed_over(request, study), shop_of(request).clock())
    return to_keep(content, "application/pdf", f"lot-{study}.pdf")


@pages.get("/report.html")
def html(request: Request, study: int) -> Response:
    """The report as one page that needs nothing else."""
    content = drawing_of(request).html(_handed_over(request, study))
    return to_keep(content, "text/html; charset=utf-8", f"lot-{study}.html")


@pages.get("/answer.json")
def data(request: Request, study: int) -> Response:
    """The answer as data."""
    told = as_json(lot_answer(desk_of(request), study, study_state(request, study)))
    text = json.dumps(told, ensure_ascii=False, indent=2, allow_nan=False)
    return to_keep(text, "application/json", f"lot-{study}.json")
