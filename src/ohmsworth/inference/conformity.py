"""Within a limit or not: probability of conformity and the guarded verdict (JCGM 106).

The probability that the true value lies at or below an upper limit, given the estimate, its standard
uncertainty and degrees of freedom; "within" or "over" is said only when that probability (or its complement)
reaches the stated confidence, which for a normal distribution is a guard band of 1.645 standard uncertainties
at 95 %.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike
from scipy import stats

from ohmsworth.readings.table import Array

WITHIN, OVER, OPEN = "within", "over", "too close to call"


def probability_within(
    value: ArrayLike, uncertainty: ArrayLike, freedom: ArrayLike, limit: ArrayLike
) -> Array:
    """Probability that the true value is at most `limit` (one-sided; all arguments in one unit).

    Source: JCGM 106:2012, 7.3; Student's t replaces the normal distribution for finite `freedom`.
    """
    value, uncertainty = np.asarray(value, float), np.asarray(uncertainty, float)
    limit = np.asarray(limit, float)
    finite = np.minimum(np.asarray(freedom, float), 1e9)
    with np.errstate(divide="ignore", invalid="ignore"):
        z = (limit - value) / uncertainty
    z = np.where(uncertainty == 0, np.where(value <= limit, np.inf, -np.inf), z)
    return np.asarray(stats.t.cdf(z, finite))


def verdict(probability: float | None, confidence: float) -> str:
    """Say "within", "over" or "too close to call" for a probability of conformity (None: not known)."""
    if probability is None or np.isnan(probability):
        return OPEN
    if probability >= confidence:
        return WITHIN
    return OVER if probability <= 1 - confidence else OPEN


def guard_factor(confidence: float, freedom: float = np.inf) -> float:
    """Guard band in standard uncertainties for a one-sided verdict with `confidence`."""
    return float(stats.t.ppf(confidence, min(freedom, 1e9)))
