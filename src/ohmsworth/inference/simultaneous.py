"""Several comparisons at once: intervals that hold together, not each for itself.

With estimates whose correlation is R and a common number of degrees of freedom, the factor c solves
P(|T₁| ≤ c, …, |Tᵣ| ≤ c) = coverage for the multivariate t distribution (Dunnett's problem, for any design). All pairs of equally
well known means are Tukey's problem, whose factor is that of the studentized range over √2.
It is handed on as the coverage of a single interval with that factor.
"""

from __future__ import annotations

from itertools import combinations

import numpy as np
from scipy import optimize, stats

from ohmsworth.inference.judged import Judged, covariance_of
from ohmsworth.readings.table import Array

#: More comparisons than this are held together by Šidák's bound, which needs no integral.
MOST_INTEGRATED = 12
#: Degrees of freedom from which on the t distribution is the normal one.
_NORMAL = 1e6
_NEARLY = 1 - 1e-6
#: Points of the quasi-random integration: about 0.0005 in probability, 0.005 in the factor.
_POINTS = 30_000


def correlation_of(judged: Judged, contrasts: Array) -> Array:
    """Correlation of contrasts of the coefficients, shape (r, r); `contrasts` has one row each, shape (r, k)."""
    covariance = covariance_of(judged, contrasts)
    scale = np.sqrt(np.maximum(covariance.diagonal(), np.finfo(float).tiny))
    return _nearest(np.clip(covariance / np.outer(scale, scale), -1, 1))


def _nearest(correlation: Array) -> Array:
    """The correlation without what rounding made negative of its eigenvalues."""
    values, vectors = np.linalg.eigh(correlation)
    if values.min() >= 0:
        return np.asarray(correlation)
    mended = (vectors * np.maximum(values, 0)) @ vectors.T
    size = np.sqrt(np.maximum(mended.diagonal(), np.finfo(float).tiny))
    return np.asarray(mended / np.outer(size, size))


def coverage_of_each(correlation: Array, freedom: float, coverage: float, seed: int) -> float:
    """Coverage that each interval needs for all of them to hold together with `coverage`.

    Parameters
    ----------
    correlation
        Of the estimates, shape (r, r).
    freedom
        Degrees of freedom of the t statistics (the fewest, where they differ).
    coverage
        Probability that all intervals cover.
    seed
        Of the quasi-random integration, so that an answer repeats.
    """
    r = len(correlation)
    groups = round((1 + np.sqrt(1 + 8 * r)) / 2)
    if r > 1 and _are_all_pairs(correlation, groups):
        range_of_means = float(stats.studentized_range.ppf(coverage, groups, min(freedom, _NORMAL)))
        return float(2 * stats.t.cdf(range_of_means / np.sqrt(2), freedom) - 1)
    independent = float(coverage ** (1 / r))  # Šidák: never too narrow for two-sided intervals
    if r == 1 or r > MOST_INTEGRATED:
        return independent
    low, high = (float(stats.t.ppf((1 + c) / 2, freedom)) for c in (coverage, independent))

    def lacking(factor: float) -> float:
        return _joint(correlation, freedom, factor, seed) - coverage

    if lacking(low) >= 0:  # the estimates are one and the same
        return coverage
    if lacking(high) <= 0:
        return independent
    factor = float(optimize.brentq(lacking, low, high, xtol=1e-3))
    return float(2 * stats.t.cdf(factor, freedom) - 1)


def _are_all_pairs(correlation: Array, groups: int) -> bool:
    """Whether the estimates are all differences of `groups` uncorrelated means of one variance (Tukey's problem)."""
    if groups * (groups - 1) != 2 * len(correlation):
        return False
    unit = np.eye(groups)
    pairs = np.array([unit[b] - unit[a] for a, b in combinations(range(groups), 2)])
    alike = np.allclose(np.abs(pairs @ pairs.T) / 2, np.abs(correlation), atol=1e-6)
    # Several against one reference can have the same sizes; only differences in a circle depend on each other.
    return bool(alike and np.linalg.matrix_rank(correlation, tol=1e-6) == groups - 1)


def _joint(correlation: Array, freedom: float, factor: float, seed: int) -> float:
    """P(all |T| ≤ factor)."""
    ends = np.full(len(correlation), factor)
    # The integration cannot take estimates that are one and the same; next to the same will do.
    correlation = correlation * _NEARLY + np.eye(len(correlation)) * (1 - _NEARLY)
    # Degrees of freedom need not be whole; the published types say so.
    law = stats.multivariate_t(shape=correlation, df=min(freedom, _NORMAL), allow_singular=False)  # type: ignore[arg-type]
    drawn = np.random.default_rng(seed)
    return float(law.cdf(ends, lower_limit=-ends, maxpts=_POINTS, random_state=drawn))
