"""The page over frequency put together from the study, from what was sent, and from what is recorded here."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from fastapi import Request
from markupsafe import Markup

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.readings.study import Study
from ohmsworth.report.document import Document
from ohmsworth.report.study_takes import takes_document
from ohmsworth.units import show as show_value
from ohmsworth.web.at_hand import desk_of, shop_of, study_state
from ohmsworth.web.bench_form import BenchForm
from ohmsworth.web.bench_show import columns_asked
from ohmsworth.web.drawing import report_fragment
from ohmsworth.web.filters import counted, fault_words
from ohmsworth.web.frequency_page import (
    Alone,
    CheckPart,
    ContactPart,
    Frequency,
    KeptPart,
    PlanPart,
    RowPart,
    StandardsPart,
    as_asked,
    check_parts,
    contact_part,
    plan_part,
    row_part,
    standard_rows,
    take_fields,
)
from ohmsworth.web.frequency_record_part import Chosen, RecordPart, record_part
from ohmsworth.web.recorder import recorder_of
from ohmsworth.web.study_frame import study_frame
from ohmsworth.web.tone_fields import WishesPart, wishes_part
from ohmsworth.work.check_takes import check_takes
from ohmsworth.work.next_take import NextTake, next_take
from ohmsworth.work.ports import LoadedTones
from ohmsworth.work.standards_elsewhere import standards_of_other_studies
from ohmsworth.work.study_log import StudyState
from ohmsworth.work.study_tones import StudyTones, card_of, tones_of
from ohmsworth.work.take_rows import TakeRow, curves_of, take_rows
from ohmsworth.work.tone_form import ToneForm


@dataclass(frozen=True, slots=True)
class Shown:
    """What was asked, sent or kept just now.

    Parameters
    ----------
    do
        "free" for a contact that the sheet does not ask for, "check" for the check standard.
    looked, holder
        Whether interfaces are looked for; the sound that this page has begun.
    form, text, wrong, by_hand
        The wishes as they were sent, what is wrong with them, and whether as text.
    contact, contact_wrong, key
        What was connected as it was sent, what is wrong, and the key of its line.
    alone
        Where a straight take was sent without the swapped one: whether to keep it so is "asked", or was "agreed".
    kept
        What the takes that were just kept told.
    series, standard_wrong, standard_told
        The same of takes of a standard.
    chosen, record_wrong
        How it is recorded, and what is wrong with that.
    """

    do: str = ""
    looked: bool = False
    holder: str = ""
    form: ToneForm | None = None
    text: str | None = None
    wrong: tuple[Fault, ...] = ()
    by_hand: bool = False
    contact: BenchForm | None = None
    contact_wrong: tuple[Fault, ...] = ()
    key: str = ""
    alone: Alone = ""
    kept: KeptPart | None = None
    series: str = ""
    standard_wrong: tuple[Fault, ...] = ()
    standard_told: str = ""
    chosen: Chosen | None = None
    record_wrong: tuple[Fault, ...] = ()


def frequency_page(request: Request, study: int, shown: Shown) -> Frequency:
    """The page."""
    state = study_state(request, study)
    tones, faults = _tones(request, study, state)
    rows = () if tones is None else rows_of(request, study, state)
    at = next((row.at for row in rows if row.at is not None), None)
    parts, curves = desk_of(request).once(
        ("take parts", study, state.last, asked_of(request, study, state)),
        lambda: _told(request, study, rows, state),
    )
    return Frequency(
        title=f"Study {study} over frequency",
        study=study_frame(study, state, "Over frequency"),
        faults=faults,
        wishes=_wishes(request, tones, shown),
        plan=None if tones is None else _plan(request, study, state, tones),
        contact=None if tones is None else _contact(request, study, state, tones, shown),
        kept=shown.kept,
        record=None if tones is None else _record(request, study, shown),
        rows=parts,
        counted=f"{counted(len(rows), 'mating')} recorded{_withdrawn(state)}",
        at="" if at is None else show_value(at.frequency, "Hz"),
        pictures=_drawn(request, study, curves),
        standards=_standards(request, study, state, tones, shown),
        checks=() if tones is None else _checks(request, study),
    )


def _told(
    request: Request, study: int, rows: tuple[TakeRow, ...], state: StudyState
) -> tuple[tuple[RowPart, ...], Document]:
    """The table and the pictures, whose many intervals take a moment: once for each change."""
    table = tuple(row_part(row, state.specimens) for row in reversed(rows))
    return table, pictures_of(request, study, state, rows)


def pictures_of(request: Request, study: int, state: StudyState, rows: tuple[TakeRow, ...]) -> Document:
    """The curves of the takes that count, with the limit of the study's question."""
    question = _question(request, study, state)
    limit = None if question is None or question.limit is None else question.limit.resistance
    return takes_document(curves_of(rows), limit)


def _tones(request: Request, study: int, state: StudyState) -> tuple[StudyTones | None, tuple[str, ...]]:
    """What is played; what is wrong with it, where it came from elsewhere."""
    try:
        return tones_of(shop_of(request), study, state, desk_of(request)), ()
    except InputRefused as refused:
        return None, tuple(f"{one.where}: {fault_words(one)}" for one in refused.faults)


def asked_of(request: Request, study: int, state: StudyState) -> tuple[float, ...]:
    """Hertz that the study asks about; none where its question cannot be read."""
    question = _question(request, study, state)
    return () if question is None else question.frequencies


def _question(request: Request, study: int, state: StudyState) -> Study | None:
    """What the study asks; None where that cannot be read."""
    try:
        return desk_of(request).question(study, state)
    except InputRefused:
        return None


def rows_of(request: Request, study: int, state: StudyState) -> tuple[TakeRow, ...]:
    """The takes of the study with what they told."""
    asked = asked_of(request, study, state)
    return desk_of(request).once(
        ("take rows", study, state.last, asked), lambda: take_rows(state.takes, asked)
    )


def _withdrawn(state: StudyState) -> str:
    gone = len(state.takes) - len(state.counted_takes)
    return f", {gone} of them withdrawn and still in the record" if gone else ""


def _drawn(request: Request, study: int, document: Document) -> Markup:
    if not document.sections[0].blocks:
        return Markup()
    return report_fragment(request, document, _pictures(study), 3, ("told",))


def _pictures(study: int) -> Callable[[str], str]:
    return lambda name: f"/studies/{study}/frequency/pictures/{name}"


def _wishes(request: Request, tones: StudyTones | None, shown: Shown) -> WishesPart:
    shop = shop_of(request)
    before = ToneForm() if tones is None else shop.tone_form(tones.text)
    form = shown.form or before
    text = shown.text
    if text is None:
        text = shop.tones_text(form, "") if tones is None else tones.text
    return wishes_part(request, form, text, tones is not None, shown.wrong, shown.by_hand)


def _plan(request: Request, study: int, state: StudyState, tones: StudyTones) -> PlanPart:
    """What is said of the plan, once for each plan: its uncertainty takes a moment to reckon."""

    def made() -> tuple[Document, PlanPart]:
        card = card_of(tones, study)
        return replace(card, sections=card.sections[:1]), plan_part(tones.answer, Markup(), state)

    card, part = desk_of(request).once(("tones told", study, tones.text), made)
    drawing = report_fragment(request, card, _pictures(study), 3, ("connecting",))
    return replace(part, drawing=drawing, open=not (state.takes or state.standards))


def loaded_of(tones: StudyTones) -> LoadedTones:
    """The tones as what records takes has them."""
    return LoadedTones(tones.wishes, None, tones.plan, (), tones.known)


def _contact(request: Request, study: int, state: StudyState, tones: StudyTones, shown: Shown) -> ContactPart:
    step = next_take(state)
    check = _check_name(request, study, state)
    form = shown.contact or _form_of(state, None if shown.do == "free" else step)
    if shown.do == "check" and check and shown.contact is None:
        before = sum(one.reading.entry.condition == check for one in state.takes)
        form = BenchForm(None, check, check, mating=str(before + 1), free=True)
    columns = columns_asked(request, study, state)
    part = contact_part(
        state,
        columns,
        form if shown.contact else replace(form, others=columns.last_said(_last_said(state))),
        step,
        loaded_of(tones),
        check,
        shown.key or shop_of(request).new_key(),
        shown.contact_wrong,
    )
    return as_asked(part, state, shown.do, shown.contact is not None, shown.alone)


def _form_of(state: StudyState, step: NextTake | None) -> BenchForm:
    """The contact that the sheet asks for, else that of the last takes again."""
    if step is not None:
        row = step.row
        return BenchForm(row.step, row.specimen, row.condition, mating=str(row.mating or ""))
    if not state.counted_takes:
        return BenchForm(free=True)
    last = state.counted_takes[-1].reading.entry
    return BenchForm(None, last.specimen, last.condition, last.contact, free=True)


def _last_said(state: StudyState) -> dict[str, str]:
    entries = [one.reading.entry for one in state.counted_takes] or [one.entry for one in state.counted]
    return dict(entries[-1].others) if entries else {}


def _record(request: Request, study: int, shown: Shown) -> RecordPart:
    key = shop_of(request).new_key()
    return record_part(
        recorder_of(request), study, shown.looked, key, shown.holder, shown.chosen, shown.record_wrong
    )


def _standards(
    request: Request, study: int, state: StudyState, tones: StudyTones | None, shown: Shown
) -> StandardsPart:
    if tones is None:
        return StandardsPart("", (), (), ())
    shop = shop_of(request)
    try:
        question = desk_of(request).question(study, state)
        rows = standard_rows(question, tones.known, state)
    except InputRefused:
        rows = ()
    others = tuple(
        (one.study, one.title, one.words)
        for one in standards_of_other_studies(shop, desk_of(request), study, state)
    )
    faults = tuple(str(one) for one in shown.standard_wrong)
    return StandardsPart(
        shop.new_key(), rows, take_fields(loaded_of(tones)), others, shown.series, shown.standard_told, faults
    )


def _checks(request: Request, study: int) -> tuple[CheckPart, ...]:
    try:
        return check_parts(check_takes(shop_of(request), desk_of(request), study))
    except InputRefused:  # told on the page of the question
        return ()


def _check_name(request: Request, study: int, state: StudyState) -> str:
    try:
        return desk_of(request).question(study, state).check.name or ""
    except InputRefused:
        return ""
