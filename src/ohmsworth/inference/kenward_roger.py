"""Small-sample inference on condition means: Kenward-Roger covariance and degrees of freedom.

Source: Kenward & Roger 1997. For a single contrast l their scaled F reduces to t with

    variance = l' Phi_A l,     degrees of freedom = 2 / A2,
    A2 = sum_ij W_ij (l'Phi Pi Phi l)(l'Phi Pj Phi l) / (l'Phi l)^2

(with one row the scale factor is 1). W is the inverse of half the expected information.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy import stats

from ohmsworth.inference.reml import Fit, expected_information
from ohmsworth.readings.table import Array

#: Curvature, relative to that of single components, below which a direction counts as flat.
_FLAT = 1e-10
#: Reciprocal of the mean of F below which F has as good as none.
_NO_MEAN = 1e-3


@dataclass(frozen=True, slots=True, eq=False)
class SmallSample:
    """Covariance of the condition means, plain and adjusted, and what the degrees of freedom need.

    `w` is the covariance of the variance components; `p[i]` = d(X'V⁻¹X)/di.
    """

    plain: Array
    adjusted: Array
    w: Array
    p: Array


def small_sample(fit: Fit) -> SmallSample:
    """Kenward-Roger adjusted covariance of the condition means of `fit`."""
    k = len(fit.design.fixed)
    q = fit.moments.q
    phi = np.asarray(np.linalg.inv(q.v[:k, :k]), float)
    p = q.g[:, :k, :k]
    w = inverse_information(expected_information(fit.moments) / 2)
    # X'V^-1 Vi V^-1 Vj V^-1 X, made symmetric in i and j, is half the second derivative.
    curvature = q.h[:, :, :k, :k] / 2 - np.einsum("iab,bc,jcd->ijad", p, phi, p)
    bias = np.einsum("ij,ijab->ab", w, curvature)
    adjusted = phi + 2 * phi @ bias @ phi
    return SmallSample(phi, (adjusted + adjusted.T) / 2, w, p)


def inverse_information(information: Array) -> Array:
    """Inverse where there is one, whatever powers of ten components differ by; no covariance along flat directions."""
    size = information.diagonal()
    largest = float(size.max())
    unit = np.zeros(len(size))
    seen = size > largest * np.finfo(float).eps ** 4  # beyond that its square is no number
    unit[seen] = 1 / np.sqrt(size[seen])
    both = np.outer(unit, unit)
    return np.asarray(np.linalg.pinv(information * both, rcond=_FLAT, hermitian=True) * both, float)


def contrast_freedom(parts: SmallSample, contrast: Array) -> float:
    """Degrees of freedom of the t statistic of one contrast of the condition means."""
    along = parts.plain @ contrast
    slopes = np.einsum("iab,a,b->i", parts.p, along, along)
    spread = float(slopes @ parts.w @ slopes)
    plain = float(contrast @ parts.plain @ contrast)
    return 2 * plain**2 / spread if spread > 0 else np.inf


@dataclass(frozen=True, slots=True)
class FTest:
    """Whether several contrasts are all zero: scaled F statistic, degrees of freedom above and below, p-value."""

    statistic: float
    above: int
    below: float
    p_value: float


def joint_test(parts: SmallSample, mean: Array, contrasts: Array) -> FTest:
    """Kenward-Roger's scaled F test that all contrasts of the means are zero.

    Parameters
    ----------
    parts
        Of the fit.
    mean
        The estimated coefficients, shape (p,).
    contrasts
        Independent rows of weights, shape (r, p).

    Source: Kenward & Roger 1997, section 3.
    """
    rank = len(contrasts)
    along = contrasts @ parts.plain
    theta = contrasts.T @ np.linalg.solve(along @ contrasts.T, contrasts)
    slope = theta @ parts.plain @ parts.p @ parts.plain
    traces = np.trace(slope, axis1=-2, axis2=-1)
    a1 = float(traces @ parts.w @ traces)
    a2 = float(np.einsum("ij,iab,jba->", parts.w, slope, slope, optimize=True))
    scale, below = _scale_and_freedom(a1, a2, rank)
    value = contrasts @ mean
    wald = float(value @ np.linalg.solve(contrasts @ parts.adjusted @ contrasts.T, value))
    statistic = scale * wald / rank
    return FTest(statistic, rank, below, float(stats.f.sf(statistic, rank, below)))


def _scale_and_freedom(a1: float, a2: float, rank: int) -> tuple[float, float]:
    """Scale factor and lower degrees of freedom that give F the first two moments of the Wald statistic.

    Written without the moments themselves, which F has none of from four (variance) or two (mean) degrees of freedom down: the
    freedom is a ratio that goes through both. At two, where that ratio is nought over nought, and where it is no number of
    degrees of freedom, it is the contrasts' own, 2 rank / a2; in a balanced design they are the same.
    """
    if a2 <= 0:
        return 1.0, np.inf
    b = (a1 + 6 * a2) / (2 * rank)
    g = ((rank + 1) * a1 - (rank + 4) * a2) / ((rank + 2) * a2)
    c = np.array([g, rank - g, rank + 2 - g]) / (3 * rank + 2 * (1 - g))
    inverse_mean = 1 - a2 / rank
    over, under = (1 + c[0] * b) * inverse_mean**2, (1 - c[1] * b) ** 2 * (1 - c[2] * b)
    below = 4 + (rank + 2) * under / (over - under) if over != under else np.inf
    if inverse_mean < _NO_MEAN or not 2 < below < np.inf:
        return 1.0, max(2 * rank / a2, 1.0)
    return float(below * inverse_mean / (below - 2)), float(below)


def variance_freedom(parts: SmallSample, weights: Array, total: float) -> float:
    """Satterthwaite degrees of freedom of a sum `weights · variances` whose value is `total`."""
    spread = float(weights @ parts.w @ weights)
    return 2 * total**2 / spread if spread > 0 else np.inf
