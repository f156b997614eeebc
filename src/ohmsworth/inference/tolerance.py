"""Upper tolerance bounds and prediction: what to expect of the next mating of the next specimen."""

from __future__ import annotations

import numpy as np
from scipy import stats

from ohmsworth.errors import ArgumentFault


def one_sided_factor(effective: float, freedom: float, content: float, confidence: float) -> float:
    """Factor k of a one-sided tolerance bound, mean + k × standard deviation.

    Parameters
    ----------
    effective
        Variance of one future value divided by the variance of the mean; the sample size n for a simple
        sample.
    freedom
        Degrees of freedom of the standard deviation.
    content, confidence
        At least this share of future values lies below the bound, with this confidence.

    Notes
    -----
    Exact for a simple sample (Natrella, NBS Handbook 91: non-central t); for nested scatter with
    Satterthwaite's degrees of freedom an approximation.
    """
    if effective <= 0 or freedom <= 0:
        raise ArgumentFault("effective, freedom", (effective, freedom), "more than zero")
    root = np.sqrt(effective)
    shift = float(stats.norm.ppf(content)) * root
    if freedom > 1e5:  # the non-central t is then a shifted normal
        return float((shift + stats.norm.ppf(confidence)) / root)
    return float(stats.nct.ppf(confidence, freedom, shift) / root)


def probability_over(mean: float, variance: float, freedom: float, limit: float) -> float:
    """Predictive probability that one future value exceeds `limit`.

    `variance` is that of the future value about the estimated mean (its own plus the mean's).
    """
    if variance == 0:
        return float(mean > limit)
    return float(stats.t.sf((limit - mean) / np.sqrt(variance), min(freedom, 1e9)))
