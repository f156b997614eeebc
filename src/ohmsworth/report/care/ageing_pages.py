"""The report about how contacts age: the sentence, slopes as dots with intervals, the course of each level, the tables."""

from __future__ import annotations

import math

from ohmsworth.report.answer import Interval
from ohmsworth.report.care.ageing_answer import AgeingAnswer, AgeingDifference, LevelAgeing
from ohmsworth.report.care.ageing_sentences import FASTER, OPEN, ageing_findings, per_year
from ohmsworth.report.document import (
    Axis,
    Block,
    Bullets,
    Document,
    Headline,
    IntervalFigure,
    IntervalMark,
    Line,
    LineFigure,
    Section,
    Table,
)
from ohmsworth.report.tables import sources_table, table
from ohmsworth.report.words import count, in_quotes

_FOOTER = "Made with Ohmsworth from the shop's own records."
#: Levels whose courses are drawn, those of the most specimens.
_MOST_DRAWN = 4
_PLACES = 25


def ageing_report(answer: AgeingAnswer) -> Document:
    """The whole report."""
    first: list[Block] = [*_lead(answer)]
    slopes = slopes_figure(answer)
    if slopes is not None:
        first.append(slopes)
    sections = [Section("How it changes", tuple(first))]
    course = course_figure(answer)
    if course is not None:
        sections.append(Section("Year by year", (course,)))
    apart = differences_figure(answer)
    if apart is not None:
        sections.append(Section("What differs", (apart, _differences(answer))))
    if answer.levels:
        sections.append(Section("Kind by kind", (_levels(answer),)))
    sections.append(Section("Method and sources", (Bullets(answer.method), sources_table(answer.sources))))
    return Document(_title(answer), "From the shop's records", "en", _FOOTER, tuple(sections))


def ageing_summary(answer: AgeingAnswer) -> Document:
    """What fits a terminal."""
    blocks = [*_lead(answer)]
    if answer.levels:
        blocks.append(_levels(answer))
    if answer.differences:
        blocks.append(_differences(answer))
    return Document(_title(answer), "", "en", "", (Section("How it changes", tuple(blocks)),))


def _title(answer: AgeingAnswer) -> str:
    return f"How contacts age, by {answer.by}"


def _lead(answer: AgeingAnswer) -> tuple[Block, ...]:
    findings = ageing_findings(answer)
    return (Headline(answer.sentence, "plain"), *((Bullets(findings),) if findings else ()))


def slopes_figure(answer: AgeingAnswer) -> IntervalFigure | None:
    """A dot with its interval for each level; None where nothing is known."""
    marks = [
        _mark(
            "in a year", f"{one.name}, {count(one.specimens, 'specimen')}", one.per_year, _way(one.per_year)
        )
        for one in answer.levels
        if one.per_year is not None
    ]
    if not marks:
        return None
    told = "; ".join(f"{one.name}: {per_year(one.per_year)}" for one in answer.levels if one.per_year)
    return IntervalFigure(
        "ageing-slopes",
        f"What a year makes of the resistance, by {answer.by}. {told}.",
        f"What a year makes of the resistance, with its {100 * answer.coverage:g} % interval; at the line, 1, nothing changes.",
        Axis("resistance after a year over that before", "", True),
        tuple(marks),
        1.0,
    )


def differences_figure(answer: AgeingAnswer) -> IntervalFigure | None:
    """A dot for each difference, with the interval that holds for all at once; None where there is none."""
    if not answer.differences:
        return None
    marks = tuple(
        _mark(
            "of one over the other",
            f"{one.of} over {one.against}",
            one.together,
            "" if one.verdict == OPEN else one.verdict,
        )
        for one in answer.differences
    )
    told = "; ".join(f"{mark.label}: {mark.flag or OPEN}" for mark in marks)
    at_once = " that hold for all at once" if len(marks) > 1 else ""
    return IntervalFigure(
        "ageing-differences",
        f"What a year makes of the one over what it makes of the other. {told}.",
        f"How much faster the first ages than the second, with {100 * answer.coverage:g} % intervals{at_once}; at the line, 1, "
        "both age alike.",
        Axis("yearly factor of the first over that of the second", "", True),
        marks,
        1.0,
    )


def course_figure(answer: AgeingAnswer) -> LineFigure | None:
    """What was read of each level over the years, and the line with its band; None where nothing is known."""
    known = [one for one in answer.levels if one.log_slope is not None and one.course]
    drawn = sorted(known, key=lambda one: -one.specimens)[:_MOST_DRAWN]
    if not drawn:
        return None
    lines = tuple(line for one in drawn for line in (_line(one), _read(one)))
    names = ", ".join(in_quotes(one.name) for one in drawn)
    less = f" Drawn are the {len(drawn)} kinds of the most specimens." if len(known) > len(drawn) else ""
    return LineFigure(
        "ageing-course",
        f"Resistance over that at the beginning of each course, of {names}: the lines as fitted, and what was read.",
        f"Resistance over that at the beginning, from the first reading or from the treatment on: the fitted lines with the "
        f"{100 * answer.coverage:g} % bands of their kinds, and the means of what was read about the same time.{less}",
        Axis("years since the course began"),
        Axis("resistance over that at the beginning", "", True, 1.2),
        lines,
        threshold=1.0,
        threshold_words="unchanged",
        band_words=f"where the line may lie, with {100 * answer.coverage:g} %",
    )


def _line(one: LevelAgeing) -> Line:
    assert one.log_slope is not None
    assert one.per_year is not None
    across = tuple(one.followed * k / (_PLACES - 1) for k in range(_PLACES))
    low, high = (
        tuple(math.inf if end is None else end**years for years in across)
        for end in (one.per_year.low, one.per_year.high)
    )
    return Line(one.name, across, tuple(math.exp(one.log_slope * years) for years in across), low, high)


def _read(one: LevelAgeing) -> Line:
    """Each place with a gap after it, so that it is drawn as a dot of its own."""
    across = tuple(years for point in one.course for years in (point.years, point.years))
    up = tuple(value for point in one.course for value in (point.ratio, math.nan))
    return Line(f"{one.name}, read", across, up)


def _way(ratio: Interval) -> str:
    if ratio.low is not None and ratio.low > 1:
        return "rises"
    return "falls" if ratio.high is not None and ratio.high < 1 else ""


def _mark(group: str, label: str, ratio: Interval, flag: str) -> IntervalMark:
    value = ratio.value or 1.0
    low, high = (value if end is None else end for end in (ratio.low, ratio.high))
    return IntervalMark(group, label, value, low, high, flag)


def _levels(answer: AgeingAnswer) -> Table:
    rows = tuple(
        (
            one.name,
            f"{one.specimens} of {one.read}",
            str(one.visits),
            f"{one.followed:.1f}",
            "–" if one.age is None else f"{one.age:.1f}",
            per_year(one.per_year) if one.per_year else one.why,
        )
        for one in answer.levels
    )
    header = (answer.by, "specimens", "visits", "years followed", "age", "in a year")
    note = (
        "Specimens: those read on two days or more, of all that were read. Age: median years in the middle of their readings, "
        f"where the cards say when they were made or received. In a year: with its {100 * answer.coverage:g} % interval."
    )
    return table("Kinds", header, rows, (1, 2, 3, 4), note)


def _differences(answer: AgeingAnswer) -> Table:
    rows = tuple(_difference(one) for one in answer.differences)
    header = (
        "first",
        "second",
        "a year of the first over one of the second",
        "at once with the others",
        "the first ages",
    )
    return table("Differences", header, rows, (), "")


def _difference(one: AgeingDifference) -> tuple[str, ...]:
    verdict = one.verdict if one.verdict == OPEN else "faster" if one.verdict == FASTER else "slower"
    return one.of, one.against, per_year(one.ratio), per_year(one.together), verdict
