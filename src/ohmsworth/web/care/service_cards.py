"""The service card of a specimen and of a cable: looked at in the page, as a PDF, and as a page by itself."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import Response
from markupsafe import Markup

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.materials import ENVIRONMENTS
from ohmsworth.report.document import Document
from ohmsworth.web.at_hand import desk_of, shop_of
from ohmsworth.web.cables.frame import CablePage, cable_desk, cable_frame
from ohmsworth.web.drawing import drawing_of, picture_answer, report_fragment, to_keep
from ohmsworth.web.pages import Page, show
from ohmsworth.work.service.cable_card import cable_paper
from ohmsworth.work.service.specimen_card import specimen_paper

pages = APIRouter()
_SPECIMEN, _CABLE = "/specimens/{number}/service-card", "/cables/{cable}/service-card"


@dataclass(frozen=True, kw_only=True)
class SpecimenServiceCard(Page):
    """The card below the choice of the air that the specimen is kept in; `faults` where nothing can be told."""

    template: ClassVar[str] = "specimen_service_card.html.j2"
    place: ClassVar[str] = "Specimens"

    number: int
    name: str
    air: str
    airs: tuple[tuple[str, str], ...]
    report: Markup
    faults: tuple[Fault, ...]


@dataclass(frozen=True, kw_only=True)
class CableServiceCard(CablePage):
    """The card; `faults` where nothing can be told."""

    template: ClassVar[str] = "cable_service_card.html.j2"

    report: Markup
    faults: tuple[Fault, ...]


@pages.get(_SPECIMEN)
def of_specimen(request: Request, number: int, air: str = "") -> Response:
    """How the card of a specimen looks."""
    name = shop_of(request).records.card(number).face.title
    drawn, faults = Markup(), tuple[Fault, ...]()
    try:
        drawn = report_fragment(
            request,
            _specimen(request, number, air),
            lambda picture: f"/specimens/{number}/service-card/pictures/{picture}",
        )
    except InputRefused as refused:
        faults = refused.faults
    page = SpecimenServiceCard(
        title=f"Service card: {name}",
        number=number,
        name=name,
        air=air,
        airs=tuple((one, f"{one}, {known.words}") for one, known in ENVIRONMENTS.items()),
        report=drawn,
        faults=faults,
    )
    return show(request, page, 422 if faults else 200)


@pages.get(f"{_SPECIMEN}.pdf")
def specimen_pdf(request: Request, number: int, air: str = "") -> Response:
    """The card of a specimen as a PDF."""
    return _pdf(request, _specimen(request, number, air), f"service-card-{number}")


@pages.get(f"{_SPECIMEN}.html")
def specimen_html(request: Request, number: int, air: str = "") -> Response:
    """The card of a specimen as one page that needs nothing else."""
    return _html(request, _specimen(request, number, air), f"service-card-{number}")


@pages.get(f"{_SPECIMEN}/pictures/{{name}}")
def specimen_picture(request: Request, number: int, name: str) -> Response:
    """The code of its serial as a file."""
    return picture_answer(request, _specimen(request, number, ""), name)


@pages.get(_CABLE)
def of_cable(request: Request, cable: int) -> Response:
    """How the card of a cable looks."""
    desk = cable_desk(request)
    frame = cable_frame(desk, cable, desk.state(cable), "Service card")
    drawn, faults = Markup(), tuple[Fault, ...]()
    try:
        drawn = report_fragment(
            request,
            _cable(request, cable),
            lambda picture: f"/cables/{cable}/service-card/pictures/{picture}",
        )
    except InputRefused as refused:
        faults = refused.faults
    page = CableServiceCard(title=f"Service card: {frame.name}", cable=frame, report=drawn, faults=faults)
    return show(request, page)


@pages.get(f"{_CABLE}.pdf")
def cable_pdf(request: Request, cable: int) -> Response:
    """The card of a cable as a PDF."""
    return _pdf(request, _cable(request, cable), f"service-card-{cable}")


@pages.get(f"{_CABLE}.html")
def cable_html(request: Request, cable: int) -> Response:
    """The card of a cable as one page that needs nothing else."""
    return _html(request, _cable(request, cable), f"service-card-{cable}")


@pages.get(f"{_CABLE}/pictures/{{name}}")
def cable_picture(request: Request, cable: int, name: str) -> Response:
    """The code of its serial as a file."""
    return picture_answer(request, _cable(request, cable), name)


def _specimen(request: Request, number: int, air: str) -> Document:
    return specimen_paper(desk_of(request), shop_of(request), number, air)


def _cable(request: Request, cable: int) -> Document:
    return cable_paper(cable_desk(request), shop_of(request), cable)


def _pdf(request: Request, document: Document, name: str) -> Response:
    content = drawing_of(request).pdf(document, shop_of(request).clock())
    return to_keep(content, "application/pdf", f"{name}.pdf")


def _html(request: Request, document: Document, name: str) -> Response:
    return to_keep(drawing_of(request).html(document), "text/html; charset=utf-8", f"{name}.html")
