"""Takes of a contact kept with a study in the records: analysed, judged, and one line written; the sound is not kept."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from ohmsworth.errors import Fault, InputRefused, shorten
from ohmsworth.inference.conformity import probability_within, verdict
from ohmsworth.readings.doubt import Doubt
from ohmsworth.readings.entries import FIRST_LINE, table_of_entries
from ohmsworth.readings.entry import Entry, Typed
from ohmsworth.readings.entry_faults import find_entry_faults
from ohmsworth.readings.home import Home
from ohmsworth.readings.study import Study
from ohmsworth.report.takes_answer import LimitAnswer
from ohmsworth.report.takes_sentences import limit_words
from ohmsworth.resistance.impedance.estimated import Estimated
from ohmsworth.resistance.impedance.of_contacts import gathered
from ohmsworth.resistance.impedance.sound_faults.grave import GRAVE
from ohmsworth.units import show, show_percent, show_pm
from ohmsworth.work.closed import refuse_closed
from ohmsworth.work.columns import columns_of
from ohmsworth.work.contact_takes import contact_of
from ohmsworth.work.drafts import Draft, read_draft
from ohmsworth.work.judge_entry import limit_for
from ohmsworth.work.loaded_takes import LoadedTakes
from ohmsworth.work.own_times import in_own_way
from ohmsworth.work.ports import LoadedImpedances
from ohmsworth.work.records import NOBODY, NewLine
from ohmsworth.work.shop import Shop
from ohmsworth.work.study_cards import study_face
from ohmsworth.work.study_desk import Desk
from ohmsworth.work.study_log import SET_ASIDE, TAKE, StudyState
from ohmsworth.work.study_tones import StudyTones, tones_of
from ohmsworth.work.take_doubts import take_doubts
from ohmsworth.work.take_log import RecordedTake, take_fields
from ohmsworth.work.take_resistance import as_typed, resistance_at
from ohmsworth.work.take_told import basis_of, curve_of, digest_of, entry_of, told_of
from ohmsworth.work.takes import lacking
from ohmsworth.work.tone_files import WISHES
from ohmsworth.work.uploads import Uploads, as_sent, open_uploads


@dataclass(frozen=True, slots=True)
class NewTake:
    """What was recorded: names as of a reading, a remark, the step of the bench sheet that it answers, further columns."""

    specimen: str
    condition: str
    contact: str = ""
    mating: str = ""
    note: str = ""
    step: int | None = None
    others: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class KeptTake:
    """What became of takes: the line that keeps them, R in ohm at the tone of `frequency` hertz in a sentence, and doubts.

    `verdict` is that against the limit, "" where there is none or where a doubt is `grave`: the number cannot be relied on then,
    and the take is set aside until somebody puts it back with a reason.
    """

    number: int
    sentence: str
    doubts: tuple[Doubt, ...]
    frequency: float
    resistance: Estimated
    verdict: str = ""
    grave: bool = False


def keep_take(
    shop: Shop,
    desk: Desk,
    study: int,
    state: StudyState,
    take: NewTake,
    uploads: Uploads,
    by: str,
    key: str,
) -> KeptTake:
    """Analyse the recordings of one contact with the study's tones and standards, and keep what they told.

    A key that is known is kept once. Doubts about the sound are kept with the take.

    Raises
    ------
    InputRefused
        With every fault of names and recordings; or no tones were planned, or the study is closed.
    """
    question = desk.question(study, state)
    known = next((one for one in state.takes if one.reading.key == key), None)
    if known is not None:
        return _kept(question, known)
    refuse_closed(state)
    tones = planned(tones_of(shop, study, state, desk))
    entry, faults = _entry(shop, question, state, take, by)
    short = lacking(state.standard_of.keys(), tones.known)
    faults += short
    try:
        opened = open_uploads(shop, state, uploads, tones.known.channels)
        # Without what a standard lacks nothing can be taken off; the recordings are looked at all the same.
        standards = {} if short else {series: curve_of(one.told) for series, one in state.standard_of.items()}
        loaded = LoadedTakes(tones.wishes, tones.known, tones.plan, {}, (), ())
        told = told_of(*contact_of(loaded, opened.recordings, standards))
    except InputRefused as refused:
        raise InputRefused((*faults, *as_sent(refused, uploads).faults)) from refused
    if faults:
        raise InputRefused(tuple(faults))
    entry = replace(entry, resistance=as_typed(resistance_at(question.frequencies, curve_of(told))[1]))
    fields = take_fields(opened.files, digest_of(opened.files), _basis(shop, tones, state), told)
    line = NewLine(key, TAKE, fields, entry=entry, specimen=state.specimens.get(entry.specimen))
    number = shop.records.add(study, by, [line], study_face)[0].number
    if graves := _graves(told["state"]["doubts"]):
        why = f"kept out at once: {', '.join(words for _, words, _ in graves)}"
        aside = NewLine(f"{key} aside", SET_ASIDE, about=number, reason=shorten(why, 300))
        shop.records.add(study, by, [aside], study_face)
    return _kept(question, next(one for one in desk.state(study).takes if one.reading.number == number))


def planned(tones: StudyTones | None) -> StudyTones:
    """The tones, which have to be planned before takes are kept.

    Raises
    ------
    InputRefused
        Where they are not.
    """
    if tones is None:
        mend = "Plan the tones of the study first: the takes are recordings of them."
        raise InputRefused((Fault(WISHES, "no tones", "the plan that was played", mend),))
    return tones


def told_at(value: Estimated, frequency: float, coverage: float) -> str:
    """``8.991 ± 0.051 mΩ at 1.00 kHz``: half the width of the interval after the sign."""
    low, high = value.interval(coverage)
    return f"{show_pm(value.value, (high - low) / 2, 'Ω')} at {show(frequency, 'Hz')}"


def _entry(
    shop: Shop, question: Study, state: StudyState, take: NewTake, by: str
) -> tuple[Entry, list[Fault]]:
    """What was recorded as an entry without its resistance, and the faults of its names."""
    columns = columns_of(question, state)
    labels = {name: getattr(take, name) for name in ("specimen", "condition", "contact", "mating")}
    draft = Draft(
        columns.completed({**labels, **take.others}),
        "",
        {},
        note=take.note,
        operator="" if by == NOBODY else by,
        step=take.step,
        needed=columns.needed,
    )
    try:
        entry = read_draft(draft, "point", shop.clock(), typed=False).entry
    except InputRefused as refused:
        return Entry(take.specimen, take.condition), list(refused.faults)
    before = [one.reading.entry for one in state.counted_takes if one.reading.state == "used"]
    read = [one.entry for one in state.counted]
    assert entry.time is not None
    entry = replace(entry, time=in_own_way(entry.time, [*read, *before]))
    return entry, _name_faults(question, before, read, entry)


def _name_faults(question: Study, before: list[Entry], read: list[Entry], entry: Entry) -> list[Fault]:
    """Names held to those of earlier takes, and those of contacts to readings of direct current too.

    R may be nought or less within its noise: the answer says what that means, so no scale is asked for it here.
    """
    loose, whole = replace(question, scale="linear"), replace(entry, resistance=Typed("0", "Ω", "resistance"))
    alike = [
        replace(whole, specimen=one.specimen, condition=one.condition)
        for one in {(one.specimen, one.condition): one for one in read}.values()
    ]
    faults = [*find_entry_faults(loose, before, whole), *find_entry_faults(loose, alike, whole)]
    return list(dict.fromkeys(faults))


def _graves(doubts: Sequence[Sequence[str]]) -> list[tuple[str, str, str]]:
    """Doubts (code, words, what to do) that leave no number to judge by."""
    return [(code, words.rstrip("."), mend) for code, words, mend in doubts if code in GRAVE]


def _basis(shop: Shop, tones: StudyTones, state: StudyState) -> str:
    digests = {series: one.digest for series, one in state.standard_of.items()}
    return basis_of(tones.text.encode("utf-8", "replace"), shop.plan_bytes(tones.plan), digests)


def _kept(question: Study, take: RecordedTake) -> KeptTake:
    """What is said of a take that is kept."""
    entry, nth = take.reading.entry, take.reading.nth
    curve, said = entry_of(take.told)
    frequency, value = resistance_at(question.frequencies, curve)
    words = (
        f"{told_at(value, frequency, question.coverage)}; after ± stands half the width of the "
        f"{show_percent(question.coverage)} interval"
    )
    limit, held = limit_for(question, entry), ""
    if limit is not None and question.limit is not None:
        chance = float(probability_within(value.value, value.uncertainty, value.freedom, limit))
        judged = LimitAnswer(limit, question.limit.source, chance, verdict(chance, question.coverage))
        words, held = f"{words}. It is {limit_words(judged)}", judged.verdict
    alone = LoadedImpedances(gathered(table_of_entries([entry]), [curve]), (said,))
    graves = _graves(said.doubts)
    if graves:
        (_, first, mend), *_ = graves
        words = (
            f"Look at the recording first: {first}. {mend} What it gives, {told_at(value, frequency, question.coverage)}, cannot "
            "be relied on; the take is set aside and counts for nothing unless it is put back with a reason"
        )
        held = ""
    doubts = take_doubts(alone, Home("records", take_of={FIRST_LINE: nth}, row_word="take"))
    return KeptTake(take.reading.number, f"{words}.", tuple(doubts), frequency, value, held, bool(graves))
