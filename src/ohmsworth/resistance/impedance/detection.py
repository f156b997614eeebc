"""From which size on a line stands out of noise, and which size would be found.

Circular complex noise n with E|n|² = σ², estimated from ν degrees of freedom (of one variance). Without a signal |n|² is
exponential (|n| follows Rayleigh's law), and |n|²/σ² follows F with 2 and ν degrees:

    chance of |x| or more     p = (1 + 2|x|²/(ν σ²))^(−ν/2)                    → exp(−|x|²/σ²) for ν → ∞
    critical value            |x|c = σ √(ν/2 (α^(−2/ν) − 1))                   → σ √(−ln α) = 1.731 σ for α = 5 %
    detection limit           the |x| for which |x + n| passes |x|c in 95 %: non-central F, 2|x|²/σ² its parameter → 2.78 σ

For a real coefficient of standard uncertainty u both signs count: critical value t(1 − α/2, ν) u; detection limit δ u with a
non-central t of parameter δ beyond it in 95 %. Source: "Currie" for critical value and detection limit.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray
from scipy import optimize, stats

Array = NDArray[np.float64]

#: Chance of a false alarm, and of missing what is as large as the detection limit.
FALSE_ALARM, MISSED = 0.05, 0.05


def chance_of(size: Array, noise: Array, degrees: Array) -> Array:
    """P of magnitudes `size` in noise with E|n|² = `noise` known from `degrees`; any shape, alike."""
    square = size**2 / noise
    with np.errstate(invalid="ignore"):
        power = np.where(np.isinf(degrees), -square, -degrees / 2 * np.log1p(2 * square / degrees))
    return np.asarray(np.exp(power))


def critical_factor(degrees: float) -> float:
    """Critical magnitude over σ."""
    if np.isinf(degrees):
        return float(np.sqrt(-np.log(FALSE_ALARM)))
    return float(np.sqrt(degrees / 2 * np.expm1(-2 / degrees * np.log(FALSE_ALARM))))


@lru_cache(maxsize=64)
def limit_factor(degrees: float) -> float:
    """Detection limit of a magnitude over σ."""
    critical = critical_factor(degrees) ** 2

    def missed(factor: float) -> float:
        if np.isinf(degrees):
            return float(stats.ncx2.cdf(2 * critical, 2, 2 * factor**2)) - MISSED
        return float(stats.ncf.cdf(critical, 2, degrees, 2 * factor**2)) - MISSED

    return float(optimize.brentq(missed, 0.5, 3 * critical_factor(degrees) + 10))


@lru_cache(maxsize=64)
def signed_limit_factor(degrees: float) -> float:
    """Detection limit of a real coefficient over its standard uncertainty."""
    critical = signed_critical_factor(degrees)

    def missed(factor: float) -> float:
        if np.isinf(degrees):
            return float(stats.norm.cdf(critical - factor)) - MISSED
        return float(stats.nct.cdf(critical, degrees, factor)) - MISSED

    # The other sign is passed by less than one in a billion of what is as large as this.
    return float(optimize.brentq(missed, critical, critical + 3 * np.sqrt(1 + critical**2 / degrees)))


def signed_critical_factor(degrees: float) -> float:
    """Critical value of a real coefficient, of either sign, over its standard uncertainty."""
    return float(stats.t.isf(FALSE_ALARM / 2, degrees))


def combined_chance(p_values: Array) -> float:
    """P of independent tests together: −2 Σ ln p against χ². Source: "Fisher-combined".

    With known noise this is the energy of all lines against χ²; with estimated noise it is exact as well.
    """
    if not len(p_values):
        return 1.0
    logs = np.log(np.maximum(p_values, np.finfo(float).tiny))
    return float(stats.chi2.sf(-2 * logs.sum(), 2 * len(p_values)))
