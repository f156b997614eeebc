"""What a visit measured, with the uncertainty and the verdict that its study knows."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace
from statistics import median

from ohmsworth.errors import OhmsworthError
from ohmsworth.readings.entries import FIRST_LINE, ONE_CONDITION, table_of_entries
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
    """The worst contact of a visit: as its study answers, else by the visit's own readings and meters.

    A study answers for all that was read under the condition, and not where it compares conditions of a single specimen.
    """
    study = visit.study.study
    told = (_answers(desk, visit, limit) if visit.whole else ()) or _own_answers(desk, visit, limit)
    contacts = {point.contact for point in visit.points}
    days = (visit.first.date().isoformat(), visit.last.date().isoformat())
    about = (*days, visit.condition, f"study {study}")
    if told:
        worst = max(told, key=lambda one: one.resistance)
        contact = worst.id.rpartition(JOINED)[2] if len(contacts) > 1 else ""
        verdict = "" if limit is None else verdict_word(worst)
        value, uncertainty = worst.resistance, worst.standard_uncertainty
    else:
        contact, value = _worst_read(visit.points)
        verdict, uncertainty = ("" if limit is None else UNKNOWN), None
    return ServiceMeasure(
        *about,
        value,
        uncertainty,
        verdict,
        contact if len(contacts) > 1 else "",
        len(contacts),
        _people(desk, visit),
        _stated(desk, visit),
        _on_last_day(visit),
    )


def _answers(desk: Desk, visit: Visit, limit: Bound | None) -> tuple[SpecimenAnswer, ...]:
    """What the study says of this specimen's contacts under the condition; nothing where it says nothing."""
    study, names = visit.study.study, visit.study.names
    try:
        every = _study_answers(desk, study, limit)
    except OhmsworthError:
        return ()
    return tuple(
        one
        for one in every
        if one.condition == visit.condition
        and any(one.id == name or one.id.startswith(f"{name}{JOINED}") for name in names)
    )


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
    """What its own readings say of its contacts; nothing where they cannot be used together."""
    number = visit.study.study
    try:
        asked = desk.question(number, desk.state(number))
        entries = [one.entry for one in _readings(desk, visit)]
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
        table = table_of_entries(entries)
        return specimen_answers(find_results(by_contact(LoadedStudy(study, table, ()))))
    except OhmsworthError:
        return ()


def _readings(desk: Desk, visit: Visit) -> tuple[TakenReading, ...]:
    """Those of the visit that count: the days of two visits of one condition are apart."""
    days = {point.at.date() for point in visit.points}
    return tuple(
        one
        for one in counted_in(desk.state(visit.study.study))
        if one.entry.specimen in visit.study.names
        and (one.entry.condition or ONE_CONDITION) == visit.condition
        and read_at(one).date() in days
    )


def _on_last_day(visit: Visit) -> float | None:
    """What the worst contact read on the last day of several: a contact that ages is no more what it was on average."""
    last = [point for point in visit.points if point.at.date() == visit.last.date()]
    return None if len(last) == len(visit.points) else _worst_read(last)[1]


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
