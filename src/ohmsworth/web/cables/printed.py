"""A paper of a cable to download: its data, its pages and its label, drawn from what was kept."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import Response

from ohmsworth.errors import InputRefused
from ohmsworth.web.cables.frame import CablePage, cable_desk, cable_frame, papers_at
from ohmsworth.web.cables.papers import plain_name
from ohmsworth.web.drawing import to_keep
from ohmsworth.web.filters import fault_words
from ohmsworth.web.pages import show
from ohmsworth.work.builds.papers.issuing import kept_paper
from ohmsworth.work.builds.papers.kept import KeptPaper, papers_of
from ohmsworth.work.papers.ports import Form, FoundPaper
from ohmsworth.work.papers.printing import LABEL_SIZE, label_size, printed_label, printed_page
from ohmsworth.work.records import NoSuchCard

pages = APIRouter(prefix="/cables/{cable}/papers")
_HTML, _PDF, _SVG, _PNG = "text/html; charset=utf-8", "application/pdf", "image/svg+xml", "image/png"


@dataclass(frozen=True, kw_only=True)
class LabelPage(CablePage):
    """A label as it will be, with what is to be told about it; `fault` where it cannot be of that size."""

    template: ClassVar[str] = "cable_label.html.j2"

    paper: KeptPaper
    size: str
    told: str
    fault: str


@pages.get("/{number}.json")
def data(request: Request, cable: int, number: int) -> Response:
    """Its file, to the byte."""
    kept, found = _paper(request, cable, number)
    return to_keep(found.content, "application/json", plain_name(f"certificate-{kept.number}.json"))


@pages.get("/{number}.html")
def html(request: Request, cable: int, number: int) -> Response:
    """Its web page."""
    return _drawn(request, cable, number, "html")


@pages.get("/{number}.pdf")
def pdf(request: Request, cable: int, number: int) -> Response:
    """Its PDF."""
    return _drawn(request, cable, number, "pdf")


def _drawn(request: Request, cable: int, number: int, form: Form) -> Response:
    kept, found = _paper(request, cable, number)
    content = printed_page(found, form, papers_at(request).verifying().draw_page)
    name = plain_name(f"certificate-{kept.number}.{form}")
    return to_keep(content, _PDF if form == "pdf" else _HTML, name)


@pages.get("/{number}/label")
def label(request: Request, cable: int, number: int, size: str = LABEL_SIZE) -> Response:
    """How its label looks in a size."""
    kept, found = _paper(request, cable, number)
    told = fault = ""
    try:
        wanted = label_size(size, "the size")
        told = printed_label(found, wanted, "png", papers_at(request).draw_label)[1]
    except InputRefused as refused:
        fault = " ".join(map(fault_words, refused.faults))
    desk = cable_desk(request)
    frame = cable_frame(desk, cable, desk.state(cable), "Papers")
    page = LabelPage(
        title=f"Label of {kept.kind} {kept.number}",
        cable=frame,
        paper=kept,
        size=size,
        told=told,
        fault=fault,
    )
    return show(request, page, 422 if fault else 200)


@pages.get("/{number}/label.pdf")
def label_pdf(request: Request, cable: int, number: int, size: str = LABEL_SIZE) -> Response:
    """Its label for a printer."""
    return _label(request, (cable, number), size, ("pdf", _PDF))


@pages.get("/{number}/label.svg")
def label_svg(request: Request, cable: int, number: int, size: str = LABEL_SIZE) -> Response:
    """Its label as a drawing."""
    return _label(request, (cable, number), size, ("svg", _SVG))


@pages.get("/{number}/label.png")
def label_png(request: Request, cable: int, number: int, size: str = LABEL_SIZE) -> Response:
    """Its label as a picture."""
    return _label(request, (cable, number), size, ("png", _PNG))


def _label(request: Request, which: tuple[int, int], size: str, kind: tuple[str, str]) -> Response:
    kept, found = _paper(request, *which)
    wanted = label_size(size, "the size of the label")
    content, _ = printed_label(found, wanted, kind[0], papers_at(request).draw_label)
    return to_keep(content, kind[1], plain_name(f"label-{kept.number}.{kind[0]}"))


def _paper(request: Request, cable: int, number: int) -> tuple[KeptPaper, FoundPaper]:
    """The paper in a line of the cable's log."""
    desk = cable_desk(request)
    kept = next((one for one in papers_of(desk.state(cable)) if one.line == number), None)
    if kept is None:
        raise NoSuchCard(f"Line {number} of cable {cable} is no paper.")
    return kept, kept_paper(desk, papers_at(request), cable, kept)
