"""Takes of contacts and of standards: sent, kept, looked at, withdrawn and put back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import Response

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.readings.doubt import Doubt
from ohmsworth.web.at_hand import desk_of, go_to, shop_of, study_state, who
from ohmsworth.web.bench_form import BenchForm, read_bench_form
from ohmsworth.web.bench_page import TONES
from ohmsworth.web.forms import Posted
from ohmsworth.web.frequency_page import KeptPart, RowPart, row_part, with_half
from ohmsworth.web.frequency_show import Shown, asked_of, frequency_page
from ohmsworth.web.pages import show
from ohmsworth.web.sound_files import PostedSounds
from ohmsworth.web.study_frame import StudyPage, study_frame
from ohmsworth.work.keep_standard import keep_standard, put_back_standard, withdraw_standard
from ohmsworth.work.keep_take import KeptTake, NewTake, keep_take
from ohmsworth.work.records import Line
from ohmsworth.work.study_log import FILE, StudyState
from ohmsworth.work.take_log import Files
from ohmsworth.work.take_rows import take_rows
from ohmsworth.work.tone_files import KINDS
from ohmsworth.work.uploads import Uploads

pages = APIRouter(prefix="/studies/{study}/frequency")


@dataclass(frozen=True, kw_only=True)
class OneTake(StudyPage):
    """The takes of one mating, their history, and what may be done to them."""

    template: ClassVar[str] = "frequency_take.html.j2"

    row: RowPart
    at: str
    files: tuple[str, ...]
    history: tuple[Line, ...]
    offered: tuple[str, ...]
    key: str


@pages.post("/takes")
def keep(request: Request, study: int, sent: PostedSounds) -> Response:
    """Find the impedance in the recordings of a contact and keep it; or say what cannot be used, with what was typed."""
    shop = shop_of(request)
    form, key = read_bench_form(sent.form), sent.form.text("key") or shop.new_key()
    return kept_page(request, study, form, sent.uploads, key)


def kept_page(request: Request, study: int, form: BenchForm, uploads: Uploads, key: str) -> Response:
    """The page after takes were sent or recorded here."""
    try:
        kept = keep_here(request, study, form, uploads, key)
    except InputRefused as refused:
        shown = Shown(contact=form, contact_wrong=refused.faults, key=key)
        return show(request, frequency_page(request, study, shown), 422)
    return show(request, frequency_page(request, study, Shown(kept=kept, do="free" if form.free else "")))


def keep_here(request: Request, study: int, form: BenchForm, uploads: Uploads, key: str) -> KeptPart:
    """Keep the takes of a contact; raises InputRefused."""
    shop, desk, state = shop_of(request), desk_of(request), study_state(request, study)
    take = NewTake(
        form.specimen, form.condition, form.contact, form.mating, form.note, form.step, form.others
    )
    return _kept_part(form, keep_take(shop, desk, study, state, take, uploads, who(request), key))


def _kept_part(form: BenchForm, kept: KeptTake) -> KeptPart:
    tone, sign = TONES.get(kept.verdict, ("", ""))
    name = f"{form.specimen}, contact {form.contact}" if form.contact else form.specimen
    return KeptPart(
        with_half(kept.resistance, "Ω"),
        kept.verdict,
        tone,
        sign,
        name,
        kept.sentence,
        _with_mend(kept.doubts),
    )


def _with_mend(doubts: Sequence[Doubt]) -> tuple[tuple[str, str], ...]:
    return tuple((one.words, one.mend) for one in doubts)


@pages.get("/takes/{number}")
def one_take(request: Request, study: int, number: int) -> Response:
    """The takes of one mating, and their history."""
    state = study_state(request, study)
    take = take_of(state, number)
    (row,) = take_rows((take,), asked_of(request, study, state))
    page = OneTake(
        title=f"Take {take.reading.nth} of study {study}",
        study=study_frame(study, state, "Over frequency"),
        row=row_part(row, state.specimens),
        at="" if row.at is None else show_hertz(row.at.frequency),
        files=_file_words(take.files),
        history=tuple(line for line in take.reading.changes if line.kind != FILE),
        offered=tuple(change for change in OFFERED[take.reading.state] if change != "correct"),
        key=shop_of(request).new_key(),
    )
    return show(request, page)
