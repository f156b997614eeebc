"""The pictures of care: what each way costs, what remedies did, and the trend with its limit."""

from __future__ import annotations

import math
from collections.abc import Callable
from datetime import date

from ohmsworth.advice.care import LEAVE
from ohmsworth.report.care.care_answer import CareAnswer, TrendAnswer
from ohmsworth.report.care.care_sentences import change_words, doing, money
from ohmsworth.report.document import (
    Axis,
    IntervalFigure,
    IntervalMark,
    Line,
    LineFigure,
    PointMark,
)
from ohmsworth.report.words import capital

_YEAR = 365.25
#: Marks nearer to each other than this part of the picture's width hide each other's words.
_APART = 0.4


def costs_figure(answer: CareAnswer) -> IntervalFigure:
    """Expected cost of each way to begin, about the cost of leaving it."""
    left = next(option for option in answer.options if option.name == LEAVE)
    best = answer.options[0]
    marks = tuple(
        IntervalMark(
            "begin with", doing(o.name), o.cost, o.low, o.high, "advised" if o.name == best.name else ""
        )
        for o in answer.options
    )
    told = "; ".join(f"{doing(o.name)} {money(o.cost, answer.currency)}" for o in answer.options)
    return IntervalFigure(
        "care-costs",
        f"Expected cost of each way to begin, the cheapest first: {told}.",
        f"What each way is expected to cost with all that follows, and how far that may be off; the line is {doing(LEAVE)}.",
        Axis(f"expected cost{f', {answer.currency}' if answer.currency else ''}"),
        marks,
        left.cost,
    )


def changes_figure(answer: CareAnswer) -> IntervalFigure | None:
    """What each recorded remedy did to the resistance; None where no interval is known."""
    marks = tuple(
        IntervalMark(
            "the shop's own contacts",
            "left alone" if one.name == LEAVE else doing(one.name),
            one.ratio,
            one.low,
            one.high,
            "lower" if one.high < 1 else "higher" if one.low > 1 else "",
        )
        for one in answer.changes
        if one.low is not None and one.high is not None
    )
    if not marks:
        return None
    return IntervalFigure(
        "care-changes",
        " ".join(change_words(one) for one in answer.changes),
        "Resistance after over before, of the same contacts; at the line, 1, nothing changed.",
        Axis("resistance after over before", "", True),
        marks,
        1.0,
    )


def trend_figure(trend: TrendAnswer, limit: float, coverage: float) -> LineFigure:
    """The readings over the years, the line as far as it is followed, the limit and when it is reached."""
    start = date.fromisoformat(min(one.day for one in trend.readings))

    def years(day: str) -> float:
        return (date.fromisoformat(day) - start).days / _YEAR

    # Each reading with a gap after it, so that it is drawn as a dot of its own.
    places = [p for one in trend.readings for p in (years(one.day), years(one.day))]
    values = [v for one in trend.readings for v in (one.resistance, math.nan)]
    across = tuple(years(point.day) for point in trend.line)
    end = across[-1]
    marks = tuple(
        PointMark(words, years(day), limit) for words, day in _reached(trend, years, end) if years(day) <= end
    )
    spoken = (
        ", ".join(mark.label for mark in marks) or "not within the time that the history lets it be followed"
    )
    return LineFigure(
        "care-trend",
        f"{len(trend.readings)} readings since {start.isoformat()} with their line. The limit: {spoken}.",
        f"Its readings since {start.isoformat()}, the line through those since the last treatment, and where the next reading "
        f"would lie. {capital(spoken)}.",
        Axis("years since the first reading"),
        Axis("resistance", "Ω", True),
        (
            Line("readings", tuple(places), tuple(values)),
            Line(
                "line",
                across,
                tuple(p.resistance for p in trend.line),
                tuple(p.low for p in trend.line),
                tuple(p.high for p in trend.line),
            ),
        ),
        marks,
        limit,
        "limit",
        f"{100 * coverage:g} % of next readings",
    )


def _reached(trend: TrendAnswer, years: Callable[[str], float], end: float) -> list[tuple[str, str]]:
    """Days at which the limit is reached, with their words; days that lie too near each other for words of their own as one."""
    if trend.soonest is None:
        return []
    if trend.latest == trend.soonest:
        return [(f"at the limit already on {trend.soonest}", trend.soonest)]
    if trend.latest is None or years(trend.latest) > end:
        return [(f"may be at the limit from {trend.soonest} on", trend.soonest)]
    if years(trend.latest) - years(trend.soonest) < _APART * end:
        return [(f"at the limit between {trend.soonest} and {trend.latest}", trend.soonest)]
    return [
        (f"may be at the limit: {trend.soonest}", trend.soonest),
        (f"surely at it: {trend.latest}", trend.latest),
    ]


def way_words(names: tuple[str, ...]) -> str:
    """What follows, in words."""
    return ", ".join(doing(name) for name in names) or "–"
