"""Contrasts of condition means, by whichever small-sample form holds its promise for the design."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from ohmsworth.inference.design import Design
from ohmsworth.inference.estimate import Estimate, welch_satterthwaite
from ohmsworth.inference.history import equivalent
from ohmsworth.inference.judged import Judged, estimate, judge
from ohmsworth.inference.kenward_roger import SmallSample
from ohmsworth.inference.means import Means, specimen_means
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
    means
        One mean a specimen and condition.
    split
        Levels whose scatter is separate for each condition.
    pooled
        Whether conditions were said to scatter alike.
    """

    design: Design
    judged: Judged
    means: Means
    split: frozenset[str]
    pooled: bool
    history: History | None = None

    @property
    def fit(self) -> Fit:
        """The scatter as it is reported, bounded at zero."""
        return self.judged.fit

    @property
    def parts(self) -> SmallSample:
        """What small-sample inference on that scatter needs."""
        return self.judged.parts

    @property
    def by_means(self) -> bool:
        """Whether specimen means stand in for the fit.

        They do at the zero bound; and where the same specimens serve several conditions, because the fit has one variance
        for all of them there, and contacts before a treatment scatter more than after it.
        """
        if not self.design.independent or "specimen" not in [level.name for level in self.design.levels]:
            return False
        return not self.pooled if self.design.paired else self.fit.at_bound


def make_engine(design: Design, scatter: Scatter) -> Engine:
    """Fit `design`, splitting the scatter by condition as `scatter` says."""
    split = levels_to_split(design, scatter)
    return Engine(design, judge(design, split), specimen_means(design), split, scatter == "equal")


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
    return tuple(estimate(engine.judged, weights) for weights in contrasts)


def method_of(engine: Engine) -> str:
    """Name of the form in use."""
    return SPECIMEN_MEANS if engine.by_means else KENWARD_ROGER


def _by_means(engine: Engine, weights: Array) -> Estimate | None:
    """A contrast of specimen means: each specimen's own contrast of the conditions it was read under, averaged.

    Exact for every covariance within specimens, as long as specimens that share a condition of the contrast share all of their
    conditions in it (the same specimens before and after, or separate ones); None where they do not, or one stands alone.
    """
    if not engine.design.paired and not engine.split:
        return _pooled_contrast(engine, weights)
    groups = engine.means.contrasts(weights)
    if groups is None or any(len(values) < 2 for values in groups):
        return None
    each = [_mean_of(values) for values in groups]
    freedom = welch_satterthwaite([e.variance for e in each], [e.freedom for e in each])
    return Estimate(sum(e.value for e in each), sum(e.variance for e in each), freedom)


def _pooled_contrast(engine: Engine, weights: Array) -> Estimate | None:
    """Separate specimens that scatter alike under all conditions."""
    square, freedom = pooled_square(engine)
    groups = [engine.means.of(c) for c in range(engine.design.conditions)]
    value = sum(w * float(g.mean()) for w, g in zip(weights, groups, strict=True))
    share = sum(w**2 / len(g) for w, g in zip(weights, groups, strict=True))
    return Estimate(value, square * share, freedom) if freedom > 0 else None


def _mean_of(values: Array) -> Estimate:
    return Estimate(float(values.mean()), float(values.var(ddof=1)) / len(values), len(values) - 1)


def pooled_square(engine: Engine) -> tuple[float, float]:
    """Mean square of the specimens' means within conditions, and its degrees of freedom."""
    groups = [engine.means.of(c) for c in range(engine.design.conditions)]
    freedom = sum(len(g) - 1 for g in groups)
    squares = sum(float(((g - g.mean()) ** 2).sum()) for g in groups)
    return (squares / freedom if freedom else 0.0), float(freedom)
