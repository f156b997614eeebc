"""Takes of contacts and of standards: sent, kept, looked at, withdrawn and put back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import Response

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.readings.doubt import Doubt
from ohmsworth.units import show as show_value
from ohmsworth.web.at_hand import desk_of, go_to, shop_of, study_state, who
from ohmsworth.web.bench_form import BenchForm, read_bench_form
from ohmsworth.web.bench_page import TONES
from ohmsworth.web.forms import Posted
from ohmsworth.web.frequency_page import Alone, KeptPart, RowPart, row_part, with_half
from ohmsworth.web.frequency_show import Shown, asked_of, frequency_page
from ohmsworth.web.pages import show
from ohmsworth.web.readings import Change, history_of
from ohmsworth.web.sound_files import PostedSounds, SentSounds
from ohmsworth.web.study_frame import StudyPage, study_frame
from ohmsworth.work.drafts import LABELS
from ohmsworth.work.keep_standard import KeptStandard, keep_standard, put_back_standard, withdraw_standard
from ohmsworth.work.keep_take import KeptTake, NewTake, keep_take
from ohmsworth.work.reading_changes import CHANGES, OFFERED, change_reading, correct_reading, take_of
from ohmsworth.work.standards_elsewhere import take_over_standards
from ohmsworth.work.study_log import StudyState
from ohmsworth.work.take_log import RecordedTake
from ohmsworth.work.take_rows import take_rows
from ohmsworth.work.uploads import Uploads

pages = APIRouter(prefix="/studies/{study}/frequency")


@dataclass(frozen=True, kw_only=True)
class OneTake(StudyPage):
    """The takes of one mating, their history, and what may be done to them."""

    template: ClassVar[str] = "frequency_take.html.j2"

    row: RowPart
    at: str
    files: tuple[str, ...]
    history: tuple[Change, ...]
    offered: tuple[str, ...]
    key: str


@pages.post("/takes")
def keep(request: Request, study: int, sent: PostedSounds) -> Response:
    """Find the impedance in the recordings of a contact and keep it; or say what cannot be used, with what was typed."""
    shop = shop_of(request)
    form, key = read_bench_form(sent.form), sent.form.text("key") or shop.new_key()
    alone = _alone(sent)
    known = shop.records.card_of(key) == study  # sent again because its answer had not come
    try:
        if alone == "asked" and not known:
            return show(
                request, frequency_page(request, study, Shown(contact=form, key=key, alone=alone)), 422
            )
        kept = keep_here(request, study, form, sent.uploads, key)
    except InputRefused as refused:
        shown = Shown(contact=form, contact_wrong=refused.faults, key=key, alone=alone)
        return show(request, frequency_page(request, study, shown), 422)
    return show(request, frequency_page(request, study, Shown(kept=kept, do="free" if form.free else "")))


def _alone(sent: SentSounds) -> Alone:
    """Whether takes were sent without one in which the inputs are exchanged, and somebody has agreed to that."""
    if not sent.uploads.get("straight") or sent.uploads.get("swapped"):
        return ""
    return "agreed" if sent.form.text("alone") == "yes" else "asked"


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
        "Look at the recording first" if kept.grave else with_half(kept.resistance, "Ω"),
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
    take = _take(state, number)
    (row,) = take_rows((take,), asked_of(request, study, state))
    page = OneTake(
        title=f"Take {take.reading.nth} of study {study}",
        study=study_frame(study, state, "Over frequency"),
        row=row_part(row, state.specimens),
        at="" if row.at is None else show_value(row.at.frequency, "Hz"),
        files=tuple(f"{kind}: {' and '.join(one.name for one in ones)}" for kind, ones in take.files.items()),
        history=history_of(take.reading),
        offered=OFFERED[take.reading.state],
        key=shop_of(request).new_key(),
    )
    return show(request, page)


def _take(state: StudyState, number: int) -> RecordedTake:
    found = take_of(state, number)
    if found is None:
        mend = "Choose it on the page over frequency."
        raise InputRefused((Fault(f"line {number}", "no take", "a take of this study", mend),))
    return found


@pages.post("/takes/{number}")
def change(request: Request, study: int, number: int, sent: Posted) -> Response:
    """Correct the names of a take, withdraw it, put it back, keep it or set it aside."""
    shop, state = shop_of(request), study_state(request, study)
    wanted, reason, key = sent.text("change"), sent.text("reason"), sent.text("key") or shop.new_key()
    take = _take(state, number)
    if wanted in CHANGES:
        change_reading(shop, study, state, number, wanted, reason, who(request), key)
    else:
        said = {name: sent.text(name) for name in (*LABELS, "note")}
        entry = replace(take.reading.entry, **said)  # type: ignore[arg-type]
        correct_reading(shop, desk_of(request), study, state, number, entry, reason, who(request), key)
    return go_to(f"/studies/{study}/frequency/takes/{number}")


@pages.post("/standards")
def standard(request: Request, study: int, sent: PostedSounds) -> Response:
    """Keep takes of a short, a load or an open."""
    shop, desk, state = shop_of(request), desk_of(request), study_state(request, study)
    series, key = sent.form.text("series"), sent.form.text("key") or shop.new_key()
    try:
        kept = keep_standard(
            shop,
            desk,
            study,
            state,
            series,  # type: ignore[arg-type]  # anything else is refused there, in words
            sent.uploads,
            who(request),
            key,
        )
    except InputRefused as refused:
        page = frequency_page(request, study, Shown(series=series, standard_wrong=refused.faults))
        return show(request, page, 422)
    return show(request, frequency_page(request, study, Shown(standard_told=_told((kept,)))))


def _told(kept: Sequence[KeptStandard]) -> str:
    doubts = [f"{words}. {mend}" for one in kept for words, mend in _with_mend(one.doubts)]
    before = [one.before for one in kept if one.before]
    return " ".join([*(one.sentence for one in kept), *before, *doubts])


@pages.post("/standards/from")
def take_over(request: Request, study: int, sent: Posted) -> Response:
    """Take the standards of another study off this one's contacts too."""
    shop, desk, state = shop_of(request), desk_of(request), study_state(request, study)
    number, key = sent.number("from"), sent.text("key") or shop.new_key()
    try:
        if number is None:
            mend = "Choose the study whose short, load and open are to be used here."
            raise InputRefused((Fault("the other study", "none", "one of the list", mend),))
        kept = take_over_standards(shop, desk, study, state, number, who(request), key)
    except InputRefused as refused:
        page = frequency_page(request, study, Shown(standard_wrong=refused.faults))
        return show(request, page, 422)
    told = _told(kept) or "They were taken over already."
    return show(request, frequency_page(request, study, Shown(standard_told=told)))


@pages.post("/standards/{number}")
def change_standard(request: Request, study: int, number: int, sent: Posted) -> Response:
    """Withdraw takes of a standard, or put them back."""
    shop, state = shop_of(request), study_state(request, study)
    done = put_back_standard if sent.text("change") == "put back" else withdraw_standard
    key = sent.text("key") or shop.new_key()
    try:
        done(shop, study, state, number, sent.text("reason"), who(request), key)
    except InputRefused as refused:
        page = frequency_page(request, study, Shown(standard_wrong=refused.faults))
        return show(request, page, 422)
    return go_to(f"/studies/{study}/frequency#standards")
