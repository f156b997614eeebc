"""The pictures of a bench: its charts, what a contact will be told, its operators, and its budget."""

from __future__ import annotations

import math

from ohmsworth.inference.control.verdict import BEYOND, CREEP, DRIFT, JUMP
from ohmsworth.report.document import (
    Axis,
    ChartFigure,
    ChartLine,
    ChartSeries,
    ConditionMark,
    Dot,
    EvidenceFigure,
    Line,
    LineFigure,
    PairLine,
    PointMark,
    ShareFigure,
)
from ohmsworth.report.fitness import ControlAnswer, FitnessAnswer
from ohmsworth.report.words import count, natural
from ohmsworth.units import decimals_for, scale_for, show, show_interval, show_stated

#: Keeps a number and its unit on one line.
NO_BREAK = "\u00a0"


def precise(value: float, spread: float, near: float | None = None) -> str:
    """`value` (ohm) to a tenth of `spread`, in the unit in which `near` is told, on one line.

    Examples
    --------
    >>> precise(0.99834e-3, 3e-6, 1.002e-3).replace(NO_BREAK, " ")
    '0.9983 mΩ'
    """
    factor, label = scale_for(value if near is None else near, "Ω")
    decimals = min(max(decimals_for(spread / factor, 2), 0), 9) if spread > 0 else 3
    return f"{value / factor:.{decimals}f}{NO_BREAK}{label}".replace("-", "−")


def check_charts(control: ControlAnswer) -> tuple[ChartFigure, ...]:
    """Single checks, EWMA, CUSUM and moving ranges, each with one plain sentence."""
    return _single(control), _average(control), _sums(control), _steps(control)


def _names(control: ControlAnswer) -> tuple[str, ...]:
    return tuple(check.check for check in control.checks)


def _flags(control: ControlAnswer, rule: str) -> tuple[str, ...]:
    return tuple(rule if rule in check.rules else "" for check in control.checks)


def _told(control: ControlAnswer, rule: str) -> str:
    odd = [check.check for check in control.checks if rule in check.rules]
    if not odd:
        return "None stands out."
    return f"{len(odd)} of {len(control.checks)} stand{'s' if len(odd) == 1 else ''} out, last on {odd[-1]}."


def _level(control: ControlAnswer, kind: str, value: float) -> ChartLine:
    words = f"{kind} {precise(value, control.standard_deviation, control.centre)}"
    return ChartLine("centre" if kind == "centre" else "limit", words, (value,) * len(control.checks))


def _single(control: ControlAnswer) -> ChartFigure:
    return ChartFigure(
        "check-standard",
        f"Control chart of {len(control.checks)} checks, limits {show_interval(control.lower, control.upper, 'Ω')}. "
        f"{_told(control, BEYOND)}",
        f"Single checks: is today's reading where it belongs? {_told(control, BEYOND)}",
        Axis(control.name, "Ω"),
        _names(control),
        (ChartSeries("check", tuple(c.resistance for c in control.checks), _flags(control, BEYOND)),),
        (
            _level(control, "upper limit", control.upper),
            _level(control, "centre", control.centre),
            _level(control, "lower limit", control.lower),
        ),
        control.first,
    )


def _average(control: ControlAnswer) -> ChartFigure:
    last = control.checks[-1]
    upper, lower = (
        precise(v, control.standard_deviation / 3, control.centre)
        for v in (last.average_high, last.average_low)
    )
    return ChartFigure(
        "check-ewma",
        f"Weighted average of the checks (EWMA) between limits that widen to {lower} and {upper}. {_told(control, DRIFT)}",
        f"Weighted average (EWMA): has the bench drifted lately? {_told(control, DRIFT)}",
        Axis(f"{control.name}, weighted average", "Ω"),
        _names(control),
        (ChartSeries("weighted average", tuple(c.average for c in control.checks), _flags(control, DRIFT)),),
        (
            ChartLine("limit", f"upper limit {upper}", tuple(c.average_high for c in control.checks)),
            _level(control, "centre", control.centre),
            ChartLine("limit", f"lower limit {lower}", tuple(c.average_low for c in control.checks)),
        ),
        control.first,
    )


def _sums(control: ControlAnswer) -> ChartFigure:
    h, n = control.decision, len(control.checks)
    above = tuple(CREEP if CREEP in c.rules and c.above > h else "" for c in control.checks)
    below = tuple(CREEP if CREEP in c.rules and c.below > h else "" for c in control.checks)
    return ChartFigure(
        "check-cusum",
        f"Cumulative sums (CUSUM) above and below the centre, against ±{h:g}. {_told(control, CREEP)}",
        f"Cumulative sum (CUSUM): do small differences add up? {_told(control, CREEP)}",
        Axis("sum, in standard deviations"),
        _names(control),
        (
            ChartSeries("above the centre", tuple(c.above for c in control.checks), above),
            ChartSeries("below the centre", tuple(0.0 - c.below for c in control.checks), below),
        ),
        (ChartLine("limit", f"limit {h:g}", (h,) * n), ChartLine("limit", f"limit −{h:g}", (-h,) * n)),
        control.first,
    )


def _steps(control: ControlAnswer) -> ChartFigure:
    n = len(control.checks)
    upper = precise(control.range_upper, control.standard_deviation / 3)
    mean = precise(control.mean_range, control.standard_deviation / 3)
    return ChartFigure(
        "check-range",
        f"Moving ranges from check to check, up to {upper}. {_told(control, JUMP)}",
        f"Moving range: how far from one check to the next? {_told(control, JUMP)} A jump alone stops nothing.",
        Axis("step from the check before", "Ω"),
        _names(control),
        (
            ChartSeries(
                "step",
                tuple(math.nan if c.step is None else c.step for c in control.checks),
                _flags(control, JUMP),
            ),
        ),
        (
            ChartLine("limit", f"upper limit {upper}", (control.range_upper,) * n),
            ChartLine("centre", f"mean {mean}", (control.mean_range,) * n),
        ),
        control.first,
    )


def operators_figure(
    trials: list[tuple[str, str, float]], logarithmic: bool, limit: float | None
) -> EvidenceFigure | None:
    """Trials (operator, specimen, ohm) by operator, with lines through the same specimen; None of one operator."""
    people = sorted({person for person, _, _ in trials}, key=natural)
    if len(people) < 2:
        return None
    cells: dict[tuple[str, str], list[float]] = {}
    for person, specimen, value in trials:
        cells.setdefault((specimen, person), []).append(value)
    specimens = sorted({specimen for _, specimen, _ in trials}, key=natural)
    pairs = []
    for specimen in specimens:
        present = [p for p in people if (specimen, p) in cells]
        means = tuple(sum(cells[specimen, p]) / len(cells[specimen, p]) for p in present)
        if len(present) > 1:
            pairs.append(PairLine(specimen, tuple(present), means))
    ordered = sorted(trials, key=lambda t: people.index(t[0]))
    return EvidenceFigure(
        "operators",
        f"Trials of {len(specimens)} specimens by {len(people)} operators; flat lines say that operators agree.",
        "Who reads what: each line is one specimen; the flatter, the better the operators agree",
        logarithmic,
        tuple(Dot(person, specimen, value) for person, specimen, value in ordered),
        tuple[ConditionMark, ...](),
        tuple(pairs),
        limit,
    )


def words_figure(answer: FitnessAnswer, curve: list[tuple[float, float, float, float]]) -> LineFigure | None:
    """Chance of each word against the true resistance; `curve` holds ohm, within, close, over."""
    able = answer.ability
    if able is None or answer.limit is None or not curve:
        return None
    limit = answer.limit.resistance
    factor, label = scale_for(limit, "Ω")
    across = tuple(row[0] / factor for row in curve)
    lines = tuple(
        Line(name, across, tuple(100 * row[i] for row in curve))
        for i, name in ((1, "'within'"), (2, "'too close to call'"), (3, "'over'"))
    )
    at_limit = min(curve, key=lambda row: abs(row[0] - limit))
    marks = (
        PointMark(f"a contact at the limit, {show_stated(limit, 'Ω')}", limit / factor, 100 * at_limit[2]),
    )
    return LineFigure(
        "words",
        f"Chance of each word against the true resistance: 'within' falls and 'over' rises around {show_stated(limit, 'Ω')}.",
        "What a contact will be told: the narrower the middle, the better the bench",
        Axis(f"true resistance, {label}"),
        Axis("chance of each word, %"),
        lines,
        marks,
    )


def room_figure(answer: FitnessAnswer) -> EvidenceFigure | None:
    """The test uncertainty ratio: the room from zero to the limit beside the width of the expanded uncertainty."""
    able = answer.ability
    if able is None or answer.limit is None:
        return None
    limit, ratio = answer.limit.resistance, able.test_uncertainty_ratio
    reach = limit / (2 * ratio)
    times = f"{ratio:.{1 if ratio < 20 else 0}f}"
    return EvidenceFigure(
        "room",
        f"The room from zero to {show_stated(limit, 'Ω')} is {times} times the width of one reading's uncertainty.",
        f"Test uncertainty ratio: the room up to the limit is {times} times as wide as what one reading at the limit leaves "
        "open (95 %); the custom asks for 4",
        False,
        (),
        (
            ConditionMark("room up to the limit", limit, 0.0, limit),
            ConditionMark("a reading at the limit", limit, limit - reach, limit + reach),
        ),
        (),
        limit,
        "limit, with the room below it, and a reading with its uncertainty",
    )


def difference_figure(answer: FitnessAnswer) -> LineFigure | None:
    """The smallest difference that the bench sees, against the trials that are averaged."""
    if not answer.differences:
        return None
    factor, label = scale_for(answer.differences[0].ohm, "Ω")
    sizes = tuple(d.ohm / factor for d in answer.differences)
    first, last = answer.differences[0], answer.differences[-1]
    told = [f"{show(d.ohm, 'Ω', 2)} from {count(d.trials_each, 'trial')} each" for d in (first, last)]
    return LineFigure(
        "smallest-difference",
        f"Smallest difference seen four times in five: {' and '.join(told)}.",
        f"The smallest difference between two contacts that this bench sees: {told[0]}, {told[1]}",
        Axis("trials of each contact"),
        Axis(f"smallest difference, {label}"),
        (Line("seen four times in five", tuple(float(d.trials_each) for d in answer.differences), sizes),),
    )


def budget_figure(answer: FitnessAnswer) -> ShareFigure | None:
    """Shares of the variance, largest first."""
    if not answer.budget:
        return None
    largest = answer.budget[0]
    return ShareFigure(
        "bench-budget",
        f"The largest source of uncertainty is {largest.source} with {100 * largest.share:.0f} % of the variance.",
        f"What to improve first: the longest bar, {largest.source}",
        tuple(line.source for line in answer.budget),
        tuple(line.share for line in answer.budget),
    )
