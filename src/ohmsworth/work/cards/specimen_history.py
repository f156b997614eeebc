"""What a specimen's contacts were over the years: the readings of all studies, reduced study by study."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime

import numpy as np

from ohmsworth.resistance import FORM_WORDS, TONES
from ohmsworth.units import show
from ohmsworth.work.cards.naming import linked
from ohmsworth.work.readable import in_ohms, in_volts
from ohmsworth.work.records import Found, Records
from ohmsworth.work.study_counts import left_out_of, left_out_words
from ohmsworth.work.study_log import StudyState
from ohmsworth.work.take_log import RecordedTake
from ohmsworth.work.take_resistance import frequency_of
from ohmsworth.work.taken_reading import TakenReading
from ohmsworth.work.visits.resistances import read_at, reduced

#: Readings of one specimen; more were read by a machine, and are looked at in their studies.
MOST_READINGS = 20_000
_PAGE = 1000


@dataclass(frozen=True, slots=True)
class Point:
    """One resistance (ohm), when its first reading was taken, and how it was formed.

    `by_tones` says so of a take, with the frequency; "" of what was read with direct current.
    """

    at: datetime
    resistance: float
    condition: str
    contact: str
    mating: str
    form: str
    by_tones: str = ""


@dataclass(frozen=True, slots=True)
class InStudy:
    """What one study found of a specimen: `points` in the order of time; `unread` readings gave no resistance.

    `set_aside` readings are not in the points, nor what the study's answer leaves out by itself, of which `left_out` says why.
    """

    study: int
    title: str
    names: tuple[str, ...]
    points: tuple[Point, ...]
    unread: int
    set_aside: int
    left_out: str = ""


@dataclass(frozen=True, slots=True)
class Spell:
    """One condition of a study: how many resistances, their median and ends (ohm), from when to when.

    Takes of tones stand apart from readings of direct current: `by_tones` says at which frequency, "" for readings.
    """

    study: int
    title: str
    condition: str
    first: datetime
    last: datetime
    count: int
    median: float
    low: float
    high: float
    by_tones: str = ""


def specimen_history(
    records: Records, specimen: int, states: Callable[[int], StudyState]
) -> tuple[InStudy, ...]:
    """Every study in which a specimen's card was read or recorded, the first reading first.

    A take is a point of the form "from tones", with R at the frequency that its study was answered at when it was kept.

    `states` gives what the log of a study says now. Readings that were withdrawn or set aside are left out, and those that the
    study's answer leaves out by itself. A reading belongs to the card when it was taken for it, or when its study says that its
    name stands for the card.
    """
    numbers, titles = _lines_of(records, specimen)
    for card in linked(records, specimen, "study"):
        titles.setdefault(card.number, card.face.title)
    found = [
        _in_study(study, title, specimen, states(study), numbers.get(study, set()))
        for study, title in titles.items()
    ]
    return tuple(
        sorted(found, key=lambda one: (one.points[0].at.timestamp() if one.points else 0.0, one.study))
    )


def _lines_of(records: Records, specimen: int) -> tuple[dict[int, set[int]], dict[int, str]]:
    """The lines by study in which readings were taken for the card, and the titles of the studies."""
    numbers: dict[int, set[int]] = defaultdict(set)
    titles: dict[int, str] = {}
    for first in range(0, MOST_READINGS, _PAGE):
        page: Sequence[Found] = records.readings_of(specimen, first, _PAGE)
        for one in page:
            numbers[one.study].add(one.line.number)
            titles[one.study] = one.title
        if len(page) < _PAGE:
            break
    return numbers, titles


def _in_study(study: int, title: str, specimen: int, state: StudyState, numbers: set[int]) -> InStudy:
    own = {name for name, card in state.specimens.items() if card == specimen}
    other = set(state.specimens) - own

    def mine(one: TakenReading) -> bool:
        return one.entry.specimen in own or (one.number in numbers and one.entry.specimen not in other)

    readings = [one for one in state.counted if mine(one)]
    recorded = [one for one in state.counted_takes if mine(one.reading)]
    takes = [one.reading for one in recorded]
    left_out = left_out_of(state)
    used = [one for one in readings if one.state == "used" and one.number not in left_out]
    points = [
        point for kind in (in_volts, in_ohms) for point in points_of([one for one in used if kind(one.entry)])
    ]
    unread = sum(1 for one in used if not in_volts(one.entry) and not in_ohms(one.entry))
    points += [
        _of_take(one)
        for one in recorded
        if one.reading.state == "used" and one.reading.number not in left_out
    ]
    points.sort(key=lambda point: point.at.timestamp())
    found = [*readings, *takes]
    names = tuple(dict.fromkeys(one.entry.specimen for one in found)) or tuple(sorted(own))
    aside = sum(one.state == "set aside" for one in found)
    why = left_out_words(left_out[one.number] for one in found if one.number in left_out)
    return InStudy(study, title, names, tuple(points), unread, aside, why)


def _of_take(take: RecordedTake) -> Point:
    entry = take.reading.entry
    assert entry.resistance is not None
    hertz = frequency_of(entry.resistance, take.told)
    return Point(
        read_at(take.reading),
        entry.resistance.value,
        entry.condition,
        entry.contact,
        entry.mating,
        FORM_WORDS[TONES],
        "by tones" if hertz is None else f"by tones, at {show(hertz, 'Hz')}",
    )


def points_of(readings: Sequence[TakenReading]) -> list[Point]:
    """Resistances of readings of one kind (all in volts, or all in ohms), pairs and matings reduced as in any study."""
    return [
        Point(read_at(one), value, one.entry.condition, one.entry.contact, one.entry.mating, FORM_WORDS[form])
        for one, value, form in reduced(readings)
    ]


def spells(studies: Iterable[InStudy]) -> tuple[Spell, ...]:
    """A line a study and condition, in the order of time."""
    found = []
    for one in studies:
        groups: dict[tuple[str, str], list[Point]] = defaultdict(list)
        for point in one.points:
            groups[point.condition, point.by_tones].append(point)
        for (condition, by_tones), points in groups.items():
            values = np.array([point.resistance for point in points])
            found.append(
                Spell(
                    one.study,
                    one.title,
                    condition,
                    points[0].at,
                    points[-1].at,
                    len(points),
                    float(np.median(values)),
                    float(values.min()),
                    float(values.max()),
                    by_tones,
                )
            )
    return tuple(sorted(found, key=lambda spell: (spell.first.timestamp(), spell.study)))
