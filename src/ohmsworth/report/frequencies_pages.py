"""A study's takes over frequency in the report: the conditions where it was asked, and curves over all tones."""

from __future__ import annotations

import math

from ohmsworth.report.answer import AtFrequencyAnswer, Bound, FrequenciesAnswer
from ohmsworth.report.document import Axis, Block, Bullets, Line, LineFigure, Subheading, Table
from ohmsworth.report.frequencies_answer import (
    BesideDirectAnswer,
    ComparisonCurveAnswer,
    ConditionCurveAnswer,
)
from ohmsworth.report.study_takes import limit_named
from ohmsworth.report.tables import table
from ohmsworth.report.takes_measured import measured_table
from ohmsworth.report.words import estimate, p_value, times
from ohmsworth.units import show, show_interval, show_percent

#: Curves over fewer tones than this are a table.
_FEWEST = 2


def frequency_blocks(
    answer: FrequenciesAnswer, coverage: float, limit: Bound | None = None
) -> tuple[Block, ...]:
    """All of it, for the report; `limit` is what R must not exceed."""
    blocks: list[Block] = [at_table(answer, coverage)]
    comparisons = comparisons_at(answer)
    blocks += [] if comparisons is None else [comparisons]
    if len(answer.frequency) >= _FEWEST:
        blocks.append(_resistance(answer, coverage, limit))
        blocks += [_compared(answer, one, coverage) for one in answer.comparisons]
        blocks.append(_reactance(answer, coverage))
    if answer.remarks:
        blocks.append(Bullets(answer.remarks))
    blocks += [] if answer.measured is None else [measured_table(answer.measured)]
    direct = direct_table(answer.direct)
    if direct is not None:
        blocks += [Subheading("Tones beside direct current"), direct]
        causes = tuple(dict.fromkeys(cause for one in answer.direct for cause in one.causes))
        blocks += [Bullets(causes)] if causes else []
    return tuple(blocks)


def frequency_summary(answer: FrequenciesAnswer, coverage: float) -> tuple[Block, ...]:
    """What of it fits a terminal."""
    blocks: list[Block] = [Subheading("Over frequency"), at_table(answer, coverage)]
    comparisons, direct = comparisons_at(answer), direct_table(answer.direct)
    blocks += [one for one in (comparisons, direct) if one is not None]
    blocks += [] if answer.measured is None else [measured_table(answer.measured)]
    return (*blocks, *([Bullets(answer.remarks)] if answer.remarks else []))


def at_table(answer: FrequenciesAnswer, coverage: float) -> Table:
    """The conditions at each frequency asked about."""
    statistic = next((c.statistic for one in answer.at for c in one.conditions), "median")
    limited = any(c.verdict for one in answer.at for c in one.conditions)
    header = ["frequency", "condition", "specimens", "takes", statistic, f"{100 * coverage:g} % interval"]
    header += ["next one over limit", "verdict"] if limited else []
    rows = []
    for one in answer.at:
        for c in one.conditions:
            row = [_hertz(one), c.condition, str(c.specimens), str(c.readings), show(c.resistance, "Ω")]
            row.append("not known" if c.low is None or c.high is None else show_interval(c.low, c.high, "Ω"))
            if limited:
                over = c.probability_next_over
                row += ["–" if over is None else show_percent(over), c.verdict or "–"]
            rows.append(tuple(row))
    return table("Conditions at each frequency", tuple(header), tuple(rows), (2, 3, 4, 5, 6))


def comparisons_at(answer: FrequenciesAnswer) -> Table | None:
    """The comparisons there; None where there are none."""
    rows = []
    for one in answer.at:
        for c in one.comparisons:
            d, ratio = c.difference, c.ratio
            told = "not known" if ratio.low is None else times(ratio.value, ratio.low, ratio.high)
            rows.append(
                (
                    _hertz(one),
                    f"{c.of} against {c.against}",
                    estimate(d.value or 0.0, d.low, d.high),
                    told.replace(" times", ""),
                    p_value(c.p_value),
                    c.verdict,
                )
            )
    header = ("frequency", "comparison", "difference", "ratio", "p", "verdict")
    return table("Comparisons at each frequency", header, tuple(rows), (4,)) if rows else None


def direct_table(direct: tuple[BesideDirectAnswer, ...]) -> Table | None:
    """Tones beside direct current; None where there is none."""
    if not direct:
        return None
    rows = tuple(
        (
            one.condition,
            str(one.specimens),
            show(one.tones, "Ω"),
            show(one.direct, "Ω"),
            estimate(one.difference, one.low, one.high),
            p_value(one.p_value),
            "explained" if one.explained else "not explained",
        )
        for one in direct
    )
    header = (
        "condition",
        "specimens",
        f"tones, {show(direct[0].tone, 'Hz')}",
        "direct current",
        "tones − direct",
        "p",
        "by uncertainties",
    )
    note = "Means over the specimens that have both. Where the two disagree, direct current governs."
    return table("Tones beside direct current", header, rows, (1, 2, 3, 4, 5), note)


def _hertz(one: AtFrequencyAnswer) -> str:
    return show(one.tone, "Hz")


def _gapped(values: tuple[float | None, ...]) -> tuple[float, ...]:
    return tuple(math.nan if value is None else value for value in values)


def _resistance(answer: FrequenciesAnswer, coverage: float, limit: Bound | None) -> LineFigure:
    lines = tuple(
        Line(c.condition, answer.frequency, _gapped(c.resistance), _gapped(c.low), _gapped(c.high))
        for c in answer.curves
    )
    named = limit_named(None if limit is None else limit.resistance)
    ends = " ".join(_ends(answer, c) for c in answer.curves)
    return LineFigure(
        "resistance over frequency",
        f"Resistance over frequency{f', {named}' if named else ''}. {ends}",
        f"{answer.curves[0].statistic.capitalize()} R of each condition over frequency.",
        Axis("frequency", "Hz", logarithmic=True),
        Axis(
            "resistance R",
            "Ω",
            logarithmic=all(v > 0 for c in answer.curves for v in c.resistance if v is not None),
        ),
        lines,
        threshold=None if limit is None else limit.resistance,
        threshold_words="limit",
        band_words=f"{100 * coverage:g} % interval at each tone by itself",
    )


def _ends(answer: FrequenciesAnswer, curve: ConditionCurveAnswer) -> str:
    told = [
        f"{estimate(value, low, high)} at {show(hertz, 'Hz')}"
        for hertz, value, low, high in (
            (answer.frequency[i], curve.resistance[i], curve.low[i], curve.high[i]) for i in (0, -1)
        )
        if value is not None
    ]
    return f"{curve.condition}: {' and '.join(told) or 'not known at the ends'}."


def _compared(answer: FrequenciesAnswer, one: ComparisonCurveAnswer, coverage: float) -> LineFigure:
    ratios = one.quantity == "ratio"
    line = Line(
        f"{one.of} against {one.against}",
        answer.frequency,
        _gapped(one.value),
        _gapped(one.low_together),
        _gapped(one.high_together),
    )
    wide = f"{100 * coverage:g} %"
    return LineFigure(
        f"{one.of} against {one.against} over frequency",
        f"{one.quantity.capitalize()} of {one.of} and {one.against} over frequency, intervals of all tones at once.",
        f"'{one.of}' against '{one.against}' over frequency; the band holds at all tones at once.",
        Axis("frequency", "Hz", logarithmic=True),
        Axis("ratio" if ratios else "difference of R", "" if ratios else "Ω"),
        (line,),
        threshold=1.0 if ratios else 0.0,
        threshold_words="no difference",
        band_words=f"{wide} interval, all tones at once",
    )


def _reactance(answer: FrequenciesAnswer, coverage: float) -> LineFigure:
    return LineFigure(
        "reactance over frequency",
        "Reactance over frequency: "
        + "; ".join(
            f"{c.condition} {show(c.reactance[0], 'Ω', 2)} to {show(c.reactance[-1], 'Ω', 2)}"
            for c in answer.curves
        )
        + ".",
        "Mean reactance X of each condition over frequency: above zero an inductance, below a capacitance.",
        Axis("frequency", "Hz", logarithmic=True),
        Axis("reactance X", "Ω"),
        tuple(
            Line(
                c.condition,
                answer.frequency,
                c.reactance,
                _gapped(c.reactance_low),
                _gapped(c.reactance_high),
            )
            for c in answer.curves
        ),
        band_words=f"{100 * coverage:g} % interval at each tone by itself",
    )
