"""A paper of a lot to download."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import Response

from ohmsworth.web.at_hand import shop_of, study_state
from ohmsworth.web.pages import show
from ohmsworth.web.papers.files import add_files
from ohmsworth.web.papers.printed import LabelShown, Printing, label_shown, paper_in
from ohmsworth.web.study_frame import StudyPage, study_frame
from ohmsworth.work.papers.printing import LABEL_SIZE

pages = APIRouter(prefix="/studies/{card}/papers")
_ON_LABEL = "name and number of the lot, pieces, day of the test, result and number of the paper"


@dataclass(frozen=True, kw_only=True)
class LotLabel(StudyPage):
    """A label as it will be."""

    template: ClassVar[str] = "study_label.html.j2"

    label: LabelShown


@pages.get("/{number}/label")
def label(request: Request, card: int, number: int, size: str = LABEL_SIZE) -> Response:
    """How its label looks in a size."""
    paper = _paper(request, card, number)
    shown = label_shown(request, paper, size, _ON_LABEL)
    frame = study_frame(card, study_state(request, card), "Papers")
    page = LotLabel(title=f"Label of {paper.kept.kind} {paper.kept.number}", study=frame, label=shown)
    return show(request, page, 422 if shown.fault else 200)


def _paper(request: Request, card: int, number: int) -> Printing:
    """The paper in a line of the study's log."""
    state, back = study_state(request, card), f"/studies/{card}/papers"
    return paper_in(request, shop_of(request).records, card, state, number, back)


add_files(pages, _paper)
