"""Contrasts of condition means, by whichever small-sample form holds its promise for the design."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from ohmsworth.inference.design import Design
from ohmsworth.inference.estimate import Estimate, sum_of
from ohmsworth.inference.history import equivalent
from ohmsworth.inference.judged import Judged, estimate, judge
from ohmsworth.inference.kenward_roger import SmallSample
from ohmsworth.inference.means import Means, cells_of, mean_variances, specimen_means, variance_shares
from ohmsworth.inference.part_means import part_contrast
from ohmsworth.inference.rebuilt import History, lean_on
from ohmsworth.inference.reml import Fit
from ohmsworth.inference.unequal import levels_to_split
from ohmsworth.readings.study import Scatter
from ohmsworth.readings.table import Array

KENWARD_ROGER = "REML with Kenward-Roger"
SPECIMEN_MEANS = "t on specimen means"


@dataclass(frozen=True, slots=True, eq=False)
class Engine:
    """A fitted study: everything that contrasts, tolerance bounds and plans are computed from.

    Parameters
    ----------
    design
        What was fitted.
    judged
        The fitted model.
    means, weights
        One mean a specimen and condition, and what it weighs among those of its condition (1 on average).
    split
        Levels whose scatter is separate for each condition.
    scatter
        What was asked of it: decide, all conditions alike, or each its own.
    """

    design: Design
    judged: Judged
    means: Means
    weights: Array
    split: frozenset[str]
    scatter: Scatter
    history: History | None = None

    @property
    def pooled(self) -> bool:
        """Whether conditions were said to scatter alike."""
        return self.scatter == "equal"

    @property
    def fit(self) -> Fit:
        """The scatter as it is reported, bounded at zero."""
        return self.judged.fit

    @property
    def parts(self) -> SmallSample:
        """What small-sample inference on that scatter needs."""
        return self.judged.parts

    @property
    def unequal(self) -> bool:
        """Whether specimens (or pairs) have unequal numbers of matings or readings."""
        shares = variance_shares(self.design, *cells_of(self.design)).values()
        return any(float(np.ptp(share)) > 1e-12 for share in shares)

    @property
    def by_means(self) -> bool:
        """Whether specimen means stand in for the fit.

        They do at the zero bound; where conditions keep scatter of their own; and where the same specimens serve several
        conditions, because the fit has one variance for all of them there, and contacts before a treatment scatter more than
        after it.
        """
        if not self.design.independent or "specimen" not in [level.name for level in self.design.levels]:
            return False
        if self.design.paired:
            return not self.pooled
        return self.fit.at_bound or "specimen" in self.split


def make_engine(design: Design, scatter: Scatter) -> Engine:
    """Fit `design`, splitting the scatter by condition as `scatter` says."""
    split = levels_to_split(design, scatter)
    judged = judge(design, split)
    means = specimen_means(design)
    return Engine(design, judged, means, _weights(design, judged.fit), split, scatter)


def _weights(design: Design, fit: Fit) -> Array:
    """By the fitted variances of specimens' means; equal where each specimen serves several conditions.

    There a specimen's own differences are averaged, in which what it is cancels.
    """
    if design.paired:
        return np.ones(design.nest[0].size)
    variance = mean_variances(design, fit)
    if not (variance > 0).all():
        return np.ones(len(variance))
    return np.asarray(1 / variance / np.mean(1 / variance))


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
    return estimates(engine, np.eye(engine.design.conditions)[[condition]])[0]


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
    first, second = np.eye(engine.design.conditions)[[of, against]]
    means = estimates(engine, np.array([first, second, first - second]))
    return means[0], means[1], means[2]


def estimates(engine: Engine, contrasts: Array) -> tuple[Estimate, ...]:
    """Contrasts of the condition means, all by one form.

    Parameters
    ----------
    engine
        The fitted study.
    contrasts
        Weights of the condition means, one row a contrast, shape (r, k).
    """
    if engine.by_means:
        found = [_by_means(engine, weights) for weights in contrasts]
        known = tuple(one for one in found if one is not None)
        if len(known) == len(found):
            return known
    return tuple(_by_fit(engine, weights) for weights in contrasts)


def method_of(engine: Engine) -> str:
    """Name of the form in use."""
    return SPECIMEN_MEANS if engine.by_means else KENWARD_ROGER


def _by_fit(engine: Engine, weights: Array) -> Estimate:
    """By Kenward and Roger; at the bound, where numbers are unequal, by what parts or complete pairs say themselves."""
    if engine.fit.at_bound and engine.unequal:
        found = (
            part_contrast(engine.design, engine.means, weights)
            if engine.design.repaired
            else _of_complete_specimens(engine, weights)
        )
        if found is not None:
            return found
    return estimate(engine.judged, weights)


def _of_complete_specimens(engine: Engine, weights: Array) -> Estimate | None:
    """The contrast of those specimens that were read under all of its conditions; None where there are fewer than two."""
    if not engine.design.paired or not engine.design.independent or abs(float(weights.sum())) > 1e-12:
        return None
    values = engine.means.complete(weights)
    return _mean_of(values) if len(values) > 1 else None


def _by_means(engine: Engine, weights: Array) -> Estimate | None:
    """A contrast of specimen means; None where one of its conditions has a single specimen, or specimens are shared in part."""
    if engine.design.paired:
        return _of_each_specimen(engine, weights)
    means = [_own_mean_of(engine, c) for c in range(engine.design.conditions)]
    if "specimen" not in engine.split:
        return _pooled(means, weights)
    used = [(float(w), mean) for w, mean in zip(weights, means, strict=True) if w != 0]
    if any(mean.freedom < 1 for _, mean in used):
        return None
    parts = [Estimate(w * m.value, w**2 * m.square / m.weight, m.freedom) for w, m in used]
    return sum_of(parts, welch=engine.scatter == "by condition")


def _of_each_specimen(engine: Engine, weights: Array) -> Estimate | None:
    """Each specimen's own contrast of the conditions it was read under, averaged.

    Exact for every covariance within specimens, as long as specimens that share a condition of the contrast share all of their
    conditions in it (the same specimens before and after, or separate ones).
    """
    groups = engine.means.contrasts(weights)
    if groups is None or any(len(values) < 2 for values in groups):
        return None
    return sum_of([_mean_of(values) for values in groups], welch=engine.scatter == "by condition")


def _mean_of(values: Array) -> Estimate:
    return Estimate(float(values.mean()), float(values.var(ddof=1)) / len(values), len(values) - 1)


@dataclass(frozen=True, slots=True)
class OwnMean:
    """Weighted mean of one condition's specimens, their weighted mean square with its freedom, and the sum of weights.

    Weights are relative to their mean, so that equal ones are one each.
    """

    value: float
    square: float
    freedom: float
    weight: float


def _own_mean_of(engine: Engine, condition: int) -> OwnMean:
    mine = engine.means.condition == condition
    values, weight = engine.means.value[mine], engine.weights[mine]
    mean = float(weight @ values / weight.sum())
    freedom = float(len(values) - 1)
    square = float(weight @ (values - mean) ** 2) / freedom if freedom else 0.0
    return OwnMean(mean, square, freedom, float(weight.sum()))


def _pooled(means: list[OwnMean], weights: Array) -> Estimate | None:
    """Separate specimens that scatter alike under all conditions."""
    square, freedom = _pooled_square(means)
    value = sum(float(w) * mean.value for w, mean in zip(weights, means, strict=True))
    share = sum(float(w) ** 2 / mean.weight for w, mean in zip(weights, means, strict=True))
    return Estimate(value, square * share, freedom) if freedom > 0 else None


def _pooled_square(means: list[OwnMean]) -> tuple[float, float]:
    freedom = sum(mean.freedom for mean in means)
    return (sum(mean.square * mean.freedom for mean in means) / freedom if freedom else 0.0), freedom


def pooled_square(engine: Engine) -> tuple[float, float]:
    """Mean square of the specimens' means within conditions, all weighing alike, and its degrees of freedom."""
    groups = [engine.means.of(c) for c in range(engine.design.conditions)]
    freedom = sum(len(g) - 1 for g in groups)
    squares = sum(float(((g - g.mean()) ** 2).sum()) for g in groups)
    return (squares / freedom if freedom else 0.0), float(freedom)
