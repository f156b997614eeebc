"""What several studies say together of one effect, and what the next study or lot may show.

    yᵢ = μ + bᵢ + eᵢ,   bᵢ ~ N(0, τ²),   eᵢ ~ N(0, uᵢ²)

y are effects on the scale of analysis, as a rule logarithms of a ratio of resistances; uᵢ their standard uncertainties, taken
as known. τ² is found by REML and is zero or more; μ is the mean weighted by w = 1/(u² + τ²), and its uncertainty is that of
Hartung and Knapp,

    u²(μ) = q/Σw,   q = max(1, Σ w (y − μ)²/(k − 1)),   with Student's t of k − 1 degrees of freedom.

The 1 in q is an ad-hoc guard: without it studies that agree by luck give an interval narrower than their own uncertainties
allow. It costs width where there are few studies (for two or three that agree the interval covers more than it promises).

The next study's true effect lies within μ ± t √(τ² + u²(μ)). Its t has k − 2 degrees of freedom: one is lost on μ and one on
τ². For two studies that leaves none, and 1 is used, which is as wide as t gets. With k − 1 these intervals hold less often than
they promise for three to ten studies that differ as much as they are uncertain; with k − 2 less so.

One study is itself: it says nothing of how studies differ, and nothing of the next one.

Sources: PattersonThompson, HartungKnapp, KnappHartung-guard, Cochran1954, HigginsThompson, Higgins2009, Viechtbauer2007.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy import optimize, stats

from ohmsworth.errors import ArgumentFault
from ohmsworth.inference.estimate import Estimate
from ohmsworth.readings.table import Array

#: Places, evenly spread in log τ², between which the likelihood's maximum is looked for.
_PLACES = 121
#: τ² looked at, as multiples of the smallest u² and of the spread of the effects.
_LEAST, _MOST = 1e-6, 1e3


@dataclass(frozen=True, slots=True)
class StudyEffect:
    """What one study says of an effect.

    Parameters
    ----------
    name
        Of the study, job or lot.
    value
        On the scale of analysis.
    uncertainty
        Standard uncertainty, above zero, same unit.
    freedom
        Its degrees of freedom. Used where this study is the only one; several are taken as known.
    """

    name: str
    value: float
    uncertainty: float
    freedom: float = math.inf

    def __post_init__(self) -> None:
        if not math.isfinite(self.value):
            raise ArgumentFault("value", self.value, "a finite number")
        if not (math.isfinite(self.uncertainty) and self.uncertainty > 0):
            raise ArgumentFault("uncertainty", self.uncertainty, "a finite number above zero")
        if not self.freedom > 0:
            raise ArgumentFault("freedom", self.freedom, "more than zero")


@dataclass(frozen=True, slots=True)
class Between:
    """How far studies differ beyond their own uncertainties.

    Parameters
    ----------
    variance
        τ², by REML.
    interval
        Of τ², by inverting Q; from 0 where no difference need be, to infinity where none is too large.
    square, p_value
        Cochran's Q, and the chance of as much where studies do not differ.
    share
        Of the scatter of effects that lies between studies, τ²/(τ² + typical u²): 0 to 1.
    """

    variance: float
    interval: tuple[float, float]
    square: float
    p_value: float
    share: float

    @property
    def spread(self) -> float:
        """Standard deviation of true effects between studies, τ."""
        return math.sqrt(self.variance)


@dataclass(frozen=True, slots=True)
class Pooled:
    """Several studies together.

    Parameters
    ----------
    studies
        How many.
    mean
        The effect in all of them, with its degrees of freedom.
    between
        None for one study, which does not show how studies differ.
    next_study
        The true effect in the next study or lot; None for one study.
    weights
        Share of each study in the mean, in their order; they add up to 1.
    guarded
        Whether the guard widened the interval: the studies agree better than their uncertainties lead one to expect.
    """

    studies: int
    mean: Estimate
    between: Between | None
    next_study: Estimate | None
    weights: tuple[float, ...]
    guarded: bool


@dataclass(frozen=True, slots=True)
class Without:
    """The pooled effect without one study, and by how much that moves it.

    Parameters
    ----------
    name
        The study left out.
    pooled
        The others.
    moved
        Their mean minus that of all, on the scale of analysis.
    decides
        Whether the sign of the effect is known with it and not without it, or the other way round.
    """

    name: str
    pooled: Pooled
    moved: float
    decides: bool


def pool_studies(effects: Sequence[StudyEffect], coverage: float = 0.95) -> Pooled:
    """Bring the effects of several studies together.

    Parameters
    ----------
    effects
        One or more.
    coverage
        Of the interval of τ²; the intervals of mean and next study are read from the estimates at any coverage.

    Raises
    ------
    ArgumentFault
        Without any study.
    """
    y, u2 = _arrays(effects)
    if len(y) == 1:
        only = effects[0]
        return Pooled(1, Estimate(only.value, only.uncertainty**2, only.freedom), None, None, (1.0,), False)
    variance = reml_between(effects)
    mean, guarded = mean_given(effects, variance)
    weights = 1 / (u2 + variance)
    degrees = float(max(len(y) - 2, 1))
    return Pooled(
        len(y),
        mean,
        _between(y, u2, variance, coverage),
        Estimate(mean.value, variance + mean.variance, degrees),
        tuple(float(w) for w in weights / weights.sum()),
        guarded,
    )


def mean_given(effects: Sequence[StudyEffect], variance: float) -> tuple[Estimate, bool]:
    """The mean of two or more effects for a known variance between studies, and whether the guard widened it.

    Source: HartungKnapp; the guard KnappHartung-guard.
    """
    y, u2 = _arrays(effects)
    if len(y) < 2:
        raise ArgumentFault("effects", len(y), "two studies or more")
    w = 1 / (u2 + variance)
    mean = float(w @ y / w.sum())
    scatter = float(w @ (y - mean) ** 2) / (len(y) - 1)
    return Estimate(mean, max(scatter, 1.0) / float(w.sum()), float(len(y) - 1)), scatter < 1


def reml_between(effects: Sequence[StudyEffect]) -> float:
    """Variance between two or more studies, τ², by REML; zero where that is likeliest.

    The restricted likelihood is looked at on a grid from far below the smallest uncertainty to far beyond the spread of the
    effects, and its highest place made exact, so that of several maxima the highest is found.

    Source: PattersonThompson.
    """
    y, u2 = _arrays(effects)
    high = _MOST * float(np.ptp(y) ** 2 + u2.max())
    grid = np.exp(np.linspace(math.log(_LEAST * u2.min()), math.log(high), _PLACES))
    loss = _losses(y, u2, grid)
    best = int(loss.argmin())
    if _losses(y, u2, np.zeros(1))[0] <= loss[best]:
        return 0.0
    ends = math.log(grid[max(best - 1, 0)]), math.log(grid[min(best + 1, _PLACES - 1)])
    found = optimize.minimize_scalar(
        lambda logarithm: float(_losses(y, u2, np.exp([logarithm]))[0]),
        bounds=ends,
        method="bounded",
        options={"xatol": 1e-9},
    )
    return math.exp(float(found.x))


def left_out(effects: Sequence[StudyEffect], coverage: float = 0.95) -> tuple[Without, ...]:
    """Pool again without each study in turn; nothing for a single one.

    What one study decides alone is to be looked at before it is believed.
    """
    if len(effects) < 2:
        return ()
    whole = pool_studies(effects, coverage)
    found = []
    for i, effect in enumerate(effects):
        others = pool_studies([*effects[:i], *effects[i + 1 :]], coverage)
        changed = _signed(others.mean, coverage) != _signed(whole.mean, coverage)
        found.append(Without(effect.name, others, others.mean.value - whole.mean.value, changed))
    return tuple(found)


def _signed(mean: Estimate, coverage: float) -> int:
    """The sign that an interval leaves no doubt of; 0 where it holds zero."""
    low, high = mean.interval(coverage)
    return int(low > 0) - int(high < 0)


def _arrays(effects: Sequence[StudyEffect]) -> tuple[Array, Array]:
    if not effects:
        raise ArgumentFault("effects", 0, "one study or more")
    return np.array([e.value for e in effects]), np.array([e.uncertainty**2 for e in effects])


def _losses(y: Array, u2: Array, variances: Array) -> Array:
    """Minus twice the restricted log-likelihood, up to a constant, at each of some variances between studies."""
    w = 1 / (u2 + variances[:, None])
    total = w.sum(1)
    mean = w @ y / total
    squares = (w * (y - mean[:, None]) ** 2).sum(1)
    return np.asarray(-np.log(w).sum(1) + np.log(total) + squares)


def _square(y: Array, u2: Array, variance: float) -> float:
    """Q: weighted sum of squares about the weighted mean; falls as `variance` grows."""
    w = 1 / (u2 + variance)
    return float(w @ (y - w @ y / w.sum()) ** 2)


def _between(y: Array, u2: Array, variance: float, coverage: float) -> Between:
    square, degrees = _square(y, u2, 0.0), len(y) - 1
    w = 1 / u2
    typical = degrees * w.sum() / (w.sum() ** 2 - w @ w)
    tails = (1 + coverage) / 2, (1 - coverage) / 2
    low, high = (_variance_at(y, u2, float(stats.chi2.ppf(p, degrees))) for p in tails)
    p_value = float(stats.chi2.sf(square, degrees))
    return Between(variance, (low, high), square, p_value, float(variance / (variance + typical)))


def _variance_at(y: Array, u2: Array, square: float) -> float:
    """The variance between studies at which Q is `square`; zero where Q is less already."""
    if _square(y, u2, 0.0) <= square:
        return 0.0
    high = float(u2.max() + np.ptp(y) ** 2)
    while _square(y, u2, high) > square:
        high *= 4
    return float(optimize.brentq(lambda t: _square(y, u2, t) - square, 0.0, high, xtol=1e-12 * high))
