"""Conditions and comparisons as they are found, written down for the answer."""

from __future__ import annotations

from ohmsworth.inference.comparisons import ComparisonResult
from ohmsworth.inference.conditions import CONTENT, ConditionResult
from ohmsworth.inference.conformity import verdict
from ohmsworth.inference.factors import LevelComparison
from ohmsworth.inference.withheld import unsettled_verdict
from ohmsworth.report.answer import MOVING, ComparisonAnswer, ConditionAnswer, Interval, NeededAnswer
from ohmsworth.units import LARGEST
from ohmsworth.work.how_read import turns
from ohmsworth.work.results import Results


def known(value: float | None) -> float | None:
    """None for what is no number, and for a size that only says that the data could not bound it."""
    return None if value is None or not abs(value) <= LARGEST else float(value)


def condition_answer(results: Results, found: ConditionResult) -> ConditionAnswer:
    """One condition."""
    study = results.study
    judged = verdict(found.probability_within, study.coverage) if study.limit else None
    moving = next((one for one in results.unsettled if one.condition == found.condition), None)
    if moving is not None and study.limit is not None:
        judged = unsettled_verdict(moving, study.limit.resistance)
    return ConditionAnswer(
        results.table.condition.names[found.condition],
        found.specimens,
        found.readings,
        "median" if study.scale == "log" else "mean",
        found.value,
        known(found.uncertainty),
        known(found.low),
        known(found.high),
        known(found.freedom),
        known(found.tolerance),
        CONTENT,
        known(found.probability_within),
        known(found.probability_over),
        judged,
        *((MOVING, moving.movement, moving.lowest, moving.highest) if moving else ()),
    )


def comparison_answer(results: Results, found: ComparisonResult) -> ComparisonAnswer:
    """One comparison."""
    names, exact = results.table.condition.names, found.exact
    present = min(results.conditions[c].specimens for c in (found.of, found.against))
    ratio_ends = found.ratio_interval or (None, None)
    return ComparisonAnswer(
        names[found.of],
        names[found.against],
        found.paired,
        found.pairs,
        Interval(found.difference, *found.difference_interval),
        Interval(found.ratio, *ratio_ends),
        known(found.freedom),
        found.p_value,
        exact.p_value if exact else None,
        exact.smallest if exact else None,
        exact.complete if exact else None,
        found.margin,
        found.verdict,
        tuple(
            NeededAnswer(n.specimens, max(n.specimens - present, 0), n.matings, n.power) for n in found.settle
        ),
        *together(found),
        _read_last(results, found),
    )


def _read_last(results: Results, found: ComparisonResult) -> str | None:
    """The condition that the same specimens were read in last; None where there is none, or most were not read again."""
    later = turns(results.table, results.used)
    for first, last in ((found.of, found.against), (found.against, found.of)):
        if found.paired and (first, last) in later and 2 * found.pairs > results.conditions[first].specimens:
            return results.table.condition.names[last]
    return None


def together(found: ComparisonResult | LevelComparison) -> tuple[Interval | None, Interval | None]:
    """The difference and ratio with the intervals that hold for all comparisons at once."""
    if found.together is None:
        return None, None
    difference, ratio = found.together
    return Interval(found.difference, *difference), Interval(found.ratio, *(ratio or (None, None)))
