"""The bench: what to connect next, the reading, and at once what it is worth."""

from __future__ import annotations

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, Response

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.web.at_hand import desk_of, go_to, shop_of, study_state, who
from ohmsworth.web.bench_form import BenchForm, draft_of, form_after, form_for, mark_of, read_bench_form
from ohmsworth.web.bench_page import Bench, BenchNews, BenchNow, Now, Shown, make_ahead, make_now, news_of
from ohmsworth.web.forms import Posted, Sent
from ohmsworth.web.pages import drawn, show
from ohmsworth.web.study_frame import study_frame
from ohmsworth.work.drafts import read_draft
from ohmsworth.work.reading_changes import undo_last
from ohmsworth.work.records import NewLine
from ohmsworth.work.steps import skip_step, step_for
from ohmsworth.work.study_cards import study_face
from ohmsworth.work.study_log import FILE, NOTE, StudyState
from ohmsworth.work.take_entry import Sending, take_entry

pages = APIRouter(prefix="/studies/{study}")
LARGEST_FILE = 20 * 1024 * 1024


@pages.get("")
def study(study: int) -> Response:
    """A study begins at the bench."""
    return go_to(f"/studies/{study}/bench")


@pages.get("/bench")
def bench(request: Request, study: int, do: str = "") -> Response:
    """The whole page."""
    return _page(request, study, _now(request, study, do))


@pages.get("/bench/now")
def now(request: Request, study: int, do: str = "") -> Response:
    """The part of the page that leads and takes readings; `do` asks for something outside of the sheet."""
    return show(request, BenchNow(now=_now(request, study, do)))


@pages.get("/bench/ahead")
def ahead(request: Request, study: int) -> Response:
    """The steps to come."""
    return show(request, make_ahead(study_state(request, study)))


@pages.get("/bench/news")
def news(request: Request, study: int, after: int = 0) -> Response:
    """Nothing while nothing has happened since line `after`; else what others did."""
    state = study_state(request, study)
    if state.last <= after:
        return Response(status_code=204)
    return show(request, BenchNews(study=study, last=state.last, words=news_of(state, after)))


def _now(request: Request, study: int, do: str, shown: Shown | None = None) -> Now:
    state = study_state(request, study)
    step = step_for(state, do)
    form = form_for(state, step, do)
    return make_now(study, state, step, form, shop_of(request).new_key(), shown or Shown())


def _page(request: Request, study: int, leading: Now, status: int = 200) -> Response:
    state = study_state(request, study)
    page = Bench(title=f"Bench: study {study}", study=study_frame(study, state, "Bench"), now=leading)
    return show(request, page, status)


def _answer(request: Request, study: int, leading: Now, status: int = 200, event: str = "taken") -> Response:
    """The fragment for a page that asked for it, with what it tells the rest; the whole page for one without scripts."""
    if request.headers.get("hx-request") != "true":
        return _page(request, study, leading, status)
    headers = {"HX-Trigger": event} if status == 200 else {}
    return HTMLResponse(drawn(request, BenchNow(now=leading)), status, headers)


@pages.post("/bench")
def take(request: Request, study: int, sent: Posted) -> Response:
    """Take one reading: keep it and lead on, or ask about it, or say what cannot be read."""
    shop, desk, state = shop_of(request), desk_of(request), study_state(request, study)
    form = read_bench_form(sent)
    anyway = sent.text("anyway") if sent.text("keep") or sent.text("anyway") else ""
    sending = Sending(who(request), sent.text("key") or shop.new_key(), anyway, sent.text("waited") == "yes")
    try:
        read = read_draft(draft_of(form, state, who(request)), mark_of(request), shop.clock())
        taken = take_entry(shop, desk, study, state, read.entry, sending)
    except InputRefused as refused:
        shown = Shown(faults=refused.faults)
        return _answer(request, study, _same(study, state, form, sending.key, shown), 422)
    shown = Shown(taken=taken, said=read.said, anyway_missing=sent.text("keep") == "yes" and not anyway)
    if taken.number is None:
        return _answer(request, study, _same(study, taken.after, form, sending.key, shown), 409)
    after = taken.after
    do = "" if form.step is not None or not sent.text("volunteered") else "on"
    step = step_for(after, do)
    leading = make_now(study, after, step, form_after(after, step, form), shop.new_key(), shown)
    answer = _answer(request, study, leading)
    if read.mark is not None:
        answer.set_cookie("mark", read.mark, max_age=365 * 24 * 3600, httponly=True, samesite="strict")
    return answer


def _same(study: int, state: StudyState, form: BenchForm, key: str, shown: Shown) -> Now:
    """The same step again, with everything that was typed still there."""
    return make_now(study, state, step_for(state, "", form.step), form, key, shown)


@pages.post("/bench/undo")
def undo(request: Request, study: int, sent: Posted) -> Response:
    """Withdraw the last reading; it stays in the record."""
    shop, state = shop_of(request), study_state(request, study)
    wanted = sent.number("of")
    last = undo_last(shop, study, state, wanted, who(request), sent.text("key") or shop.new_key())
    shown = Shown(words=f"Reading {last.number} is withdrawn; it stays in the record.")
    return _answer(request, study, _now(request, study, "", shown), event="taken, sheet")


@pages.post("/bench/skip")
def skip(request: Request, study: int, sent: Posted) -> Response:
    """Leave a step of the sheet out."""
    shop = shop_of(request)
    step = sent.number("step")
    skip_step(
        shop, study, study_state(request, study), step, who(request), sent.text("key") or shop.new_key()
    )
    shown = Shown(words=f"Step {step} is left out.")
    return _answer(request, study, _now(request, study, "", shown), event="taken, sheet")


@pages.post("/bench/attach")
def attach(request: Request, study: int, sent: Posted) -> Response:
    """Keep a note, a photo, or both with the study and its last reading."""
    shop, key = shop_of(request), sent.text("key") or shop_of(request).new_key()
    state = study_state(request, study)
    about = sent.number("about")
    about = about if any(one.number == about for one in state.readings) else None
    lines = []
    if sent.text("words"):
        lines.append(NewLine(key, NOTE, {"text": sent.text("words")}, about=about))
    if "photo" in sent.files:
        lines.append(_file_line(sent, f"{key}.file", about))
    if lines:
        shop.records.add(study, who(request), lines, study_face)
    return go_to(f"/studies/{study}/bench")


def _file_line(sent: Sent, key: str, about: int | None) -> NewLine:
    file = sent.files["photo"]
    if len(file.content) > LARGEST_FILE:
        mend = "Make the picture smaller; the reading itself is kept."
        fault = Fault(file.name[:60], f"{len(file.content) // 2**20} MB", "at most 20 MB", mend)
        raise InputRefused((fault,))
    name = file.name.replace("\\", "/").rsplit("/", 1)[-1][:120]
    return NewLine(
        key, FILE, {"name": name, "media_type": file.media_type[:80]}, about=about, content=file.content
    )


#: Kinds of files that a browser may show; anything else is only handed over.
SHOWN = ("image/jpeg", "image/png", "image/webp", "image/gif")


@pages.get("/files/{number}")
def file(request: Request, study: int, number: int) -> Response:
    """A photo or file of the study."""
    kept = next((one for one in study_state(request, study).files if one.number == number), None)
    if kept is None:
        raise InputRefused(
            (Fault(f"file {number}", "no such file", "a file of this study", "Look under Readings."),)
        )
    content = shop_of(request).records.content(study, number)
    plain = "".join(c if c.isascii() and (c.isalnum() or c in "._-") else "_" for c in kept.name)
    shown = kept.media_type in SHOWN
    kind = kept.media_type if shown else "application/octet-stream"
    headers = {"content-disposition": f'{"inline" if shown else "attachment"}; filename="{plain}"'}
    return Response(content, media_type=kind, headers=headers)
