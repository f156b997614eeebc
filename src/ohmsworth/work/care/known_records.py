"""What the shop's own studies know together: which comparisons occur in several of them, and what they say."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ohmsworth.errors import Fault, InputRefused, shorten
from ohmsworth.report.words import listed
from ohmsworth.work.care.known_studies import Compared, NamedStudy, ToldKnown, pairs_of, report_known
from ohmsworth.work.records import Card, Records
from ohmsworth.work.study_desk import Desk
from ohmsworth.work.study_log import StudyState

#: Studies that are looked through, the last worked on first.
MOST_STUDIES = 500
#: Of a study's question, as much as stands beside its dot.
_TITLE = 40
#: Studies that are named in a refusal.
_TOLD = 5


@dataclass(frozen=True, slots=True)
class KnownChoice:
    """A comparison that the shop can be asked about, and the studies that have both of its conditions."""

    of: str
    against: str
    studies: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class KnownInRecords:
    """What is told of a comparison; `left_out` are studies that could not be read, with why."""

    told: ToldKnown
    left_out: tuple[tuple[int, str], ...]


def comparisons_kept(desk: Desk, records: Records, fewest: int = 2) -> tuple[KnownChoice, ...]:
    """Comparisons that occur in at least `fewest` studies, those of the most studies first."""
    compared = {card.number: one for card in _cards(records) if (one := _compared(desk, card)) is not None}
    found = (
        KnownChoice(*pair, tuple(n for n, one in compared.items() if set(pair) <= set(one.conditions)))
        for pair in pairs_of(tuple(compared.values()))
    )
    return tuple(one for one in found if len(one.studies) >= fewest)


def known_in_records(desk: Desk, records: Records, of: str, against: str) -> KnownInRecords:
    """What the shop's studies say together of two conditions.

    Raises
    ------
    InputRefused
        Where no study says anything of them.
    """
    studies: list[NamedStudy] = []
    left_out: list[tuple[int, str]] = []
    for card in reversed(_cards(records)):
        state = desk.state(card.number)
        if not {of, against} <= set(_conditions(state)):
            continue
        try:
            loaded = desk.loaded(card.number, state)
        except InputRefused as refused:
            where = listed(list(dict.fromkeys(fault.where for fault in refused.faults)), 3)
            left_out.append((card.number, f"It cannot be answered yet: see {where}."))
            continue
        title = shorten(card.face.title, _TITLE)[1:-1]
        studies.append(NamedStudy(f"no. {card.number}, {title}", loaded))
    if not studies:
        raise InputRefused((_untold(of, against, left_out),))
    return KnownInRecords(report_known(studies, of, against), tuple(left_out))


def _untold(of: str, against: str, left_out: Sequence[tuple[int, str]]) -> Fault:
    """Why no study says anything of two conditions."""
    where, expected = "the comparison", "two conditions of a study that can be answered"
    if left_out:
        told = "; ".join(f"study {number}: {why}" for number, why in left_out[:_TOLD])
        return Fault(where, told, expected, "Answer one of these studies first.")
    found = f"{shorten(of)} against {shorten(against)}, which no study has"
    return Fault(where, found, expected, "Choose one of the comparisons that are listed.")


def _cards(records: Records) -> tuple[Card, ...]:
    return tuple(records.cards("study", most=MOST_STUDIES))


def _compared(desk: Desk, card: Card) -> Compared | None:
    """What a study compares; None where its question cannot be read."""
    state = desk.state(card.number)
    conditions = _conditions(state)
    if len(conditions) < 2:
        return None
    try:
        return Compared(conditions, desk.question(card.number, state).reference)
    except InputRefused:
        return None


def _conditions(state: StudyState) -> tuple[str, ...]:
    """The conditions that something was read or recorded under."""
    readings = (*state.counted, *(take.reading for take in state.counted_takes))
    return tuple(dict.fromkeys(one.entry.condition for one in readings if one.state == "used"))
