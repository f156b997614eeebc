"""What a visit measured, with the uncertainty and the verdict that its study knows."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace
from statistics import median

from ohmsworth.errors import OhmsworthError
from ohmsworth.readings.entries import FIRST_LINE, ONE_CONDITION, table_of_entries
from ohmsworth.readings.entry import Entry
from ohmsworth.readings.study import Limit, Study
from ohmsworth.report.against_limit import UNKNOWN, verdict_word
from ohmsworth.report.answer import Bound, SpecimenAnswer
from ohmsworth.report.papers.service_card import ServiceMeasure
from ohmsworth.work.answer_study import specimen_answers
from ohmsworth.work.cards.specimen_history import Point
from ohmsworth.work.lot_sample import JOINED, by_contact
from ohmsworth.work.ports import LoadedStudy
from ohmsworth.work.records import NOBODY
from ohmsworth.work.results import find_results
from ohmsworth.work.service.visits import Visit
from ohmsworth.work.study_counts import counted_in
from ohmsworth.work.study_desk import Desk
from ohmsworth.work.taken_reading import TakenReading
from ohmsworth.work.visits.resistances import read_at


def limit_of_study(desk: Desk, study: int) -> Bound | None:
    """The limit that a study was asked about; None where it has none, or cannot be read."""
    try:
        limit = desk.question(study, desk.state(study)).limit
    except OhmsworthError:
        return None
    return None if limit is None else Bound(limit.resistance, limit.source)


def measure_of(desk: Desk, visit: Visit, limit: Bound | None) -> ServiceMeasure:
    """The worst contact of a visit on its last day: as its study answers, else by the readings of that day and its meters.

    A contact that ages is no more what it was on average: where a visit has several days, those before the last are left out. A
    study answers for all that was read under the condition, and not where it compares conditions of a single specimen.
    """
    visit = visit.on_day(visit.last.date())
    told = (_answers(desk, visit, limit) if visit.whole else ()) or _own_answers(desk, visit, limit)
    contacts = {point.contact for point in visit.points}
    if told:
        worst = max(told, key=lambda one: one.resistance)
        contact = worst.id.rpartition(JOINED)[2] if len(contacts) > 1 else ""
        verdict = "" if limit is None else verdict_word(worst)
        value, uncertainty = worst.resistance, worst.standard_uncertainty
    else:
        contact, value = _worst_read(visit.points)
        verdict, uncertainty = ("" if limit is None else UNKNOWN), None
    return ServiceMeasure(
        visit.last.date().isoformat(),
        visit.condition,
        f"study {visit.study.study}",
        value,
        uncertainty,
        verdict,
        contact if len(contacts) > 1 else "",
        len(contacts),
        _people(desk, visit),
        _stated(desk, visit),
    )


def course_of(visit: Visit) -> tuple[tuple[str, float], ...]:
    """What the worst contact read on each day of a visit, ohm; nothing where it is a single day."""
    days = sorted({point.at.date() for point in visit.points})
    if len(days) < 2:
        return ()
    return tuple((day.isoformat(), _worst_read(visit.on_day(day).points)[1]) for day in days)


def _answers(desk: Desk, visit: Visit, limit: Bound | None) -> tuple[SpecimenAnswer, ...]:
    """What the study says of this specimen's contacts under the condition; nothing where it says nothing."""
    try:
        every = _study_answers(desk, visit.study.study, limit)
    except OhmsworthError:
        return ()
    return tuple(one for one in every if _is_of(one, visit))


def _study_answers(desk: Desk, study: int, limit: Bound | None) -> tuple[SpecimenAnswer, ...]:
    state = desk.state(study)
    key = ("contacts", *desk.stand(study, state), limit)

    def find() -> tuple[SpecimenAnswer, ...]:
        loaded = desk.loaded(study, state)
        if loaded.tone is not None:  # its answer is about takes
            return ()
        asked = None if limit is None else Limit(limit.resistance, limit.source)
        loaded = by_contact(replace(loaded, study=replace(loaded.study, limit=asked)))
        return specimen_answers(find_results(loaded))

    return desk.once(key, find)


def _own_answers(desk: Desk, visit: Visit, limit: Bound | None) -> tuple[SpecimenAnswer, ...]:
    """What its own readings say of its contacts; nothing where they cannot be used together.

    Specimens beside it, read in the same study under the same condition, tell how much a mating scatters.
    """
    own = _readings(desk, visit)
    beside = [
        one
        for one in counted_in(desk.state(visit.study.study))
        if one.entry.specimen not in visit.study.names and _condition(one) == visit.condition
    ]
    for readings in ((*beside, *own), own):
        try:
            every = _answers_of(desk, visit, [one.entry for one in readings], limit)
        except OhmsworthError:
            continue
        return tuple(one for one in every if _is_of(one, visit))
    return ()


def _answers_of(
    desk: Desk, visit: Visit, entries: Sequence[Entry], limit: Bound | None
) -> tuple[SpecimenAnswer, ...]:
    """What some readings of a study say by themselves, with its meters."""
    number = visit.study.study
    asked = desk.question(number, desk.state(number))
    study = Study(
        asked.question,
        scale=asked.scale,
        coverage=asked.coverage,
        limit=None if limit is None else Limit(limit.resistance, limit.source),
        bench=asked.bench,
        plating=asked.plating,
        ambient=asked.ambient,
        # What does not count was left out by the whole study, which knows more than these readings.
        keep=frozenset(range(FIRST_LINE, FIRST_LINE + len(entries))),
    )
    return specimen_answers(find_results(by_contact(LoadedStudy(study, table_of_entries(entries), ()))))


def _is_of(one: SpecimenAnswer, visit: Visit) -> bool:
    """Whether an answer is of the visit's specimen, or of a contact of it, under its condition."""
    names = visit.study.names
    return one.condition == visit.condition and any(
        one.id == name or one.id.startswith(f"{name}{JOINED}") for name in names
    )


def _condition(one: TakenReading) -> str:
    return one.entry.condition or ONE_CONDITION


def _readings(desk: Desk, visit: Visit) -> tuple[TakenReading, ...]:
    """Those of the visit that count: the days of two visits of one condition are apart."""
    days = {point.at.date() for point in visit.points}
    return tuple(
        one
        for one in counted_in(desk.state(visit.study.study))
        if one.entry.specimen in visit.study.names
        and _condition(one) == visit.condition
        and read_at(one).date() in days
    )


def _worst_read(points: Sequence[Point]) -> tuple[str, float]:
    """The contact with the largest median of what was read."""
    groups: dict[str, list[float]] = defaultdict(list)
    for point in points:
        groups[point.contact].append(point.resistance)
    return max(((name, median(values)) for name, values in groups.items()), key=lambda pair: pair[1])


def _stated(desk: Desk, visit: Visit) -> bool:
    """Whether the accuracy of its meters is."""
    study, readings = visit.study.study, _readings(desk, visit)
    direct = bool(readings) and readings[0].entry.resistance is not None
    try:
        return not desk.question(study, desk.state(study)).bench.unstated(direct)
    except OhmsworthError:
        return False


def _people(desk: Desk, visit: Visit) -> tuple[str, ...]:
    mine = (one.entry.operator or one.by for one in _readings(desk, visit))
    return tuple(name for name in dict.fromkeys(mine) if name and name != NOBODY)


def last_of(visits: Sequence[Visit]) -> Visit | None:
    """The visit that was read last."""
    return max(visits, key=lambda one: one.last.timestamp(), default=None)
