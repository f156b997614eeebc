"""A paper of a lot to download."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import Response

from ohmsworth.web.at_hand import shop_of, study_state
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
from ohmsworth.web.study_frame import StudyPage, study_frame
from ohmsworth.work.papers.printing import LABEL_SIZE

pages = APIRouter(prefix="/studies/{study}/papers")
_ON_LABEL = "name and number of the lot, pieces, day of the test, result and number of the paper"


@dataclass(frozen=True, kw_only=True)
class LotLabel(StudyPage):
    """A label as it will be."""

    template: ClassVar[str] = "study_label.html.j2"

    label: LabelShown


@pages.get("/{number}.json")
def data(request: Request, study: int, number: int) -> Response:
    """Its file, to the byte."""
    return data_file(_paper(request, study, number))


@pages.get("/{number}.html")
def html(request: Request, study: int, number: int) -> Response:
    """Its web page."""
    return page_file(request, _paper(request, study, number), "html")


@pages.get("/{number}.pdf")
def pdf(request: Request, study: int, number: int) -> Response:
    """Its PDF."""
    return page_file(request, _paper(request, study, number), "pdf")


@pages.get("/{number}/label")
def label(request: Request, study: int, number: int, size: str = LABEL_SIZE) -> Response:
    """How its label looks in a size."""
    paper = _paper(request, study, number)
    shown = label_shown(request, paper, size, _ON_LABEL)
    frame = study_frame(study, study_state(request, study), "Papers")
    page = LotLabel(title=f"Label of {paper.kept.kind} {paper.kept.number}", study=frame, label=shown)
    return show(request, page, 422 if shown.fault else 200)


@pages.get("/{number}/label.{kind}")
def label_in(request: Request, study: int, number: int, kind: LabelKind, size: str = LABEL_SIZE) -> Response:
    """Its label for a printer (PDF), as a drawing (SVG) or as a picture (PNG)."""
    return label_file(request, _paper(request, study, number), size, kind)


def _paper(request: Request, study: int, number: int) -> Printing:
    """The paper in a line of the study's log."""
    state, back = study_state(request, study), f"/studies/{study}/papers"
    return paper_in(request, shop_of(request).records, study, state, number, back)
