"""Constants of the normal sample that chart limits are made of, computed and not taken from a table.

c4  = E[s]/σ,  d2 = E[W]/σ,  d3 = sd(W)/σ   for a sample of n, s its standard deviation, W its range.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from scipy import special, stats

from ohmsworth.errors import ArgumentFault

_NODES, _REACH, _WIDEST = 160, 9.0, 16.0


def c4(count: int) -> float:
    """Mean of the standard deviation of `count` normal values, over σ: √(2/(n−1)) Γ(n/2)/Γ((n−1)/2).

    Examples
    --------
    >>> round(c4(2), 4)
    0.7979
    """
    _held(count)
    ratio = special.gammaln(count / 2) - special.gammaln((count - 1) / 2)
    return float(np.sqrt(2 / (count - 1)) * np.exp(ratio))


def d2(count: int) -> float:
    """Mean of the range of `count` normal values, over σ.

    Examples
    --------
    >>> round(d2(2), 4)
    1.1284
    """
    return _range_moments(count)[0]


def d3(count: int) -> float:
    """Standard deviation of the range of `count` normal values, over σ.

    Examples
    --------
    >>> round(d3(2), 4)
    0.8525
    """
    mean, square = _range_moments(count)
    return float(np.sqrt(square - mean**2))


@lru_cache(maxsize=64)
def _range_moments(count: int) -> tuple[float, float]:
    """E[W] = ∫(1 − F)dw and E[W²] = 2∫w(1 − F)dw with F(w) = n∫φ(x)(Φ(x+w) − Φ(x))ⁿ⁻¹dx."""
    _held(count)
    node, share = np.polynomial.legendre.leggauss(_NODES)
    x = _REACH * node
    w = _WIDEST * (node + 1) / 2
    inside = stats.norm.cdf(x[:, None] + w) - stats.norm.cdf(x)[:, None]
    below = count * _REACH * (share * stats.norm.pdf(x)) @ inside ** (count - 1)
    weight = share * (1 - below) * _WIDEST / 2
    return float(weight.sum()), float(2 * (weight * w).sum())


def _held(count: int) -> None:
    if not 2 <= count <= 1000:
        raise ArgumentFault("count", count, "2 to 1000")
