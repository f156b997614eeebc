"""Conditions that are combinations: what each factor does by itself, and whether it depends on the others.

Every combination keeps a mean of its own; a factor's effect is the difference between two of its levels, averaged with equal
weights over those combinations of the other factors that were measured under both. Two factors interact where that
difference depends on the other factor's level.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from ohmsworth.inference.engine import Engine, estimates
from ohmsworth.inference.equivalence import tost_coverage, verdict_against_margin
from ohmsworth.inference.estimate import Estimate
from ohmsworth.inference.judged import jointly_zero
from ohmsworth.inference.measured import Measured, difference_parts, meter_parts, with_meters
from ohmsworth.inference.scale import Interval, antilog, difference_in_ohm, ratio, to_ohm
from ohmsworth.inference.simultaneous import correlation_of, coverage_of_each
from ohmsworth.inference.support import lonely, supported
from ohmsworth.readings.table import Array, Codes, Labels


@dataclass(frozen=True, slots=True)
class LevelMean:
    """One level of a factor, averaged over the other factors; ohm."""

    level: str
    value: float
    interval: Interval


@dataclass(frozen=True, slots=True)
class LevelComparison:
    """Level `of` against level `against`; ohm. `together` are intervals that hold for all of the factor's comparisons."""

    of: str
    against: str
    difference: float
    difference_interval: Interval
    ratio: float | None
    ratio_interval: Interval | None
    together: tuple[Interval, Interval | None] | None
    freedom: float
    p_value: float
    verdict: str


@dataclass(frozen=True, slots=True)
class FactorResult:
    """What one factor does; `p_value` is of the test that it does nothing, with its F and degrees of freedom."""

    name: str
    levels: tuple[LevelMean, ...]
    comparisons: tuple[LevelComparison, ...]
    test: tuple[float, int, float]
    p_value: float


@dataclass(frozen=True, slots=True)
class InteractionResult:
    """Whether the effect of one factor depends on another.

    Where both have two levels, `ratio` is the first factor's effect (its second level over its first) at the second factor's
    second level, over the same effect at its first level; only on the logarithmic scale.
    """

    factors: tuple[str, str]
    test: tuple[float, int, float]
    p_value: float
    ratio: float | None
    ratio_interval: Interval | None


@dataclass(frozen=True, slots=True, eq=False)
class Cells:
    """Level numbers of every condition under every factor, shape (factors, k), and the levels' names."""

    factors: tuple[str, ...]
    levels: Codes
    names: tuple[tuple[str, ...], ...]

    def of(self, factor: int, level: int) -> dict[tuple[int, ...], int]:
        """Conditions at one level of a factor, by their levels of the other factors."""
        rest = np.delete(self.levels, factor, axis=0)
        here = np.flatnonzero(self.levels[factor] == level)
        return {tuple(rest[:, c].tolist()): int(c) for c in here}


def find_cells(factors: Mapping[str, Labels], condition: Codes) -> Cells:
    """The level of each condition under each factor, from the observations' own."""
    first = np.unique(condition, return_index=True)[1]
    codes = np.array([labels.codes[first] for labels in factors.values()])
    return Cells(tuple(factors), codes, tuple(labels.names for labels in factors.values()))


def mean_weights(cells: Cells, factor: int, level: int) -> Array:
    """Weights of the conditions in the mean of one level."""
    weights = np.zeros(cells.levels.shape[1])
    here = list(cells.of(factor, level).values())
    weights[here] = 1 / len(here)
    return weights


def difference_weights(cells: Cells, factor: int, of: int, against: int) -> tuple[Array, Array] | None:
    """Weights of the two means whose difference is the effect: over what was measured under both; None where nothing was."""
    first, second = cells.of(factor, of), cells.of(factor, against)
    both = [rest for rest in first if rest in second]
    if not both:
        return None
    weights = np.zeros((2, cells.levels.shape[1]))
    weights[0, [first[rest] for rest in both]] = 1 / len(both)
    weights[1, [second[rest] for rest in both]] = 1 / len(both)
    return weights[0], weights[1]


def interaction_rows(cells: Cells, one: int, other: int) -> Array:
    """Contrasts that are zero where factors `one` and `other` do not interact, averaged over the rest; independent rows."""
    rows = []
    for a, b in combinations(_present(cells, one), 2):
        steps: dict[int, list[Array]] = {}
        first, second = cells.of(one, a), cells.of(one, b)
        for rest in first:
            if rest in second:
                row = np.zeros(cells.levels.shape[1])
                row[first[rest]], row[second[rest]] = -1.0, 1.0
                level = int(cells.levels[other, first[rest]])
                steps.setdefault(level, []).append(row)
        effects = [np.mean(steps[level], axis=0) for level in sorted(steps)]
        rows += [effect - effects[0] for effect in effects[1:]]
    return _independent(np.array(rows)) if rows else np.zeros((0, cells.levels.shape[1]))


def _present(cells: Cells, factor: int) -> list[int]:
    return sorted(set(cells.levels[factor].tolist()))


def _independent(rows: Array) -> Array:
    kept: list[Array] = []
    for row in rows:
        if np.linalg.matrix_rank(np.array([*kept, row]), tol=1e-9) > len(kept):
            kept.append(row)
    return np.array(kept)


def factor_results(
    measured: Measured,
    factors: Mapping[str, Labels],
    reference: int,
    margin: float | None,
    coverage: float,
    all_pairs: bool,
    seed: int,
) -> tuple[tuple[FactorResult, ...], tuple[InteractionResult, ...]]:
    """What every factor does, and every two of them together.

    Parameters
    ----------
    measured
        The fitted study.
    factors
        Level of each observation under each factor; fewer than two give nothing.
    reference
        Number of the condition that the others are compared against; its levels are the factors' references.
    margin
        Smallest change that matters (ohm), or None.
    coverage
        Of the intervals.
    all_pairs
        Whether every two levels are compared, not only those with the reference.
    seed
        Of the integration behind intervals that hold together.
    """
    engine = measured.engine
    if engine is None or len(factors) < 2:
        return (), ()
    cells = find_cells(factors, measured.design.condition)
    found = []
    for i, name in enumerate(cells.factors):
        base = int(cells.levels[i, reference])
        levels = _present(cells, i)
        pairs = (
            list(combinations(reversed(levels), 2)) if all_pairs else [(v, base) for v in levels if v != base]
        )
        if not pairs:
            continue
        compared = _compared(measured, engine, cells, i, pairs, margin, coverage, seed)
        statistic = _test(measured, engine, _effect_rows(cells, i, levels))
        means = tuple(_level_mean(measured, engine, cells, i, v, coverage) for v in levels)
        found.append(FactorResult(name, means, compared, *statistic))
    interactions = [
        _interaction(measured, engine, cells, one, other, coverage)
        for one, other in combinations(range(len(cells.factors)), 2)
    ]
    return tuple(found), tuple(one for one in interactions if one is not None)


def _effect_rows(cells: Cells, factor: int, levels: Sequence[int]) -> Array:
    pairs = [difference_weights(cells, factor, b, a) for a, b in combinations(levels, 2)]
    rows = [first - second for first, second in (pair for pair in pairs if pair is not None)]
    return _independent(np.array(rows)) if rows else np.zeros((0, cells.levels.shape[1]))


def _test(measured: Measured, engine: Engine, rows: Array) -> tuple[tuple[float, int, float], float]:
    """F with its degrees of freedom, and p-value; a single contrast by the form that its interval has, meters and all."""
    if len(rows) == 0 or lonely(measured.design)[rows.any(0)].any():
        return (np.nan, len(rows), np.nan), np.nan  # nothing to tell it by
    if len(rows) == 1:
        only = _with_meters(measured, engine, rows[0])
        statistic = only.value**2 / only.variance if only.variance > 0 else np.inf
        return (statistic, 1, only.freedom), only.p_value()
    found = jointly_zero(engine.judged, rows)
    return (found.statistic, found.above, found.below), found.p_value


def _with_meters(measured: Measured, engine: Engine, row: Array) -> Estimate:
    """A contrast with what the meters add to the difference of its two sides."""
    (only,) = estimates(engine, row[None])
    sides = _members(measured, np.maximum(row, 0)), _members(measured, np.minimum(row, 0))
    return with_meters(only, difference_parts(measured, *sides))


def _level_mean(
    measured: Measured, engine: Engine, cells: Cells, factor: int, level: int, coverage: float
) -> LevelMean:
    weights = mean_weights(cells, factor, level)
    (mean,) = estimates(engine, weights[None])
    total = with_meters(mean, meter_parts(measured, _members(measured, weights)))
    value, _, interval = to_ohm(measured.scale, total, coverage)
    return LevelMean(cells.names[factor][level], value, interval)


def _members(measured: Measured, weights: Array) -> Codes:
    return np.flatnonzero(weights[measured.design.condition])


def _compared(
    measured: Measured,
    engine: Engine,
    cells: Cells,
    factor: int,
    pairs: Sequence[tuple[int, int]],
    margin: float | None,
    coverage: float,
    seed: int,
) -> tuple[LevelComparison, ...]:
    known = {pair: both for pair in pairs if (both := difference_weights(cells, factor, *pair)) is not None}
    if not known:
        return ()
    rows = np.array([first - second for first, second in known.values()])
    parts = [_three(measured, engine, first, second) for first, second in known.values()]
    each = coverage
    if len(known) > 1:
        freedom = min(whole[2].freedom for whole, _ in parts)
        each = coverage_of_each(correlation_of(engine.judged, rows), freedom, coverage, seed)
    names = cells.names[factor]
    return tuple(
        _comparison(
            measured,
            (names[of], names[against]),
            whole,
            scatter,
            margin if supported(measured.design, *known[of, against]) else None,
            coverage,
            each,
        )
        for (of, against), (whole, scatter) in zip(known, parts, strict=True)
    )


def _three(
    measured: Measured, engine: Engine, first: Array, second: Array
) -> tuple[tuple[Estimate, Estimate, Estimate], tuple[Estimate, Estimate, Estimate]]:
    """Both means and their difference, with the meters and without."""
    of, against, between = estimates(engine, np.array([first, second, first - second]))
    members = _members(measured, first), _members(measured, second)
    parts = difference_parts(measured, *members)
    whole = (
        with_meters(of, meter_parts(measured, members[0])),
        with_meters(against, meter_parts(measured, members[1])),
        with_meters(between, parts),
    )
    return whole, (of, against, between)


def _comparison(
    measured: Measured,
    names: tuple[str, str],
    whole: tuple[Estimate, Estimate, Estimate],
    scatter: tuple[Estimate, Estimate, Estimate],
    margin: float | None,
    coverage: float,
    each: float,
) -> LevelComparison:
    scale = measured.scale
    amount, interval = difference_in_ohm(scale, *whole, coverage)
    _, tested = difference_in_ohm(scale, *whole, tost_coverage(coverage))
    times, times_interval = ratio(scale, *whole, coverage, scatter)
    together = None
    if each != coverage:
        together = difference_in_ohm(scale, *whole, each)[1], ratio(scale, *whole, each, scatter)[1]
    return LevelComparison(
        *names, amount, interval, times, times_interval, together, whole[2].freedom, whole[2].p_value(),
        verdict_against_margin(*tested, margin),
    )  # fmt: skip


def _interaction(
    measured: Measured, engine: Engine, cells: Cells, one: int, other: int, coverage: float
) -> InteractionResult | None:
    rows = interaction_rows(cells, one, other)
    if len(rows) == 0:
        return None
    statistic, p_value = _test(measured, engine, rows)
    if np.isnan(p_value):
        return InteractionResult((cells.factors[one], cells.factors[other]), statistic, p_value, None, None)
    names = cells.factors[one], cells.factors[other]
    if len(rows) > 1 or measured.scale != "log":
        return InteractionResult(names, statistic, p_value, None, None)
    only = _with_meters(measured, engine, rows[0])
    low, high = (antilog(end) for end in only.interval(coverage))
    return InteractionResult(names, statistic, p_value, antilog(only.value), (low, high))
