"""Small-sample inference on condition means: Kenward-Roger covariance and degrees of freedom.

Source: Kenward & Roger 1997. For a single contrast l their scaled F reduces to t with

    variance = l' Phi_A l,     degrees of freedom = 2 / A2,
    A2 = sum_ij W_ij (l'Phi Pi Phi l)(l'Phi Pj Phi l) / (l'Phi l)^2

(with one row the scale factor is 1). W is the inverse of half the expected information.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ohmsworth.inference.reml import Fit, expected_information
from ohmsworth.readings.table import Array


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
    k = fit.design.conditions
    q = fit.moments.q
    phi = np.asarray(np.linalg.inv(q.v[:k, :k]), float)
    p = q.g[:, :k, :k]
    w = np.asarray(2 * np.linalg.pinv(expected_information(fit.moments), hermitian=True), float)
    # X'V^-1 Vi V^-1 Vj V^-1 X, made symmetric in i and j, is half the second derivative.
    curvature = q.h[:, :, :k, :k] / 2 - np.einsum("iab,bc,jcd->ijad", p, phi, p)
    bias = np.einsum("ij,ijab->ab", w, curvature)
    adjusted = phi + 2 * phi @ bias @ phi
    return SmallSample(phi, (adjusted + adjusted.T) / 2, w, p)


def contrast_freedom(parts: SmallSample, contrast: Array) -> float:
    """Degrees of freedom of the t statistic of one contrast of the condition means."""
    along = parts.plain @ contrast
    slopes = np.einsum("iab,a,b->i", parts.p, along, along)
    spread = float(slopes @ parts.w @ slopes)
    plain = float(contrast @ parts.plain @ contrast)
    return 2 * plain**2 / spread if spread > 0 else np.inf


def variance_freedom(parts: SmallSample, weights: Array, total: float) -> float:
    """Satterthwaite degrees of freedom of a sum `weights · variances` whose value is `total`."""
    spread = float(weights @ parts.w @ weights)
    return 2 * total**2 / spread if spread > 0 else np.inf
