"""The answer so far, beside the bench."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import Response

from ohmsworth.errors import InputRefused
from ohmsworth.report.live_answer import LiveAnswer
from ohmsworth.units import show as show_value
from ohmsworth.web.at_hand import desk_of, study_state
from ohmsworth.web.dots import Dots, dots_of
from ohmsworth.web.pages import Fragment, show
from ohmsworth.work.live_study import live_study, live_tone

pages = APIRouter(prefix="/studies/{study}")
STOP_SIGNS = {"stop": "✓", "go on": "…", "cannot be settled here": "?", "check the readings": "!"}


@dataclass(frozen=True, kw_only=True)
class Live(Fragment):
    """The dots, the intervals and the sentence; `faults` where the study cannot be read.

    `tone` says at which frequency R is told, of a study of takes alone; "" of one of direct current.
    """

    template: ClassVar[str] = "live.html.j2"

    study: int
    answer: LiveAnswer | None
    dots: Dots | None
    sign: str
    faults: tuple[str, ...]
    tone: str = ""


@pages.get("/bench/live")
def live(request: Request, study: int) -> Response:
    """The answer to the readings that are in the records now."""
    desk, state = desk_of(request), study_state(request, study)
    try:
        answer = desk.once(("live", study, state.last), lambda: live_study(desk, study, state))
        hertz = live_tone(desk, study, state)
    except InputRefused as refused:
        faults = tuple(str(fault) for fault in refused.faults)
        return show(request, Live(study=study, answer=None, dots=None, sign="", faults=faults))
    if answer is None:
        return show(request, Live(study=study, answer=None, dots=None, sign="", faults=()))
    sign, dots = STOP_SIGNS.get(answer.stop, ""), dots_of(answer)
    tone = "" if hertz is None else show_value(hertz, "Hz")
    page = Live(study=study, answer=answer, dots=dots, sign=sign, faults=answer.faults, tone=tone)
    return show(request, page)
