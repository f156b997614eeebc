"""One condition against the reference: how much it differs, whether that matters, what would settle it."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from ohmsworth.inference.conditions import ConditionResult
from ohmsworth.inference.engine import Engine, contrast
from ohmsworth.inference.equivalence import OPEN, tost_coverage, verdict_against_margin
from ohmsworth.inference.estimate import Estimate
from ohmsworth.inference.measured import (
    Measured,
    MeterPart,
    difference_parts,
    meter_parts,
    with_meters,
)
from ohmsworth.inference.more import Needed, Scatter, specimens_needed
from ohmsworth.inference.permutation import Exact, sign_flips, two_groups
from ohmsworth.inference.scale import Interval, difference_in_ohm, ratio
from ohmsworth.inference.simultaneous import correlation_of, coverage_of_each
from ohmsworth.inference.support import supported
from ohmsworth.readings.study import Scale


@dataclass(frozen=True, slots=True)
class Contrast:
    """Both condition means and their difference on the scale of analysis, with the meters' parts and without."""

    whole: tuple[Estimate, Estimate, Estimate]
    scatter: tuple[Estimate, Estimate, Estimate]


@dataclass(frozen=True, slots=True)
class ComparisonResult:
    """Condition `of` against condition `against` (label numbers); ohm.

    `settle` lists designs that would settle an open question, cheapest in specimens last. `together` are the intervals of the
    difference and the ratio that hold jointly with those of the other comparisons; None for a single comparison.
    """

    of: int
    against: int
    paired: bool
    pairs: int
    difference: float
    difference_interval: Interval
    ratio: float | None
    ratio_interval: Interval | None
    standard_error: float
    freedom: float
    p_value: float
    exact: Exact | None
    margin: float | None
    verdict: str
    settle: tuple[Needed, ...]
    parts: Contrast
    together: tuple[Interval, Interval | None] | None = None


def hold_together(
    measured: Measured, comparisons: list[ComparisonResult], coverage: float, seed: int
) -> list[ComparisonResult]:
    """Add to several comparisons with one reference the intervals that hold for all of them at once."""
    if len(comparisons) < 2 or measured.engine is None:
        return comparisons
    unit = np.eye(measured.design.conditions)
    correlation = correlation_of(
        measured.engine.judged, np.array([unit[c.of] - unit[c.against] for c in comparisons])
    )
    each = coverage_of_each(correlation, min(c.freedom for c in comparisons), coverage, seed)
    return [
        replace(
            c,
            together=(
                difference_in_ohm(measured.scale, *c.parts.whole, each)[1],
                ratio(measured.scale, *c.parts.whole, each, c.parts.scatter)[1],
            ),
        )
        for c in comparisons
    ]


def compare(
    measured: Measured,
    first: ConditionResult,
    second: ConditionResult,
    margin: float | None,
    coverage: float,
    seed: int,
) -> ComparisonResult | None:
    """Compare two conditions; None when the data leave nothing to compare by.

    Parameters
    ----------
    measured
        The fitted study.
    first, second
        The conditions' own results (first minus second is reported).
    margin
        Smallest change that matters (ohm), or None.
    coverage
        Of the intervals; each one-sided test runs at 1 − coverage.
    seed
        For permutations drawn at random in large designs.
    """
    engine = measured.engine
    if engine is None or first.estimate is None or second.estimate is None:
        return None
    parts, found = _contrast(measured, engine, first.condition, second.condition)
    whole, scatter, between = found.whole, found.scatter, found.whole[2]
    amount, interval = difference_in_ohm(measured.scale, *whole, coverage)
    times, times_interval = ratio(measured.scale, *whole, coverage, scatter)
    values, _ = engine.means.differences(first.condition, second.condition)
    decision = _decided(measured.scale, engine, found, (first.condition, second.condition), margin, coverage)
    settle: tuple[Needed, ...] = ()
    if decision == OPEN and margin is not None:
        settle = _settle(measured, first, second, margin, coverage, _never_averaged(measured, parts))
    return ComparisonResult(
        first.condition,
        second.condition,
        len(values) > 0,
        len(values),
        amount,
        interval,
        times,
        times_interval,
        between.standard_error,
        between.freedom,
        between.p_value(),
        _exact(engine, first.condition, second.condition, seed),
        margin,
        decision,
        settle,
        found,
    )


def comparison_verdict(
    measured: Measured, of: int, against: int, margin: float | None, coverage: float
) -> str | None:
    """The verdict of `compare` alone, without what it takes to tell it; None when there is nothing to compare by."""
    engine = measured.engine
    if engine is None:
        return None
    _, found = _contrast(measured, engine, of, against)
    return _decided(measured.scale, engine, found, (of, against), margin, coverage)


@dataclass(frozen=True, slots=True)
class Ahead:
    """What the scatter found so far says of specimens still to come: all on the scale of analysis.

    Parameters
    ----------
    scatter
        What further specimens and matings average down, and what nothing does.
    difference
        As found so far.
    margins
        Lower and upper margin.
    """

    scatter: Scatter
    difference: float
    margins: tuple[float, float]


def look_ahead(
    measured: Measured, first: ConditionResult, second: ConditionResult, margin: float
) -> Ahead | None:
    """What plans of further specimens for a comparison start from; None where nothing is known of the scatter."""
    if measured.engine is None or first.estimate is None or second.estimate is None:
        return None
    parts, _ = _contrast(measured, measured.engine, first.condition, second.condition)
    return _ahead(measured, first, second, margin, _never_averaged(measured, parts))


def _never_averaged(measured: Measured, parts: tuple[MeterPart, ...]) -> float:
    """Variance that no further measurement averages down."""
    return sum(part.uncertainty**2 for part in parts if part.source != measured.independent_source)


def _decided(
    scale: Scale,
    engine: Engine,
    found: Contrast,
    pair: tuple[int, int],
    margin: float | None,
    coverage: float,
) -> str:
    """The verdict of two one-sided tests."""
    first, second = np.eye(engine.design.conditions)[list(pair)]
    if not supported(engine.design, first, second):
        return OPEN
    _, tested = difference_in_ohm(scale, *found.whole, tost_coverage(coverage))
    return verdict_against_margin(*tested, margin)


def _contrast(
    measured: Measured, engine: Engine, of: int, against: int
) -> tuple[tuple[MeterPart, ...], Contrast]:
    """Both means and their difference, with what the meters add to them."""
    members = [np.flatnonzero(measured.design.condition == c) for c in (of, against)]
    parts = difference_parts(measured, *members)
    scatter = contrast(engine, of, against)
    # With the meters in both ends, so that what they share shows as correlation and cancels.
    ends = [
        with_meters(estimate, meter_parts(measured, m))
        for estimate, m in zip(scatter[:2], members, strict=True)
    ]
    return parts, Contrast((ends[0], ends[1], with_meters(scatter[2], parts)), scatter)


def _exact(engine: Engine, of: int, against: int, seed: int) -> Exact | None:
    if not engine.design.independent:
        return None  # re-paired parts are not exchangeable one specimen at a time
    values, _ = engine.means.differences(of, against)
    if len(values) == 0:
        return two_groups(engine.means.of(of), engine.means.of(against), seed)
    return sign_flips(values, seed)


def _settle(
    measured: Measured,
    first: ConditionResult,
    second: ConditionResult,
    margin: float,
    coverage: float,
    fixed: float,
) -> tuple[Needed, ...]:
    """Designs that would settle it: with as many matings as now, and with twice as many."""
    assert measured.engine is not None
    ahead = _ahead(measured, first, second, margin, fixed)
    matings = _matings(measured.engine)
    found = [
        specimens_needed(ahead.scatter, ahead.difference, ahead.margins, m, 1 - coverage)
        for m in dict.fromkeys((matings, max(2 * matings, 3)))
    ]
    return tuple(needed for needed in found if needed is not None)


def _ahead(
    measured: Measured, first: ConditionResult, second: ConditionResult, margin: float, fixed: float
) -> Ahead:
    assert measured.engine is not None and first.estimate is not None and second.estimate is not None
    scatter = _scatter(measured.engine, (first.condition, second.condition), fixed)
    margins = (-margin, margin)
    if measured.scale == "log":
        base = second.value
        low = float(np.log1p(-margin / base)) if margin < base else -np.inf
        margins = (low, float(np.log1p(margin / base)))
    return Ahead(scatter, first.estimate.value - second.estimate.value, margins)


def _scatter(engine: Engine, pair: tuple[int, int], fixed: float) -> Scatter:
    """Sum over both conditions of what further specimens and further matings average down."""
    contact = {level.name for level in engine.design.levels} & {"contact", "contact response"}
    if any(level.name == "contact" for level in engine.design.crossed):
        contact -= {"contact"}  # what a contact is under both conditions cancels
    specimen = mating = 0.0
    per = _per_mating(engine)
    for condition in pair:
        outer = ("response",) if engine.design.paired else ("specimen", "plug", "socket")
        specimen += sum(engine.fit.of(name, condition) for name in outer)
        specimen += sum(engine.fit.of(name, condition) for name in contact) / per["contact"]
        mating += engine.fit.of("mating", condition) / per["contact"]
        if engine.design.residual.name == "reading":
            mating += engine.fit.of("reading", condition) / per["reading"] / per["contact"]
        elif engine.design.residual.name == "mating":
            continue
        elif engine.design.residual.name not in (*outer, *contact):
            specimen += engine.fit.of(engine.design.residual.name, condition)
    return Scatter(specimen, mating, fixed, engine.design.paired, "specimen" in engine.split)


def _sizes(engine: Engine) -> tuple[int, int, int]:
    """Number of specimens (in each condition), of their contacts, and of the matings of these."""
    sizes = {level.name: level.size for level in engine.design.nest}
    contacts = sizes.get("contact response", sizes.get("contact", sizes["cell"]))
    return sizes["cell"], contacts, sizes.get("mating", contacts)


def _per_mating(engine: Engine) -> dict[str, float]:
    """Average number of contacts a specimen and of readings a mating."""
    cells, contacts, matings = _sizes(engine)
    return {"contact": max(contacts / cells, 1.0), "reading": max(len(engine.design.y) / matings, 1.0)}


def _matings(engine: Engine) -> int:
    _, contacts, matings = _sizes(engine)
    return max(round(matings / contacts), 1)
