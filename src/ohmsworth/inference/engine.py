"""Contrasts of condition means, by whichever small-sample form holds its promise for the design."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from scipy import stats

from ohmsworth.inference.design import Design
from ohmsworth.inference.history import equivalent
from ohmsworth.inference.kenward_roger import SmallSample, contrast_freedom, small_sample
from ohmsworth.inference.means import Means, specimen_means
from ohmsworth.inference.rebuilt import History, lean_on
from ohmsworth.inference.reml import Fit, fit_reml
from ohmsworth.inference.unequal import levels_to_split
from ohmsworth.readings.study import Scatter
from ohmsworth.readings.table import Array

KENWARD_ROGER = "REML with Kenward-Roger"
SPECIMEN_MEANS = "t on specimen means"


@dataclass(frozen=True, slots=True)
class Estimate:
    """An estimate on the scale of analysis with its variance and degrees of freedom."""

    value: float
    variance: float
    freedom: float

    @property
    def standard_error(self) -> float:
        """Square root of the variance."""
        return float(np.sqrt(self.variance))

    def interval(self, coverage: float) -> tuple[float, float]:
        """Two-sided t interval."""
        half = float(stats.t.ppf((1 + coverage) / 2, self.freedom)) * self.standard_error
        return self.value - half, self.value + half

    def p_value(self, against: float = 0.0) -> float:
        """Two-sided p-value of the hypothesis that the value is `against`."""
        if self.variance == 0:
            return float(self.value == against)
        return float(2 * stats.t.sf(abs(self.value - against) / self.standard_error, self.freedom))


@dataclass(frozen=True, slots=True, eq=False)
class Engine:
    """A fitted study: everything that contrasts, tolerance bounds and plans are computed from."""

    design: Design
    fit: Fit
    parts: SmallSample
    means: Means
    split: frozenset[str]
    pooled: bool
    history: History | None = None

    @property
    def by_means(self) -> bool:
        """Whether specimen means stand in for the fit.

        They do at the zero bound; and where the same specimens serve several conditions, because the fit has one variance
        for all of them there, and contacts before a treatment scatter more than after it.
        """
        levels = [level.name for level in self.design.chain]
        if "specimen" not in levels or self.design.crossed:
            return False
        return self.fit.at_bound or (self.design.paired and not self.pooled)


def make_engine(design: Design, scatter: Scatter) -> Engine:
    """Fit `design`, splitting the scatter by condition as `scatter` says."""
    split = levels_to_split(design, scatter)
    fit = fit_reml(design, split)
    return Engine(design, fit, small_sample(fit), specimen_means(design), split, scatter == "equal")


def with_history(engine: Engine, estimate: Estimate, conditions: tuple[int, ...]) -> Estimate:
    """The estimate as past studies let it be known; as it is where there is no history, or it says nothing."""
    if engine.history is None:
        return estimate
    leant = lean_on(engine.history, engine.design, estimate.variance, estimate.freedom, conditions)
    if leant is None:
        return estimate
    variance, freedom = equivalent(leant, engine.history.coverage)
    return replace(estimate, variance=variance, freedom=freedom)


def own_estimate(engine: Engine, conditions: tuple[int, ...]) -> Estimate:
    """The mean of a condition, or the difference of two, from this study alone."""
    return _own_mean(engine, *conditions) if len(conditions) == 1 else _own_contrast(engine, *conditions)[2]


def condition_mean(engine: Engine, condition: int) -> Estimate:
    """The mean of one condition (of the population of specimens)."""
    return with_history(engine, _own_mean(engine, condition), (condition,))


def _own_mean(engine: Engine, condition: int) -> Estimate:
    if engine.by_means:
        found = _means_estimate(engine, condition)
        if found is not None:
            return found
    return _by_kenward_roger(engine, np.eye(engine.design.conditions)[condition])


def difference(engine: Engine, of: int, against: int) -> Estimate:
    """Mean of condition `of` minus mean of condition `against`."""
    return contrast(engine, of, against)[2]


def contrast(engine: Engine, of: int, against: int) -> tuple[Estimate, Estimate, Estimate]:
    """Both condition means and their difference, all three by one form, so that they fit together."""
    first, second, between = _own_contrast(engine, of, against)
    told = with_history(engine, between, (of, against))
    if told is between:
        return first, second, between
    times = told.variance / between.variance
    first, second = (replace(e, variance=times * e.variance, freedom=told.freedom) for e in (first, second))
    return first, second, told


def _own_contrast(engine: Engine, of: int, against: int) -> tuple[Estimate, Estimate, Estimate]:
    if engine.by_means:
        found = _by_means(engine, of, against)
        if found is not None:
            return found
    first, second = np.eye(engine.design.conditions)[[of, against]]
    return (
        _by_kenward_roger(engine, first),
        _by_kenward_roger(engine, second),
        _by_kenward_roger(engine, first - second),
    )


def method_of(engine: Engine) -> str:
    """Name of the form in use."""
    return SPECIMEN_MEANS if engine.by_means else KENWARD_ROGER


def _by_kenward_roger(engine: Engine, weights: Array) -> Estimate:
    variance = float(weights @ engine.parts.adjusted @ weights)
    if variance <= 0:  # the adjustment is an expansion; where it fails, the plain variance is what there is
        variance = max(float(weights @ engine.parts.plain @ weights), 0.0)
    return Estimate(float(weights @ engine.fit.mean), variance, contrast_freedom(engine.parts, weights))


def _means_estimate(engine: Engine, condition: int) -> Estimate | None:
    values = engine.means.of(condition)
    if engine.design.paired or engine.split:
        return _mean_of(values) if len(values) > 1 else None
    square, freedom = pooled_square(engine)
    return Estimate(float(values.mean()), square / len(values), freedom) if freedom > 0 else None


def _by_means(engine: Engine, of: int, against: int) -> tuple[Estimate, Estimate, Estimate] | None:
    """By specimen means: paired where all specimens are shared, separate where none is, else not at all."""
    first, second = _means_estimate(engine, of), _means_estimate(engine, against)
    if first is None or second is None:
        return None
    pairs, complete = engine.means.differences(of, against)
    if len(pairs) == 0:
        return first, second, _separate(engine, first, second)
    if not complete:
        return None
    return first, second, _mean_of(pairs)


def _separate(engine: Engine, first: Estimate, second: Estimate) -> Estimate:
    variance = first.variance + second.variance
    freedom = first.freedom  # of the pooled variance
    if engine.split or engine.design.paired:  # each with its own variance: Welch
        freedom = welch_satterthwaite([first.variance, second.variance], [first.freedom, second.freedom])
    return Estimate(first.value - second.value, variance, freedom)


def _mean_of(values: Array) -> Estimate:
    return Estimate(float(values.mean()), float(values.var(ddof=1)) / len(values), len(values) - 1)


def pooled_square(engine: Engine) -> tuple[float, float]:
    """Mean square of the specimens' means within conditions, and its degrees of freedom."""
    groups = [engine.means.of(c) for c in range(engine.design.conditions)]
    freedom = sum(len(g) - 1 for g in groups)
    squares = sum(float(((g - g.mean()) ** 2).sum()) for g in groups)
    return (squares / freedom if freedom else 0.0), float(freedom)


def welch_satterthwaite(variances: list[float], freedoms: list[float]) -> float:
    """Effective degrees of freedom of a sum of variances (GUM G.4.1, equation G.2b)."""
    total = sum(variances)
    spread = sum(v**2 / f for v, f in zip(variances, freedoms, strict=True) if v > 0)
    return total**2 / spread if spread > 0 else np.inf
