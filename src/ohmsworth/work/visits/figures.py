"""What a study says of each visit to a specimen's contacts, as figures that are kept beside the study.

A visit is all that was read in one day of one contact under one condition: the mean of the logarithms of its resistances (ohm),
and how many there were. Only readings of direct current count that stand for a specimen's card and that the study's answer uses.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence
from datetime import date
from typing import Any, NamedTuple

from ohmsworth.work.readable import in_ohms, in_volts
from ohmsworth.work.records import Line
from ohmsworth.work.study_counts import counted_in
from ohmsworth.work.study_log import StudyState
from ohmsworth.work.visits.resistances import read_at, reduced

#: Digits of a logarithm that are kept: far below what any meter shows.
_DIGITS = 9


class Visit(NamedTuple):
    """One contact on one day: the specimen's card, names, ISO day, time last read, mean of ln R, how many resistances."""

    specimen: int
    condition: str
    contact: str
    day: str
    last: str
    logarithm: float
    number: int


def visit_figures(lines: Sequence[Line], state: StudyState) -> dict[str, Any]:
    """The visits of a study, and up to which line of its log they go."""
    return {"to": state.last, "visits": [list(one) for one in _visits(lines, state)]}


def visits_in(figures: Any, lines: int) -> list[Visit] | None:
    """The visits that were kept; None where the log has grown since, to `lines` lines."""
    if figures.get("to") != lines:
        return None
    return [Visit(*one) for one in figures["visits"]]


def _visits(lines: Sequence[Line], state: StudyState) -> list[Visit]:
    taken_for = {line.number: line.specimen for line in lines if line.specimen is not None}
    cards = {
        one.number: card
        for one in counted_in(state)
        if (card := state.specimens.get(one.entry.specimen, taken_for.get(one.number))) is not None
    }
    used = [one for one in state.readings if one.number in cards]
    groups: dict[tuple[int, str, str, date], list[tuple[str, float]]] = defaultdict(list)
    for kind in (in_volts, in_ohms):
        for one, value, _ in reduced([one for one in used if kind(one.entry)]):
            if value > 0:
                entry = one.entry
                at = read_at(one)
                read = at.time().isoformat("seconds"), math.log(value)
                groups[cards[one.number], entry.condition, entry.contact, at.date()].append(read)
    return [
        Visit(
            card,
            condition,
            contact,
            day.isoformat(),
            max(time for time, _ in read),
            round(sum(logarithm for _, logarithm in read) / len(read), _DIGITS),
            len(read),
        )
        for (card, condition, contact, day), read in groups.items()
    ]
