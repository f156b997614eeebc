"""A paper of a cable to download."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import Response

from ohmsworth.web.cables.frame import CablePage, cable_desk, cable_frame
from ohmsworth.web.pages import show
from ohmsworth.web.papers.files import add_files
from ohmsworth.web.papers.printed import LabelShown, Printing, label_shown, paper_in
from ohmsworth.work.papers.printing import LABEL_SIZE

pages = APIRouter(prefix="/cables/{card}/papers")
_ON_LABEL = "name, serial, length, day of the test, result and number"


@dataclass(frozen=True, kw_only=True)
class LabelPage(CablePage):
    """A label as it will be."""

    template: ClassVar[str] = "cable_label.html.j2"

    label: LabelShown


@pages.get("/{number}/label")
def label(request: Request, card: int, number: int, size: str = LABEL_SIZE) -> Response:
    """How its label looks in a size."""
    paper = _paper(request, card, number)
    shown = label_shown(request, paper, size, _ON_LABEL)
    desk = cable_desk(request)
    frame = cable_frame(desk, card, desk.state(card), "Papers")
    page = LabelPage(title=f"Label of {paper.kept.kind} {paper.kept.number}", cable=frame, label=shown)
    return show(request, page, 422 if shown.fault else 200)


def _paper(request: Request, card: int, number: int) -> Printing:
    """The paper in a line of the cable's log."""
    desk = cable_desk(request)
    return paper_in(request, desk.records, card, desk.state(card), number, f"/cables/{card}/papers")


add_files(pages, _paper)
