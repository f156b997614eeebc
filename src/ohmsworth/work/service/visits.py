"""A specimen's readings as visits with what was done between them.

A visit is what one study read of it under one condition between two treatments. Treatments are those that its card holds; where a
study read it under one condition and then under another and nothing is written down, the change itself stands for one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from math import inf

from ohmsworth.readings.entries import ONE_CONDITION
from ohmsworth.report.papers.service_card import ServiceStep
from ohmsworth.report.step_words import CLEAN
from ohmsworth.work.cards.log import Treatment
from ohmsworth.work.cards.specimen_history import InStudy, Point
from ohmsworth.work.cards.treated import after_treatment


@dataclass(frozen=True, slots=True)
class Visit:
    """Resistances of one study and condition, in the order of time; `whole` says that these are all of that study's."""

    study: InStudy
    condition: str
    points: tuple[Point, ...]
    whole: bool

    def on_day(self, day: date) -> Visit:
        """What was read on one of its days alone."""
        points = tuple(point for point in self.points if point.at.date() == day)
        return self if len(points) == len(self.points) else replace(self, points=points, whole=False)

    @property
    def first(self) -> datetime:
        """When it was read first."""
        return self.points[0].at

    @property
    def last(self) -> datetime:
        """When it was read last."""
        return self.points[-1].at


@dataclass(frozen=True, slots=True)
class Span:
    """What was done, and every visit from then until something was done again."""

    steps: tuple[ServiceStep, ...]
    visits: tuple[Visit, ...]


def spans_of(studies: Sequence[InStudy], treatments: Sequence[Treatment]) -> tuple[Span, ...]:
    """The spans from the first on, which begins with nothing done.

    Parameters
    ----------
    studies
        Of the specimen; takes of tones are left out.
    treatments
        Of its card, in the order of their days; those without a day or withdrawn do not count.
    """
    done = [one for one in treatments if one.on is not None and not one.withdrawn]
    between: list[list[tuple[InStudy, Point]]] = [[] for _ in range(len(done) + 1)]
    read = [(study, point) for study in studies for point in study.points if not point.by_tones]
    after = [_after(one, [point for _, point in read]) for one in done]
    for study, point in sorted(read, key=lambda pair: pair[1].at.timestamp()):
        between[_after_how_many(point, done, after)].append((study, point))
    spans: list[Span] = []
    for number, points in enumerate(between):
        steps = (_step(done[number - 1]),) if number else ()
        if number and not spans[-1].visits and spans[-1].steps:  # nothing was read between: one service
            steps = (*spans.pop().steps, *steps)
        spans += _with_unwritten(steps, _visits(points))
    return tuple(spans)


def _after(treatment: Treatment, points: Sequence[Point]) -> frozenset[str]:
    """The conditions of its day that were read after a treatment."""
    day = treatment.on
    assert day is not None
    read: dict[str, float] = {}
    for point in points:
        if point.at.date() == day:
            read[point.condition] = max(read.get(point.condition, -inf), point.at.timestamp())
    earlier = {point.condition for point in points if point.at.date() < day}
    return after_treatment(read, treatment.read_as, earlier)


def _after_how_many(point: Point, done: Sequence[Treatment], after: Sequence[frozenset[str]]) -> int:
    """How many treatments a reading comes after."""
    day = point.at.date()
    return max(
        (
            number
            for number, (one, conditions) in enumerate(zip(done, after, strict=True), start=1)
            if one.on is not None and (one.on < day or (one.on == day and point.condition in conditions))
        ),
        default=0,
    )


def _visits(points: Sequence[tuple[InStudy, Point]]) -> tuple[Visit, ...]:
    groups: dict[tuple[int, str], tuple[InStudy, list[Point]]] = {}
    for study, point in points:
        groups.setdefault((study.study, point.condition), (study, []))[1].append(point)
    found = []
    for (_, condition), (study, mine) in groups.items():
        every = sum(1 for one in study.points if one.condition == condition and not one.by_tones)
        found.append(Visit(study, condition or ONE_CONDITION, tuple(mine), len(mine) == every))
    return tuple(found)


def _with_unwritten(steps: tuple[ServiceStep, ...], visits: Sequence[Visit]) -> list[Span]:
    """The span, parted where a study read it under another condition with nothing written down between."""
    spans = [Span(steps, ())]
    for visit in visits:
        before = spans[-1].visits[-1] if spans[-1].visits else None
        if before is not None and before.study is visit.study and before.last <= visit.first:
            spans.append(Span((_unwritten(before, visit),), ()))
        spans[-1] = Span(spans[-1].steps, (*spans[-1].visits, visit))
    return spans


def _unwritten(before: Visit, after: Visit) -> ServiceStep:
    what = "clean" if after.condition.casefold() in CLEAN else ""
    day = after.first.date().isoformat()
    return ServiceStep(day, what, written=False, before=before.condition, after=after.condition)


def _step(one: Treatment) -> ServiceStep:
    assert one.on is not None
    return ServiceStep(one.on.isoformat(), one.what, one.by, one.note)
