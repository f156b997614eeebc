"""A paper of a cable to download."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import Response

from ohmsworth.web.cables.frame import CablePage, cable_desk, cable_frame
from ohmsworth.web.pages import show
from ohmsworth.web.papers.printed import (
    LabelKind,
    LabelShown,
    Printing,
    data_file,
    label_file,
    label_shown,
    page_file,
    paper_in,
)
from ohmsworth.work.papers.printing import LABEL_SIZE

pages = APIRouter(prefix="/cables/{cable}/papers")
_ON_LABEL = "name, serial, length, day of the test, result and number"


@dataclass(frozen=True, kw_only=True)
class LabelPage(CablePage):
    """A label as it will be."""

    template: ClassVar[str] = "cable_label.html.j2"

    label: LabelShown


@pages.get("/{number}.json")
def data(request: Request, cable: int, number: int) -> Response:
    """Its file, to the byte."""
    return data_file(_paper(request, cable, number))


@pages.get("/{number}.html")
def html(request: Request, cable: int, number: int) -> Response:
    """Its web page."""
    return page_file(request, _paper(request, cable, number), "html")


@pages.get("/{number}.pdf")
def pdf(request: Request, cable: int, number: int) -> Response:
    """Its PDF."""
    return page_file(request, _paper(request, cable, number), "pdf")


@pages.get("/{number}/label")
def label(request: Request, cable: int, number: int, size: str = LABEL_SIZE) -> Response:
    """How its label looks in a size."""
    paper = _paper(request, cable, number)
    shown = label_shown(request, paper, size, _ON_LABEL)
    desk = cable_desk(request)
    frame = cable_frame(desk, cable, desk.state(cable), "Papers")
    page = LabelPage(title=f"Label of {paper.kept.kind} {paper.kept.number}", cable=frame, label=shown)
    return show(request, page, 422 if shown.fault else 200)


@pages.get("/{number}/label.{kind}")
def label_in(request: Request, cable: int, number: int, kind: LabelKind, size: str = LABEL_SIZE) -> Response:
    """Its label for a printer (PDF), as a drawing (SVG) or as a picture (PNG)."""
    return label_file(request, _paper(request, cable, number), size, kind)


def _paper(request: Request, cable: int, number: int) -> Printing:
    """The paper in a line of the cable's log."""
    desk = cable_desk(request)
    return paper_in(request, desk.records, cable, desk.state(cable), number, f"/cables/{cable}/papers")
