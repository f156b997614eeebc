"""The pictures of an answer beside the ladder: the evidence, the budget."""

from __future__ import annotations

import numpy as np

from ohmsworth.readings.table import ReadingTable
from ohmsworth.report.answer import MOVING, Answer, ConditionAnswer
from ohmsworth.report.document import (
    ConditionMark,
    Dot,
    EvidenceFigure,
    PairLine,
    ShareFigure,
)
from ohmsworth.report.ladder import who
from ohmsworth.report.words import estimate, in_quotes, typical
from ohmsworth.resistance import Resistances


def evidence(
    answer: Answer, resistances: Resistances, left_out: Resistances, table: ReadingTable
) -> EvidenceFigure:
    """Readings as dots, with each condition's estimate, the limit, and lines for before and after.

    `left_out` are contacts that still moved: drawn, though not in the estimates.
    """
    dots = (*_dots(answer, resistances, table), *_dots(answer, left_out, table))
    marks = tuple(
        ConditionMark(c.condition, c.resistance, c.low, c.high)
        for c in side_by_side(answer)
        if c.low is not None and c.high is not None
    )
    positive = all(dot.value > 0 for dot in dots)
    words = "; ".join(f"{who(c)}: {estimate(c.resistance, c.low, c.high)}" for c in answer.conditions)
    return EvidenceFigure(
        "evidence",
        f"Readings by condition. {words}.",
        _evidence_caption(answer, bool(marks)),
        answer.scale == "log" and positive,
        dots,
        marks,
        _pairs(answer),
        answer.limit.resistance if answer.limit else None,
    )


def _evidence_caption(answer: Answer, barred: bool) -> str:
    bar = f", the bar the {typical(answer.conditions[0].statistic)} with its {100 * answer.coverage:g} % interval"
    line = ", the line across the limit" if answer.limit else ""
    return f"Each dot is one resistance{bar if barred else ''}{line}."


def _dots(answer: Answer, resistances: Resistances, table: ReadingTable) -> tuple[Dot, ...]:
    conditions, specimens = table.condition.names, table.specimen.names
    return tuple(
        Dot(conditions[c], specimens[s], v, flag)
        for c, s, v, flag in zip(
            resistances.condition.codes.tolist(),
            resistances.specimen.codes.tolist(),
            resistances.value.tolist(),
            _flags(answer, resistances, table),
            strict=True,
        )
    )


def side_by_side(answer: Answer) -> list[ConditionAnswer]:
    """Conditions with those measured on the reference's own specimens next to it, so that lines cross nothing.

    What the same specimens were before the reference stands left of it, all else right of it: as time goes, where that is
    known, else as the question goes. Combinations of several factors stand as they were read: each has its neighbours already.
    """
    if answer.factors:
        return list(answer.conditions)
    before = {c.of for c in answer.comparisons if c.paired and c.read_last == answer.reference}
    after = {c.of for c in answer.comparisons if c.paired} - before
    rank = dict.fromkeys(before, 0) | dict.fromkeys(after, 2) | {answer.reference or "": 1}
    return sorted(answer.conditions, key=lambda c: rank.get(c.condition, 3))


def _flags(answer: Answer, resistances: Resistances, table: ReadingTable) -> list[str]:
    """Why a dot stands apart, from the warnings about the rows it was made of."""
    flags = [""] * len(resistances)
    reasons = {
        "CONDITION_MOVING": MOVING,
        "STILL_MOVING": MOVING,
        "ONE_POLARITY": "one polarity",
        "TWO_WIRE": "two-wire?",
    }
    for warning in answer.warnings:
        reason = reasons.get(warning.code)
        if reason is None or not warning.rows or len(warning.rows) > len(table) // 2:
            continue
        lines = np.where(resistances.rows >= 0, table.line[resistances.rows], -1)
        for i in np.flatnonzero(np.isin(lines, warning.rows).any(1)):
            flags[i] = flags[i] or reason
    return flags


def _pairs(answer: Answer) -> tuple[PairLine, ...]:
    if not any(c.paired for c in answer.comparisons) or len(answer.specimens) > 200:
        return ()
    order = {c.condition: i for i, c in enumerate(side_by_side(answer))}
    by_name: dict[str, list[tuple[int, str, float]]] = {}
    for s in answer.specimens:
        by_name.setdefault(s.id, []).append((order[s.condition], s.condition, s.resistance))
    lines = []
    for name, points in by_name.items():
        if len(points) > 1:
            points.sort()
            lines.append(PairLine(name, tuple(p[1] for p in points), tuple(p[2] for p in points)))
    return tuple(lines)


def shares(answer: Answer) -> ShareFigure | None:
    """Where the uncertainty comes from; None when nothing contributes."""
    if not answer.budget:
        return None
    labels = tuple(line.source for line in answer.budget)
    values = tuple(line.share for line in answer.budget)
    words = ", ".join(f"{line.source} {100 * line.share:.0f} %" for line in answer.budget[:4])
    return ShareFigure(
        "budget",
        f"Shares of the variance: {words}.",
        f"Where the uncertainty of {in_quotes(answer.budget_of)} comes from, as shares of the variance.",
        labels,
        values,
    )
