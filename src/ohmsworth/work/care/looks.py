"""A contact's history as a line, and when to look at it again."""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import date

import numpy as np

from ohmsworth.advice.next_look import DAY, NextLook, look_by_air, look_by_trend, shortest_of
from ohmsworth.inference.scale import antilog
from ohmsworth.inference.trend import Trend, reached, straight_line
from ohmsworth.report.care.care_answer import DatedAnswer, NextLookAnswer, TrendAnswer, TrendPoint
from ohmsworth.work.care_ports import HistoryRow

#: Fewer readings show no line with its scatter.
FEWEST = 3
_YEAR = 365.25 * DAY
#: Places at which the line is drawn.
_PLACES = 41


def since_treated(rows: Sequence[HistoryRow]) -> list[HistoryRow]:
    """The readings from the last treatment on: what was before it tells nothing of what comes after."""
    starts = [k for k, row in enumerate(rows) if row.treated]
    return list(rows[starts[-1] :] if starts else rows)


def with_found(rows: Sequence[HistoryRow], today: date, resistance: float) -> tuple[HistoryRow, ...]:
    """The history with the contact as found on its day, unless that stands there already."""
    if any(row.day == today for row in rows):
        return tuple(rows)
    return (*rows, HistoryRow(0, today, resistance))


def line_of(rows: Sequence[HistoryRow]) -> Trend | None:
    """The straight line through the logarithms since the last treatment; None where there are too few readings or days."""
    counted = since_treated(rows)
    if len(counted) < FEWEST or len({row.day for row in counted}) < 2:
        return None
    return straight_line(
        np.array([_seconds(row.day) for row in counted]), np.log([row.resistance for row in counted])
    )


def trend_answer(
    rows: Sequence[HistoryRow], line: Trend, limit: float, today: date, coverage: float
) -> TrendAnswer:
    """The history and its line, written down; the line is drawn as far as it is followed."""
    counted = since_treated(rows)
    found = reached(line, math.log(limit), max(_seconds(today), line.last), coverage)
    places = np.unique(np.linspace(line.first, 2 * line.last - line.first, _PLACES).round(-4) // DAY) * DAY
    points = []
    for place in places.tolist():
        here = line.at(place)
        low, high = here.interval(coverage)
        points.append(TrendPoint(_day(place) or "", antilog(here.value), antilog(low), antilog(high)))
    low, high = line.slope.interval(coverage)
    return TrendAnswer(
        tuple(DatedAnswer(row.day.isoformat(), row.resistance, row in counted) for row in rows),
        tuple(point for point in points if point.day),
        antilog(line.slope.value * _YEAR),
        antilog(low * _YEAR),
        antilog(high * _YEAR),
        _day(found.soonest),
        None if found.estimate is None else _day(found.estimate),
        _day(found.latest),
    )


def looks_when_left(
    line: Trend | None, air: str | None, clean_since: date | None, resistance: float, limit: float, today: date,
    coverage: float,
) -> list[NextLook]:  # fmt: skip
    """What says when to look again at a contact that is left as it is."""
    looks = []
    if line is not None:
        looks.append(look_by_trend(line, math.log(limit), _seconds(today), coverage))
    if air is not None and resistance < limit:
        exposed = 0.0 if clean_since is None else max((today - clean_since).days, 0) * DAY
        looks.append(look_by_air(air, limit - resistance, exposed))
    return looks


def look_when_treated(air: str | None, after: float | None, limit: float) -> list[NextLook]:
    """The same for one that is treated and then reads what such contacts read after it; nothing where that is not known."""
    if air is None or after is None or after >= limit:
        return []
    return [look_by_air(air, limit - after)]


def look_answer(looks: Sequence[NextLook], today: date, after: str) -> NextLookAnswer | None:
    """The first of the looks, as days; None where none is asked for."""
    first = shortest_of(looks)
    if first.reason is None:
        return None
    now = _seconds(today)
    return NextLookAnswer(
        _day(now + first.soonest), _day(now + first.latest), first.reason, first.before_each_use, after
    )


def _seconds(day: date) -> float:
    return day.toordinal() * DAY


def _day(seconds: float) -> str | None:
    """The day of a moment; None where the calendar has none."""
    if not math.isfinite(seconds) or not 1 <= seconds // DAY <= date.max.toordinal():
        return None
    return date.fromordinal(int(seconds // DAY)).isoformat()
