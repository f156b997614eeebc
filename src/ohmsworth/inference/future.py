"""The next mating of the next specimen, when re-matings and re-readings are no new specimens.

The variance of one future value is that of a specimen's mean, plus what averaging inside the specimen took away:

    V = U + W,   U = mean square of the specimens' nested means (ν_u degrees of freedom),
                 W = Σ (share of level j in a future value − its share in a specimen's mean) σ_j²   (ν_w).

Given the data, U is taken to be U ν_u/χ²(ν_u), W to be W ν_w/χ²(ν_w), and the population's mean normal about the estimate with
variance U/s + (meters)². Quantiles of what follows for mean + z √V are the tolerance bound; its average is the prediction.
Both chi-squares are integrated out on a grid, so there is no chance in it.

Exact for a simple sample (the non-central t and Student's t); elsewhere an approximation whose worth a benchmark measures.
Source: Krishnamoorthy & Mathew (2004), one-sided tolerance limits in random models by generalised pivots.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from scipy import optimize, special, stats

from ohmsworth.inference.engine import Engine, pooled_square
from ohmsworth.inference.kenward_roger import variance_freedom
from ohmsworth.inference.tolerance import one_sided_factor, probability_over
from ohmsworth.readings.table import Array

#: Normal scores at which the chi-squares are cut up; from −_REACH to _REACH, fewer for the inner one.
_REACH, _SCORES, _FEWER_SCORES = 7.5, 121, 49


@dataclass(frozen=True, slots=True)
class Future:
    """What is known of one future value, on the scale of analysis.

    Parameters
    ----------
    mean
        Of the population, estimated.
    between, between_freedom
        Mean square of the specimens' means, and its degrees of freedom.
    specimens
        How many means the estimate rests on (for crossed parts: as many as would be worth the same).
    inside, inside_freedom
        What a single value scatters more than a specimen's mean does; may be negative.
    known
        Variance of the mean from the meters.
    """

    mean: float
    between: float
    between_freedom: float
    specimens: float
    inside: float
    inside_freedom: float
    known: float

    @property
    def simple(self) -> bool:
        """Whether it is a simple sample, for which there are closed forms."""
        return self.inside == 0 and self.known == 0


def future_value(
    engine: Engine, condition: int, inside: dict[str, float], mean: float, known: float
) -> Future | None:
    """The future of a condition with several specimens, from the fitted study.

    Parameters
    ----------
    engine
        The fitted study; None is returned where its specimens are no level, or plugs and sockets are crossed.
    condition
        Its number.
    inside
        Level inside the specimens -> share of its variance in the mean of one specimen of this condition.
    mean, known
        The condition's estimated mean, and what the meters add to its variance.
    """
    if not engine.design.independent or "specimen" not in [level.name for level in engine.design.levels]:
        return None
    values = engine.means.of(condition)
    if engine.design.paired or engine.split:
        between, freedom = float(values.var(ddof=1)), float(len(values) - 1)
    else:
        between, freedom = pooled_square(engine)
    more, more_freedom = _inside(engine, condition, inside)
    if between + max(more, 0.0) <= 0:
        return None
    return Future(mean, between, freedom, len(values), more, more_freedom, known)


def _inside(engine: Engine, condition: int, shares: dict[str, float]) -> tuple[float, float]:
    """What averaging within a specimen took away, and its degrees of freedom (Satterthwaite).

    Reading scatter is the meters' affair, not the contact's: it has no part in a future value where it can be told apart.
    """
    weights = np.zeros(len(engine.fit.components))
    for i, component in enumerate(engine.fit.components):
        if component.level in shares and component.condition in (None, condition):
            weights[i] = (component.level != "reading") - shares[component.level]
    inside = float(weights @ engine.fit.variance)
    if inside <= 0:
        return inside, np.inf
    return inside, max(variance_freedom(engine.parts, weights, inside), 1.0)


def upper_bound(future: Future, content: float, confidence: float) -> float:
    """Bound below which at least `content` of future values lie, with `confidence`."""
    if future.simple:
        factor = one_sided_factor(future.specimens, future.between_freedom, content, confidence)
        return future.mean + factor * float(np.sqrt(future.between))
    of_mean, of_value, weight = _grid(future)
    reach = float(stats.norm.ppf(content)) * np.sqrt(of_value)

    def held(bound: float) -> float:
        return float(weight @ special.ndtr((bound - reach) / of_mean)) - confidence

    unit = float(np.sqrt(future.between + abs(future.inside) + future.known))
    high = unit
    while held(high) < 0 and high < 1e9 * unit:
        high *= 4
    return future.mean + float(optimize.brentq(held, -10 * unit, high, xtol=1e-9 * unit))


def chance_over(future: Future, limit: float) -> float:
    """Predictive probability that one future value lies over `limit` (on the scale of analysis)."""
    if future.simple:
        variance = future.between * (1 + 1 / future.specimens)
        return probability_over(future.mean, variance, future.between_freedom, limit)
    of_mean, of_value, weight = _grid(future)
    return float(weight @ special.ndtr((future.mean - limit) / np.sqrt(of_mean**2 + of_value)))


def _grid(future: Future) -> tuple[Array, Array, Array]:
    """Standard error of the mean and variance of a value at each pair of chi-squares, and the weight of the pair."""
    between, between_weight = inverse_chi(future.between_freedom, _SCORES)
    inside, inside_weight = inverse_chi(future.inside_freedom, _FEWER_SCORES)
    square = future.between * between[:, None] + np.zeros(len(inside))
    value = np.maximum(square + future.inside * inside, 0.0)
    mean = np.sqrt(square / future.specimens + future.known + 1e-300)
    return mean.ravel(), value.ravel(), np.outer(between_weight, inside_weight).ravel()


@lru_cache(maxsize=64)
def inverse_chi(freedom: float, number: int) -> tuple[Array, Array]:
    """Values of ν/χ²(ν) at `number` even normal scores, and their weights."""
    if freedom > 1e5:
        return np.ones(1), np.ones(1)
    scores = np.linspace(-_REACH, _REACH, number)
    weight = np.exp(-(scores**2) / 2)
    chi = np.maximum(stats.chi2.isf(special.ndtr(-scores), freedom), 1e-290)
    return freedom / chi, weight / weight.sum()
