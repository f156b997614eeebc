"""Chances of Student-type tests, by integration over the standard deviation that will be found.

With S the standard deviation found over the true one, ν S² is chi-squared with ν degrees of freedom, and the estimate,
in true standard errors, is normal with variance 1 and independent of it. Given S = s every chance is normal; what is
left is one integral over the density of S. It is cut where the normal parts begin and end to change, and each piece is
summed by Gauss and Legendre. That holds for any ν from 1 up and any shift; general non-central t routines lose their
digits far out.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from scipy import special

from ohmsworth.readings.table import Array

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(48)
#: Beyond so many standard deviations a normal tail is nothing (1e-17), and so is the density of S.
_FAR = 8.5
_RARE = 1e-17
#: At more degrees of freedom than this S is 1 for every purpose.
_MOST_FREEDOM = 1e9


def chances_beyond(shift: float, critical: Array, freedom: float) -> Array:
    """P(T > critical) of Student's T with `freedom`, non-central by `shift`, for each of `critical`.

    Parameters
    ----------
    shift
        True value over its true standard error.
    critical
        Quantiles of Student's t that have to be passed; not negative.
    freedom
        Degrees of freedom of the standard error.
    """
    if np.isinf(shift):
        return np.full(len(critical), float(shift > 0))
    wall = np.maximum(critical, 1e-300)
    edges = [(shift - _FAR) / wall, (shift + _FAR) / wall]
    return _over_s(
        lambda c, s: special.ndtr(shift - c * s), critical, edges, np.full(len(critical), np.inf), freedom
    )


def chances_between(low: float, high: float, critical: Array, freedom: float) -> Array:
    """Chance that an estimate ± critical × its standard error lies wholly between two margins.

    Parameters
    ----------
    low, high
        Margins minus the true value, over the true standard error; −inf or inf for none.
    critical
        Quantiles of Student's t for each of the two one-sided tests; more than zero. One chance for each.
    freedom
        Degrees of freedom of the standard error.

    Notes
    -----
    Exact power of two one-sided tests (the two test statistics share one standard error; Owen's bivariate
    non-central t), not the sum of both less one.
    """
    if np.isinf(low):
        return chances_beyond(high, critical, freedom)
    if np.isinf(high):
        return chances_beyond(-low, critical, freedom)
    widest = (high - low) / (2 * critical)  # beyond, the interval is wider than the room for it
    edges = [(end + far) / critical for end in (high, -low) for far in (-_FAR, _FAR)]
    return _over_s(
        lambda c, s: special.ndtr(high - c * s) - special.ndtr(low + c * s), critical, edges, widest, freedom
    )


def _over_s(
    chance: Callable[[Array, Array], Array], critical: Array, edges: list[Array], end: Array, freedom: float
) -> Array:
    """Integral of `chance` over the density of S from 0 to `end`, cut at `edges`; an entry for each of `critical`."""
    if freedom > _MOST_FREEDOM:
        return np.asarray(np.where(end > 1, np.clip(chance(critical, np.ones(len(critical))), 0.0, 1.0), 0.0))
    half_freedom = freedom / 2
    first = float(np.sqrt(special.gammaincinv(half_freedom, _RARE) / half_freedom))
    last = float(np.sqrt(special.gammainccinv(half_freedom, _RARE) / half_freedom))
    ends = np.maximum(np.minimum(end, last), first)
    inner = [np.minimum(np.maximum(edge, first), ends) for edge in (np.ones(len(ends)), *edges)]
    cuts = np.sort([np.full(len(ends), first), ends, *inner], axis=0)
    middle, half = (cuts[1:] + cuts[:-1]) / 2, (cuts[1:] - cuts[:-1]) / 2
    s = middle[..., None] + half[..., None] * _NODES
    # Density of S: that of chi-squared / ν at s², times 2 s.
    logarithm = half_freedom * np.log(half_freedom) - special.gammaln(half_freedom)
    density = 2 * np.exp(logarithm + (freedom - 1) * np.log(s) - half_freedom * s**2)
    found = (chance(critical[:, None], s) * density * _WEIGHTS * half[..., None]).sum((0, 2))
    return np.asarray(np.clip(found, 0.0, 1.0))
