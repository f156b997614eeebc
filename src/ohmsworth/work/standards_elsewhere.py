"""Takes of short, load and open of another study with the same tones and circuit, taken over with their own date."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.report.words import count, listed
from ohmsworth.work.closed import refuse_closed
from ohmsworth.work.keep_standard import KeptStandard, kept_before, sound_doubts_of, standard_sentence
from ohmsworth.work.keep_take import planned
from ohmsworth.work.records import NewLine
from ohmsworth.work.shop import Shop
from ohmsworth.work.study_cards import study_face
from ohmsworth.work.study_desk import Desk
from ohmsworth.work.study_log import STANDARD, StudyState
from ohmsworth.work.study_tones import StudyTones, tones_of
from ohmsworth.work.take_log import StandardTakes, taken_over_fields
from ohmsworth.work.tone_files import SERIES
from ohmsworth.work.tones import same_plan

#: So many of the studies last worked on are looked through: older standards are of leads that have changed since.
_MOST_STUDIES = 40


@dataclass(frozen=True, slots=True)
class OtherStandards:
    """The standards in use of another study, in the order short, load, open; `words` say which and how old they are."""

    study: int
    title: str
    standards: tuple[StandardTakes, ...]
    words: str


def standards_of_other_studies(
    shop: Shop, desk: Desk, study: int, state: StudyState
) -> tuple[OtherStandards, ...]:
    """Studies whose standards may be taken over, the one last worked on first; none before tones were planned.

    Raises
    ------
    InputRefused
        With every fault of the study's own tones.
    """
    tones = tones_of(shop, study, state, desk)
    if tones is None:
        return ()
    found = []
    for card in shop.records.cards("study", most=_MOST_STUDIES):
        if card.number == study:
            continue
        other = desk.state(card.number)
        standards = _in_use(other)
        if standards and _alike(shop, desk, card.number, other, tones):
            words = f"{_named(standards)}, {_ages(standards, shop.clock())}"
            found.append(OtherStandards(card.number, card.face.title, standards, words))
    return tuple(found)


def take_over_standards(
    shop: Shop, desk: Desk, study: int, state: StudyState, from_study: int, by: str, key: str
) -> tuple[KeptStandard, ...]:
    """Have the standards in use of another study taken off this study's contacts too, with the date that they have.

    Raises
    ------
    NoSuchCard
        When there is no such study.
    InputRefused
        Where its tones or its circuit are others, it has no standards, or this study is closed.
    """
    refuse_closed(state)
    tones = planned(tones_of(shop, study, state, desk))
    other = desk.state(from_study)
    standards, faults = _in_use(other), []
    where = f"study no. {from_study}"
    if not standards:
        mend = "Choose a study that has them, or record them."
        faults.append(Fault(where, "no takes of short, load or open in use", "a study that has some", mend))
    elif from_study == study or not _alike(shop, desk, from_study, other, tones):
        mend = "Record short, load and open with the tones and the circuit of this study."
        faults.append(
            Fault(where, "other tones or another circuit", "another study with the same of both", mend)
        )
    if faults:
        raise InputRefused(tuple(faults))
    now = shop.clock()
    known = {series: one.digest for series, one in state.standard_of.items()}
    their_key = shop.records.lines(from_study)[0].key
    new = [one for one in standards if known.get(one.series) != one.digest]
    lines = [
        NewLine(
            f"{key}.{one.series}",
            STANDARD,
            taken_over_fields(one, from_study, their_key),
            reason=f"taken over from {_recorded_in(one, from_study)}, {_ages((one,), now)}",
        )
        for one in new
    ]
    kept = shop.records.add(study, by, lines, study_face) if lines else ()
    after = desk.state(study)
    question = desk.question(study, after)
    return tuple(
        KeptStandard(
            line.number,
            f"{standard_sentence(question, tones.known, after, one)} It is that of study no. {from_study}, "
            f"{_ages((one,), now)}: record it anew where leads, gains or interface have changed since.",
            sound_doubts_of(one.told),
            kept_before(after, one.series, line.number),
        )
        for line, one in zip(kept, new, strict=True)
    )


def _in_use(state: StudyState) -> tuple[StandardTakes, ...]:
    used = state.standard_of
    return tuple(used[series] for series in SERIES if series in used)


def _alike(shop: Shop, desk: Desk, study: int, state: StudyState, tones: StudyTones) -> bool:
    """Whether a study has the same tones and the same circuit; one whose own tones cannot be read has not."""
    try:
        other = tones_of(shop, study, state, desk)
    except InputRefused:  # told on its own page
        return False
    return (
        other is not None
        and same_plan(other.plan, tones.plan)
        and other.wishes.circuit == tones.wishes.circuit
        and other.known.load == tones.known.load
    )


def _recorded_in(one: StandardTakes, study: int) -> str:
    """The study in which a standard of `study` was recorded, in words."""
    if one.of is None and one.of_key:
        return "another study"
    return f"study no. {one.of or study}"


def _named(standards: tuple[StandardTakes, ...]) -> str:
    return listed([one.series for one in standards])


def _ages(standards: tuple[StandardTakes, ...], now: datetime) -> str:
    """``of 2 March 2026, 12 days old``; of several the oldest."""
    oldest = min(one.at for one in standards)
    days = max((now.astimezone().date() - oldest.astimezone().date()).days, 0)
    day = oldest.astimezone()
    age = f"{count(days, 'day')} old" if days else "of today"
    return f"recorded on {day.day} {day:%B %Y}, {age}"
