"""A season of cables: how many were right at once, what was wrong with the others, and whether what they are made of drifts.

Each cable counts once, in the week or month of its last row, by the verdict of its first complete test
(`ohmsworth.work.builds.figures`). A connector or a conductor is followed by the median of its cables in each period, relative to
what was expected of them. The straight line through these medians takes a period, not a cable, for one observation: cables of one
week share a drum, a meter and a pair of hands, and a hundred of them say less of the next week than they seem to. All lines
together hold with the coverage, each with its share of what is left to chance (Bonferroni).
"""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache
from statistics import median
from typing import Literal

import numpy as np

from ohmsworth.inference.lots.shares import share_bounds
from ohmsworth.inference.trend import straight_line
from ohmsworth.report.cable_answer import RIGHT, WRONG
from ohmsworth.work.builds.desk import CableDesk
from ohmsworth.work.builds.face import NOT_TESTED
from ohmsworth.work.records import CardFigures

By = Literal["week", "month"]
COVERAGE = 0.95
#: Periods with cables that a line needs: two more than it has parameters would be comfortable, one is the least.
FEWEST_PERIODS = 3
_DAY = 86400.0
#: Days to which a trend is told: a month, whatever its length.
MONTH = 30
#: Cables that are worked out anew at a time: some seconds.
MOST_ANEW = 200


@dataclass(frozen=True, slots=True)
class Period:
    """Cables of one week (from its Monday) or month (from its first day), by the verdict of their first complete test.

    `unsure` are those to look at and those too close to call; `low` and `high` bound the share that was right.
    """

    start: date
    tested: int
    right: int
    wrong: int
    low: float
    high: float

    @property
    def unsure(self) -> int:
        """Neither right nor wrong."""
        return self.tested - self.right - self.wrong


@dataclass(frozen=True, slots=True)
class Drift:
    """Change of a median ratio in a month of 30 days, as a fraction, with its interval."""

    value: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Course:
    """A connector or a conductor over the season.

    `medians` are the starts of its periods with the median ratio of its cables to what was expected; `drift` is None where
    they are too few for a line.
    """

    name: str
    cables: int
    wires: int
    ratio: float
    medians: tuple[tuple[date, float], ...]
    drift: Drift | None


@dataclass(frozen=True, slots=True)
class Season:
    """What all cables that were found amount to.

    Parameters
    ----------
    by
        The length of a period.
    periods
        Those with cables, in their order.
    faults
        Kinds of what was wrong, the most frequent first, with the number of cables that had it.
    connectors, conductors
        The one with the most cables first.
    begun
        Cables that are measured and not completely.
    unread
        Cables whose figures are not known: measured under an earlier layout of the records, or not to be read.
    """

    by: By
    periods: tuple[Period, ...]
    faults: tuple[tuple[str, int], ...]
    connectors: tuple[Course, ...]
    conductors: tuple[Course, ...]
    begun: int
    unread: int

    @property
    def tested(self) -> int:
        """How many cables had a complete test."""
        return sum(period.tested for period in self.periods)

    @property
    def right(self) -> int:
        """How many were right at it."""
        return sum(period.right for period in self.periods)


def season_of(found: Sequence[CardFigures], by: By) -> Season:
    """Count and follow the cables that were found."""
    known = [one.figures for one in found if one.figures]
    complete = [figures for figures in known if figures["first"] is not None]
    faults = Counter(kind for figures in complete for kind in figures["faults"])
    connectors, conductors = (_gathered(known, name, by) for name in ("connectors", "conductors"))
    lines = sum(len(course.periods) >= FEWEST_PERIODS for course in (*connectors, *conductors))
    coverage = 1 - (1 - COVERAGE) / max(lines, 1)
    return Season(
        by,
        _periods(complete, by),
        tuple(sorted(faults.items(), key=lambda one: (-one[1], one[0]))),
        tuple(course.drawn(coverage) for course in connectors),
        tuple(course.drawn(coverage) for course in conductors),
        len(known) - len(complete),
        sum(1 for one in found if _unread(one)),
    )


def anew(desk: CableDesk) -> int:
    """Make the faces of cables anew whose figures are not known, some at a time; say how many got figures by it."""
    found = [one.card for one in desk.records.figures_of("cable") if _unread(one)]
    for card in found[:MOST_ANEW]:
        desk.records.renew_face(card, desk.face)
    return len(found) - sum(1 for one in desk.records.figures_of("cable") if _unread(one))


@lru_cache(maxsize=4096)
def period_of(day: str, by: By) -> date:
    """The first day of the period in which `day` (as ISO 8601 writes it) lies."""
    found = date.fromisoformat(day)
    return found.replace(day=1) if by == "month" else found - timedelta(days=found.weekday())


def _unread(one: CardFigures) -> bool:
    return not one.figures and one.state != NOT_TESTED


def _periods(complete: Sequence[Mapping[str, str]], by: By) -> tuple[Period, ...]:
    verdicts: dict[date, Counter[str]] = defaultdict(Counter)
    for figures in complete:
        verdicts[period_of(figures["day"], by)][figures["first"]] += 1
    told = []
    for start, counts in sorted(verdicts.items()):
        tested, right = counts.total(), counts[RIGHT]
        bounds = share_bounds(right, tested, (1 + COVERAGE) / 2)
        told.append(Period(start, tested, right, counts[WRONG], *bounds))
    return tuple(told)


@dataclass(slots=True)
class _Gathered:
    """Ratios of one connector or conductor: of all cables, and by period."""

    name: str
    wires: int
    periods: dict[date, list[float]]

    def drawn(self, coverage: float) -> Course:
        medians = tuple((start, median(ratios)) for start, ratios in sorted(self.periods.items()))
        every = [ratio for ratios in self.periods.values() for ratio in ratios]
        return Course(self.name, len(every), self.wires, median(every), medians, _drift(medians, coverage))


def _gathered(
    known: Sequence[Mapping[str, Mapping[str, tuple[int, float]]]], of: str, by: By
) -> list[_Gathered]:
    found: dict[str, _Gathered] = {}
    for figures in known:
        start = period_of(str(figures["day"]), by)
        for name, (wires, ratio) in figures[of].items():
            one = found.setdefault(name, _Gathered(name, 0, defaultdict(list)))
            one.wires += wires
            one.periods[start].append(ratio)
    return sorted(found.values(), key=lambda one: (-sum(map(len, one.periods.values())), one.name))


def _drift(medians: Sequence[tuple[date, float]], coverage: float) -> Drift | None:
    """The slope of a straight line through the logarithms; None where there are too few, or one is no ratio."""
    if len(medians) < FEWEST_PERIODS or any(ratio <= 0 for _, ratio in medians):
        return None
    time = np.array([_DAY * start.toordinal() for start, _ in medians])
    slope = straight_line(time, np.log([ratio for _, ratio in medians])).slope
    value, low, high = (_growth(MONTH * _DAY * rate) for rate in (slope.value, *slope.interval(coverage)))
    return Drift(value, low, high)


def _growth(logarithm: float) -> float:
    """As a fraction; what no float holds is without end."""
    return math.expm1(logarithm) if logarithm < 700 else math.inf
