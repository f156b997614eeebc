"""The papers of a cable: those that were issued, and a form for the next."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import Response

from ohmsworth.report.cable_answer import NOT_YET, RIGHT
from ohmsworth.web.cables.frame import CableFrame, CablePage, cable_desk, cable_frame
from ohmsworth.web.forms import Posted
from ohmsworth.web.pages import show
from ohmsworth.web.papers.at_hand import papers_at
from ohmsworth.web.papers.shown import PapersShown, PaperSubject, issued, papers_shown
from ohmsworth.work.builds.face import NOT_TESTED, UNREADABLE
from ohmsworth.work.builds.papers.issuing import papered_cable
from ohmsworth.work.papers.kept.papered import Papered

pages = APIRouter(prefix="/cables/{cable}/papers")
#: States of a cable of which no paper can be issued.
NOT_READY = (NOT_TESTED, NOT_YET, UNREADABLE)


@dataclass(frozen=True, kw_only=True)
class PapersPage(CablePage):
    """Its papers, and the form."""

    template: ClassVar[str] = "cable_papers.html.j2"

    papers: PapersShown


@pages.get("")
def papers(request: Request, cable: int, issued: int = 0) -> Response:
    """What was issued, and what is proposed for the next."""
    frame, _, shown = _shown(request, cable)
    return show(request, _page(frame, shown, shown.notice(issued)))


@pages.post("")
def issue(request: Request, cable: int, sent: Posted) -> Response:
    """Issue one."""
    frame, papered, shown = _shown(request, cable)
    done = issued(request, papered, shown, sent)
    return show(request, _page(frame, done), 422) if isinstance(done, PapersShown) else done


def _page(frame: CableFrame, shown: PapersShown, notice: str = "") -> PapersPage:
    return PapersPage(title=f"Papers of {frame.name}", notice=notice, cable=frame, papers=shown)


def _shown(request: Request, cable: int) -> tuple[CableFrame, Papered, PapersShown]:
    desk = cable_desk(request)
    state = desk.state(cable)
    frame = cable_frame(desk, cable, state, "Papers")
    papered = papered_cable(desk, papers_at(request), cable)
    return frame, papered, papers_shown(request, papered, _subject(frame), state.last)


def _subject(frame: CableFrame) -> PaperSubject:
    gets = "This cable is not found right: it gets a test report, headed “Not passed”. It holds the rows that count now"
    if frame.state == RIGHT:
        gets = "This cable is right: it gets a certificate. It holds the rows that count now"
    return PaperSubject(
        at=f"/cables/{frame.number}/papers",
        word="cable",
        ready=frame.state not in NOT_READY,
        gets=f"{gets}, and is signed with the shop’s key.",
        waits="A paper is issued once the test is complete.",
        waits_at=f"/cables/{frame.number}",
        waits_label="Measure",
        said_by="the cable’s rows and description say",
        finish="Finish the measurements",
    )
