"""The use case of how contacts age: by part, plating, age, lot, treatment or condition, over everything in the records."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from statistics import median

import numpy as np

from ohmsworth.errors import Fault, InputRefused, nearest_name, shorten
from ohmsworth.inference.ageing import FEWEST, LevelSlope, SlopeDifference, Slopes, slopes_by_level
from ohmsworth.inference.estimate import Estimate
from ohmsworth.inference.scale import antilog
from ohmsworth.inference.visits import by_visit
from ohmsworth.readings.names import twin_key
from ohmsworth.readings.table import Array, Codes, number_cells
from ohmsworth.report.answer import Interval, SourceAnswer
from ohmsworth.report.care.ageing_answer import (
    FORMAT,
    WAYS,
    AgeingAnswer,
    AgeingDifference,
    By,
    Chosen,
    CoursePoint,
    LevelAgeing,
)
from ohmsworth.report.care.ageing_pages import ageing_report, ageing_summary
from ohmsworth.report.care.ageing_sentences import (
    FASTER,
    OPEN,
    SLOWER,
    ageing_findings,
    ageing_method,
    ageing_sentence,
    ageing_sources,
)
from ohmsworth.report.document import Document
from ohmsworth.sources import source
from ohmsworth.work.care.visited import Looked, Visited, chosen, look_through
from ohmsworth.work.condition_answers import known
from ohmsworth.work.records import Records

COVERAGE = 0.95
_YEAR = 365.25
#: Places of the picture at which visits are brought together.
_PLACES = 8


@dataclass(frozen=True, slots=True)
class ToldAgeing:
    """An answer with its report and what of it fits a terminal; and what the records hold that may be chosen."""

    answer: AgeingAnswer
    report: Document
    summary: Document
    kept: Mapping[By, tuple[str, ...]]


@dataclass(frozen=True, slots=True, eq=False)
class _Rows:
    """One row a visit: year (of the calendar), ln R, numbers of course, specimen and level; and how specimens are old."""

    year: Array
    y: Array
    course: Codes
    specimen: Codes
    level: Codes
    names: tuple[str, ...]
    age: Array


def report_ageing(
    records: Records, by: By, only: Sequence[Chosen] = (), most_anew: int | None = None
) -> ToldAgeing:
    """Say how contacts age, with the report; as `ageing`."""
    looked = look_through(records, most_anew)
    answer = _ageing(looked, by, only)
    return ToldAgeing(answer, ageing_report(answer), ageing_summary(answer), _kept(looked.visits))


def ageing(
    records: Records, by: By, only: Sequence[Chosen] = (), most_anew: int | None = None
) -> AgeingAnswer:
    """Say how contacts age, over everything in the records.

    Parameters
    ----------
    records
        The shop's; figures that are not of today are made anew in them.
    by
        What contacts are told apart by.
    only
        What they must have in common.
    most_anew
        Studies that are looked through anew at most; None for all.

    Raises
    ------
    InputRefused
        When nothing in the records has what is chosen.
    """
    return _ageing(look_through(records, most_anew), by, only)


def _ageing(looked: Looked, by: By, only: Sequence[Chosen]) -> AgeingAnswer:
    _refuse_unknown(looked.visits, only)
    visits = chosen(looked.visits, only)
    stated = [one for one in visits if one.told[by]]
    unstated = {one.specimen for one in visits} - {one.specimen for one in stated}
    levels: tuple[LevelAgeing, ...] = ()
    slopes = Slopes((), (), False)
    if stated:
        rows = _rows(stated, by)
        slopes = slopes_by_level(rows.year, rows.y, rows.course, rows.specimen, rows.level, COVERAGE)
        levels = tuple(_level(rows, k, one) for k, one in enumerate(slopes.levels))
    answer = AgeingAnswer(
        format=FORMAT,
        by=by,
        only=tuple(only),
        sentence="",
        findings=(),
        coverage=COVERAGE,
        levels=levels,
        differences=tuple(_difference(levels, one) for one in slopes.differences),
        own_scatter=slopes.own_scatter,
        unstated=len(unstated),
        waiting=looked.waiting,
        method=(),
        sources=(),
    )
    told = tuple(source(key) for key in ageing_sources(answer))
    return replace(
        answer,
        sentence=ageing_sentence(answer),
        findings=ageing_findings(answer),
        method=ageing_method(answer),
        sources=tuple(SourceAnswer(one.key, one.citation, one.standing) for one in told),
    )


def levels_kept(records: Records) -> dict[By, tuple[str, ...]]:
    """What the records hold of each way to tell contacts apart, the most visits first; as far as they were looked through."""
    return _kept(look_through(records, 0).visits)


def _kept(visits: Sequence[Visited]) -> dict[By, tuple[str, ...]]:
    return {by: tuple(_names(visits, by).values()) for by in WAYS}


def _names(visits: Sequence[Visited], by: By) -> dict[str, str]:
    """Names by what tells two apart, the most visits first; written as first met."""
    written = Counter(one.told[by] for one in visits if one.told[by])
    counts, names = Counter[str](), dict[str, str]()
    for name, number in written.items():
        counts[twin_key(name)] += number
        names.setdefault(twin_key(name), name)
    return {key: names[key] for key, _ in counts.most_common()}


def _refuse_unknown(visits: Sequence[Visited], only: Sequence[Chosen]) -> None:
    faults = []
    for choice in only:
        names = _names(visits, choice.what)
        if twin_key(choice.value) in names:
            continue
        kept = tuple(names.values())
        near = nearest_name(choice.value, kept)
        some = (
            f"one of {', '.join(shorten(name, 30) for name in kept[:8])}" if kept else "one that cards state"
        )
        mend = (
            f"Did you mean {shorten(near)}?"
            if near
            else "Write it as on the cards of the specimens that were read."
        )
        faults.append(Fault(f"only {choice.what}", shorten(choice.value), some, mend))
    if faults:
        raise InputRefused(tuple(faults))


def _coded(keys: Sequence[object]) -> Codes:
    """Numbers of keys, from 0 in the order in which they are met."""
    numbers: dict[object, int] = {}
    return np.array([numbers.setdefault(key, len(numbers)) for key in keys], np.int64)


def _rows(visits: Sequence[Visited], by: By) -> _Rows:
    """One row a visit, whatever contacts were read."""
    names = _names(visits, by)
    order = {key: k for k, key in enumerate(names)}
    places = {name: order[twin_key(name)] for name in {one.told[by] for one in visits}}
    level = np.array([places[one.told[by]] for one in visits], np.int64)
    specimen = np.array([one.specimen for one in visits], np.int64)
    day = np.array([one.day.toordinal() for one in visits], np.int64)
    course = _coded([(one.specimen, one.course) for one in visits])
    contact = number_cells([course, _coded([one.contact for one in visits])])
    visit = number_cells([course, day])
    y, part = by_visit(np.array([one.logarithm for one in visits]), contact, visit)
    first = np.unique(visit, return_index=True)[1]
    made = np.array([math.nan if one.made is None else one.made.toordinal() for one in visits])
    return _Rows(
        day[first] / _YEAR,
        y,
        number_cells([course[first], part]),
        specimen[first],
        level[first],
        tuple(names.values()),
        (day - made)[first] / _YEAR,
    )


def _level(rows: _Rows, number: int, found: LevelSlope) -> LevelAgeing:
    mine = rows.level == number
    slope = found.slope
    since = rows.year - _least(rows.year, rows.course)[rows.course]
    counted = mine & (_least(-since, rows.course)[rows.course] < 0)
    ratio = None if slope is None else _ratio(slope)
    aged = [age for age in _ages(rows, counted) if math.isfinite(age)]
    return LevelAgeing(
        name=rows.names[number],
        specimens=found.specimens,
        read=len(set(rows.specimen[mine].tolist())),
        visits=found.visits,
        followed=float(since[mine].max()),
        per_year=ratio,
        log_slope=None if slope is None else slope.value,
        standard_error=None if slope is None else slope.standard_error,
        degrees_of_freedom=None if slope is None else known(slope.freedom),
        between=found.between,
        within=found.within,
        doubles=None if slope is None else _doubles(slope),
        age=median(aged) if aged else None,
        course=() if slope is None else _course(rows, counted, since, slope.value),
        why="" if slope is not None else _why(found),
    )


def _least(values: Array, group: Codes) -> Array:
    """The least value of each group."""
    least = np.full(int(group.max()) + 1, math.inf)
    np.minimum.at(least, group, values)
    return least


def _ages(rows: _Rows, counted: Array) -> list[float]:
    """The mean age of each specimen at its visits, years."""
    ages: dict[int, list[float]] = defaultdict(list)
    for specimen, age in zip(rows.specimen[counted].tolist(), rows.age[counted].tolist(), strict=True):
        ages[specimen].append(age)
    return [sum(one) / len(one) for one in ages.values()]


def _why(found: LevelSlope) -> str:
    if found.specimens == 0:
        return "no specimen was read on two days under one condition"
    if found.specimens < FEWEST:
        return "one specimen alone was read on two days, which says nothing of its kind"
    return "its readings show no scatter at all, as copies do"


def _ratio(log: Estimate, interval: tuple[float, float] | None = None) -> Interval:
    low, high = log.interval(COVERAGE) if interval is None else interval
    return Interval(antilog(log.value), known(antilog(low)), known(antilog(high)))


def _doubles(slope: Estimate) -> Interval | None:
    """Years to twice the resistance; None where nothing says that it will be."""
    low, high = slope.interval(COVERAGE)
    if high <= 0:
        return None
    return Interval(
        math.log(2) / slope.value if slope.value > 0 else None,
        math.log(2) / high,
        math.log(2) / low if low > 0 else None,
    )


def _course(rows: _Rows, counted: Array, since: Array, slope: float) -> tuple[CoursePoint, ...]:
    """Visits about the same time after their courses began, over where the level's slope has them begin."""
    course = rows.course[counted]
    number = np.maximum(np.bincount(course), 1)
    years = since[counted]
    left = rows.y[counted] - slope * years
    height = np.bincount(course, left) / number
    relative = rows.y[counted] - height[course]
    place = np.minimum((_PLACES * years / years.max()).astype(int), _PLACES - 1)
    return tuple(
        CoursePoint(
            float(years[place == k].mean()),
            antilog(float(relative[place == k].mean())),
            int((place == k).sum()),
        )
        for k in np.unique(place).tolist()
    )


def _difference(levels: Sequence[LevelAgeing], found: SlopeDifference) -> AgeingDifference:
    low, high = found.together
    estimate = found.estimate
    return AgeingDifference(
        levels[found.of].name,
        levels[found.against].name,
        _ratio(estimate, found.interval),
        _ratio(estimate, found.together),
        estimate.value,
        estimate.standard_error,
        known(estimate.freedom),
        estimate.p_value(),
        FASTER if low > 0 else SLOWER if high < 0 else OPEN,
    )
