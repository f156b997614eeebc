"""Chance that an upper tolerance bound will come out below a limit."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from scipy import interpolate, special, stats

from ohmsworth.inference.future import Future, upper_bound
from ohmsworth.inference.planning.chances import chances_beyond
from ohmsworth.inference.tolerance import one_sided_factor
from ohmsworth.readings.table import Array

#: Quantiles at which the two variances that will be found are looked at, and points between which a bound is interpolated.
_BETWEEN, _INSIDE, _POINTS = 24, 8, 7


def chance_bounded(future: Future, room: float, content: float, confidence: float) -> float:
    """Chance that the bound of a study with the truth `future` lies below a limit `room` above the true mean.

    Parameters
    ----------
    future
        What the study will know: true variances with the degrees of freedom with which they will be found.
    room
        Limit minus the true mean, scale of analysis.
    content, confidence
        Of the tolerance bound.

    Notes
    -----
    A simple sample: mean + k s < L is T > k √n, T non-central t with shift (L − μ) √n / σ; exact. Otherwise the bound
    is worked out, as the answer does it, at the quantiles of both variances, and the mean is normal beside them.
    """
    if future.between <= 0:
        return float(room > 0)
    if future.simple:
        root = np.sqrt(future.specimens)
        factor = one_sided_factor(future.specimens, future.between_freedom, content, confidence)
        shift = float(room * root / np.sqrt(future.between))
        return float(chances_beyond(shift, np.array([max(factor, 0.0) * root]), future.between_freedom)[0])
    between, between_weight = _found(future.between, future.between_freedom, _BETWEEN)
    inside, inside_weight = _found(future.inside, future.inside_freedom, _INSIDE)
    gap = _gaps(future, between[:, None], inside[None, :], content, confidence)
    error = np.sqrt(future.between / future.specimens + future.known)
    return float(between_weight @ special.ndtr((room - gap) / error) @ inside_weight)


def _found(variance: float, freedom: float, number: int) -> tuple[Array, Array]:
    """A variance as it will be found, at Gauss-Legendre quantiles, with their weights."""
    if variance <= 0 or np.isinf(freedom):
        return np.array([variance]), np.ones(1)
    nodes, weights = np.polynomial.legendre.leggauss(number)
    return variance * stats.chi2.ppf((1 + nodes) / 2, freedom) / freedom, weights / 2


def _gaps(future: Future, between: Array, inside: Array, content: float, confidence: float) -> Array:
    """Bound minus mean for each pair of variances; it scales with them, so that only their ratio has to be tried."""
    size = between + np.abs(inside)
    share = inside / size
    low, high = float(share.min()), float(share.max())
    tried = (low + high) / 2 + (high - low) / 2 * np.cos(np.pi * (np.arange(_POINTS) + 0.5) / _POINTS)
    known = future.known / (future.between + abs(future.inside))
    unit = [
        upper_bound(replace(future, mean=0.0, between=1 - abs(t), inside=t, known=known), content, confidence)
        for t in tried.tolist()
    ]
    if high - low < 1e-12:
        return np.asarray(unit[0] * np.sqrt(size))
    curve = interpolate.BarycentricInterpolator(tried, np.log(np.maximum(unit, 1e-12)))
    return np.asarray(np.exp(curve(share)) * np.sqrt(size))
