"""A study over frequency: what is wished of the tones, what is played, and what was recorded."""

from __future__ import annotations

from fastapi import APIRouter, Request
from fastapi.responses import Response
from starlette.exceptions import HTTPException

from ohmsworth.errors import InputRefused
from ohmsworth.web.aside import packed
from ohmsworth.web.at_hand import desk_of, go_to, shop_of, study_state, who
from ohmsworth.web.drawing import drawing_of, picture_answer, to_keep
from ohmsworth.web.forms import Posted
from ohmsworth.web.frequency_show import Shown, frequency_page, pictures_of, rows_of
from ohmsworth.web.pages import show
from ohmsworth.web.tone_fields import read_tone_form
from ohmsworth.work.study_tones import StudyTones, card_of, plan_tones, tones_of, write_drive
from ohmsworth.work.tone_files import DRIVE

pages = APIRouter(prefix="/studies/{study}/frequency")


@pages.get("")
def frequency(request: Request, study: int, do: str = "", record: str = "", holder: str = "") -> Response:
    """The page; `record` looks for an interface, `holder` is the sound that it has begun."""
    return show(request, frequency_page(request, study, Shown(do=do, looked=record != "", holder=holder)))


@pages.post("")
def plan(request: Request, study: int, sent: Posted) -> Response:
    """Make the plan, from the form or from its text."""
    shop, desk, state = shop_of(request), desk_of(request), study_state(request, study)
    before = tones_or_none(request, study)
    by_hand = sent.text("change") == "text"
    form = read_tone_form(sent)
    if by_hand:
        text = sent.first.get("toml", "").replace("\r\n", "\n")
        form = shop.tone_form(text)
    else:
        text = shop.tones_text(form, before.text if before is not None else "")
    try:
        plan_tones(shop, desk, study, state, text, who(request), sent.text("key") or shop.new_key())
    except InputRefused as refused:
        shown = Shown(form=form, text=text, wrong=refused.faults, by_hand=by_hand)
        return show(request, frequency_page(request, study, shown), 422)
    return go_to(f"/studies/{study}/frequency")


def tones_or_none(request: Request, study: int) -> StudyTones | None:
    """What is played; raises InputRefused where what came with the study cannot be read."""
    return tones_of(shop_of(request), study, study_state(request, study), desk_of(request))


def _planned(request: Request, study: int) -> StudyTones:
    tones = tones_or_none(request, study)
    if tones is None:
        raise HTTPException(404)
    return tones


@pages.get("/drive.wav")
def drive(request: Request, study: int) -> Response:
    """What is played, as a file of sound."""
    tones = _planned(request, study)
    return packed(request, lambda path: write_drive(shop_of(request), tones, path), DRIVE, "audio/wav")


@pages.get("/wiring.pdf")
def card(request: Request, study: int) -> Response:
    """The wiring card."""
    content = drawing_of(request).pdf(card_of(_planned(request, study), study), shop_of(request).clock())
    return to_keep(content, "application/pdf", f"study-{study}-wiring.pdf")


@pages.get("/wiring.html")
def card_page(request: Request, study: int) -> Response:
    """The same as a page that needs nothing else."""
    content = drawing_of(request).html(card_of(_planned(request, study), study))
    return to_keep(content, "text/html; charset=utf-8", f"study-{study}-wiring.html")


@pages.get("/pictures/{name}")
def picture(request: Request, study: int, name: str) -> Response:
    """A picture of the page, or its numbers."""
    if not name.startswith("takes-"):
        return picture_answer(request, card_of(_planned(request, study), study), name)
    state = study_state(request, study)
    return picture_answer(request, pictures_of(request, study, state, rows_of(request, study, state)), name)
