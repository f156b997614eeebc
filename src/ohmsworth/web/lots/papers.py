"""The papers of the lot that a study is about: those that were issued, and a form for the next."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass
from typing import ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import Response

from ohmsworth.errors import InputRefused
from ohmsworth.web.at_hand import desk_of, shop_of, study_state
from ohmsworth.web.forms import Posted
from ohmsworth.web.pages import show
from ohmsworth.web.papers.at_hand import papers_at
from ohmsworth.web.papers.shown import PapersShown, PaperSubject, issued, papers_shown
from ohmsworth.web.study_frame import StudyPage, study_frame
from ohmsworth.work.lots.papered import papered_lot
from ohmsworth.work.lots.told import paper_ahead
from ohmsworth.work.papers.kept.papered import Papered

pages = APIRouter(prefix="/studies/{study}/papers")


@dataclass(frozen=True, kw_only=True)
class LotPapers(StudyPage):
    """Its papers, and the form."""

    template: ClassVar[str] = "study_papers.html.j2"

    papers: PapersShown


@pages.get("")
def papers(request: Request, study: int, issued: int = 0) -> Response:
    """What was issued, and what is proposed for the next."""
    _, shown = _shown(request, study)
    return show(request, _page(request, study, shown, shown.notice(issued)))


@pages.post("")
def issue(request: Request, study: int, sent: Posted) -> Response:
    """Issue one."""
    papered, shown = _shown(request, study)
    done = issued(request, papered, shown, sent)
    return show(request, _page(request, study, done), 422) if isinstance(done, PapersShown) else done


def _page(request: Request, study: int, shown: PapersShown, notice: str = "") -> LotPapers:
    frame = study_frame(study, study_state(request, study), "Papers")
    return LotPapers(title=f"Papers of study {study}", notice=notice, study=frame, papers=shown)


def _shown(request: Request, study: int) -> tuple[Papered, PapersShown]:
    papered = papered_lot(desk_of(request), shop_of(request), papers_at(request), study)
    return papered, papers_shown(request, papered, _subject(request, study), study_state(request, study).last)


def _subject(request: Request, study: int) -> PaperSubject:
    gets = ""
    with suppress(InputRefused):  # the page of the lot says what is wrong
        gets = paper_ahead(desk_of(request), study, study_state(request, study))
    words = {
        "": "",
        "certificate": "This lot is accepted: it gets a certificate.",
        "test report": "This lot is not accepted, or nobody may rely on it yet: it gets a test report.",
    }
    return PaperSubject(
        at=f"/studies/{study}/papers",
        word="lot",
        ready=bool(gets),
        gets=f"{words[gets]} It holds the readings that count now, and is signed with the shop’s key.",
        waits="A paper is issued once the whole sample of the plan is measured.",
        waits_at=f"/studies/{study}/lot",
        waits_label="Lot",
        said_by="the study’s readings and its question say",
        finish="Finish the sample",
    )
