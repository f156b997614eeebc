"""The bench: what to connect next, the reading, and at once what it is worth."""

from __future__ import annotations

from dataclasses import replace

from fastapi import APIRouter, Request
from fastapi.responses import Response

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.web.at_hand import desk_of, go_to, shop_of, study_state, who
from ohmsworth.web.bench_form import BenchForm, mark_of, read_bench_form
from ohmsworth.web.bench_page import BenchNews, BenchNow, Shown, make_ahead, news_of
from ohmsworth.web.bench_show import after_taking, answered, draft_here, now_of, same_step, whole_page
from ohmsworth.web.forms import Posted, Sent
from ohmsworth.web.instruments_at_hand import runs_of
from ohmsworth.web.pages import show
from ohmsworth.web.waiting import OtherName, ask_whose, whose
from ohmsworth.work.drafts import read_draft
from ohmsworth.work.reading_changes import undo_last
from ohmsworth.work.records import NewLine
from ohmsworth.work.steps import skip_step
from ohmsworth.work.study_cards import study_face
from ohmsworth.work.study_log import FILE, NOTE
from ohmsworth.work.take_entry import Sending, take_entry

pages = APIRouter(prefix="/studies/{study}")
#: What is said after something was kept with the study, by the word in the address.
NOTICES = {
    "note": "The note is kept with the study. It stands under Readings.",
    "file": "The file is kept with the study. It stands under Readings.",
    "note-and-file": "The note and the file are kept with the study. They stand under Readings.",
    "nothing": "Nothing was kept: write a note, or choose a photo or a file.",
}
LARGEST_FILE = 20 * 1024 * 1024


@pages.get("")
def study(study: int) -> Response:
    """A study begins at the bench."""
    return go_to(f"/studies/{study}/bench")


@pages.get("/bench")
def bench(request: Request, study: int, do: str = "", kept: str = "") -> Response:
    """The whole page; `kept` says what was just kept with the study."""
    return whole_page(request, study, now_of(request, study, do), notice=NOTICES.get(kept, ""))


@pages.get("/bench/now")
def now(request: Request, study: int, do: str = "") -> Response:
    """The part of the page that leads and takes readings; `do` asks for something outside of the sheet."""
    return show(request, BenchNow(now=now_of(request, study, do)))


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


@pages.post("/bench")
def take(request: Request, study: int, sent: Posted) -> Response:
    """Take one reading: keep it and lead on, or ask about it, or say what cannot be read."""
    shop, desk, state = shop_of(request), desk_of(request), study_state(request, study)
    form = read_bench_form(sent)
    anyway = sent.text("anyway") if sent.text("keep") or sent.text("anyway") else ""
    by = whose(request, sent)
    if isinstance(by, OtherName):
        return ask_whose(request, by)
    waited = sent.text("waited") == "yes"
    sending = Sending(by.name, sent.text("key") or shop.new_key(), anyway, waited, typed_by=by.typed_by)
    if _leads_on(request, sent, form):
        shown = Shown(led=True)
        return answered(request, study, same_step(request, study, state, form, sending.key, shown), event="")
    try:
        read = read_draft(
            draft_here(request, study, state, form, by.name),
            mark_of(request),
            request.state.came,
        )
        sending = replace(sending, read_by=runs_of(request).provenance(read.entry, sending.key))
        taken = take_entry(shop, desk, study, state, read.entry, sending)
    except InputRefused as refused:
        shown = Shown(faults=refused.faults)
        return answered(request, study, same_step(request, study, state, form, sending.key, shown), 422)
    shown = Shown(taken=taken, said=read.said, anyway_missing=sent.text("keep") == "yes" and not anyway)
    if taken.number is None:
        return answered(request, study, same_step(request, study, taken.after, form, sending.key, shown), 409)
    answer = answered(request, study, after_taking(request, study, taken.after, form, shown))
    if read.mark is not None:
        answer.set_cookie("mark", read.mark, max_age=365 * 24 * 3600, httponly=True, samesite="strict")
    return answer


def _leads_on(request: Request, sent: Sent, form: BenchForm) -> bool:
    """Whether Enter was pressed in the voltage and the current comes next; a page with scripts leads on by itself.

    Without it two figures and two Enters would be two readings wherever the current may stay as before.
    """
    if request.headers.get("hx-request") == "true" or not sent.text("enter") or sent.text("led"):
        return False
    return bool(form.texts["voltage"]) and not form.texts["current"] and form.polarity != "0"


@pages.post("/bench/undo")
def undo(request: Request, study: int, sent: Posted) -> Response:
    """Withdraw the last reading; it stays in the record."""
    shop, state = shop_of(request), study_state(request, study)
    wanted = sent.number("of")
    last = undo_last(shop, study, state, wanted, who(request), sent.text("key") or shop.new_key())
    shown = Shown(words=f"Reading {last.nth} is withdrawn; it stays in the record.")
    return answered(request, study, now_of(request, study, "", shown), event="taken, sheet")


@pages.post("/bench/skip")
def skip(request: Request, study: int, sent: Posted) -> Response:
    """Leave a step of the sheet out."""
    shop = shop_of(request)
    step = sent.number("step")
    skip_step(
        shop, study, study_state(request, study), step, who(request), sent.text("key") or shop.new_key()
    )
    shown = Shown(words=f"Step {step} is left out.")
    return answered(request, study, now_of(request, study, "", shown), event="taken, sheet")


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
    kept = "-and-".join({NOTE: "note", FILE: "file"}[line.kind] for line in lines) or "nothing"
    return go_to(f"/studies/{study}/bench?kept={kept}")


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
