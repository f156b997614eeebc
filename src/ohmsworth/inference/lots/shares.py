"""The share of a lot that is over the limit, from counts or from values, with confidence bounds."""

from __future__ import annotations

import numpy as np
from scipy import optimize, special, stats

from ohmsworth.inference.future import inverse_chi

#: Points at which a chi-square is cut up.
_POINTS = 121


def share_bounds(bad: int, sample: int, confidence: float) -> tuple[float, float]:
    """One-sided lower and upper bound of a share, `bad` pieces in `sample` over it, each with `confidence`.

    Exact for the binomial and safe for a lot of any size. Source: Clopper and Pearson (1934).
    """
    low = float(stats.beta.ppf(1 - confidence, bad, sample - bad + 1)) if bad else 0.0
    high = float(stats.beta.ppf(confidence, bad + 1, sample - bad)) if bad < sample else 1.0
    return low, high


def share_estimate(distance: float, sample: int) -> float:
    """Unbiased estimate of the share over the limit from `distance` = (limit − mean)/standard deviation.

    A symmetric beta distribution, as the published tables of the s-method use it (MIL-STD-414, form 2).
    """
    if sample < 3:
        return float(stats.norm.sf(distance))
    place = 0.5 - 0.5 * distance * np.sqrt(sample) / (sample - 1)
    return float(stats.beta.cdf(np.clip(place, 0.0, 1.0), sample / 2 - 1, sample / 2 - 1))


def share_upper_bound(distance: float, sample: int, confidence: float) -> float:
    """Upper confidence bound of the share over the limit; exact for normal values.

    The non-central t is averaged over the chi-square here: libraries' own gives out at large distances.
    """
    root = np.sqrt(sample)
    inverse, weight = inverse_chi(float(sample - 1), _POINTS)
    reached = distance * root / np.sqrt(inverse)

    def excess(shift: float) -> float:
        return float(weight @ special.ndtr(shift - reached)) - (1 - confidence)

    low, high = float(reached.min()) - 10.0, float(reached.max()) + 10.0
    return float(stats.norm.sf(optimize.brentq(excess, low, high, xtol=1e-10) / root))
