"""Complex least squares over a curve: each tone weighted with its own covariance of (R, X).

With the covariances Σk of the tones, Lk Lkᵀ = Σk, the columns and values of every tone are whitened by Lk⁻¹ and stacked as real
numbers; then θ = (JᵀJ)⁻¹ Jᵀ y, Φ = (JᵀJ)⁻¹. The Σk are estimates themselves, from νk degrees of freedom each. With the
information Ak = JkᵀJk of tone k (ΣAk = Φ⁻¹):

    covariance of θ     Φ + Φ [Σ 4/(νk − 4) (Ak − Ak Φ Ak)] Φ        what their estimation costs
    degrees of lᵀθ      (lᵀΦl)²/Σ [(lᵀΦ Ak Φl)²/νk]

νk infinite leaves Φ alone. A common error e of a source does Φ Jᵀ e to θ. Sources: KenwardRoger, for the scale of each tone as
one variance, to first order with 4/νk (for one mean it is Meier's correction). 4/(νk − 4) in its place is this project's, exact
for many tones alike and for one. Satterthwaite for the degrees.

Degrees count as those of one variance: circular noise from the scatter of n groups has 2(n − 1).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from scipy import stats

from ohmsworth.errors import ArgumentFault
from ohmsworth.resistance.impedance.curve import Array, Complex, Curve
from ohmsworth.resistance.impedance.estimated import Estimated

#: Degrees of freedom that a tone's covariance needs to be a weight: with four, χ² has no variance.
LEAST_DEGREES = 4.0


@dataclass(frozen=True, slots=True, eq=False)
class Weighted:
    """A curve made ready for fits.

    Parameters
    ----------
    curve
        The curve.
    roots
        Lk⁻¹, shape (tones, 2, 2).
    """

    curve: Curve
    roots: Array

    def rows(self, columns: Complex) -> Array:
        """Whitened real rows of complex `columns`, shape (tones, n) to (2 tones, n)."""
        parts = np.stack([columns.real, columns.imag], 1)
        return np.asarray((self.roots @ parts).reshape(-1, columns.shape[1]))


@dataclass(frozen=True, slots=True, eq=False)
class LinearFit:
    """Parameters of a linear model.

    Parameters
    ----------
    value
        θ, shape (n,).
    covariance
        From noise, with what the estimation of the weights costs, shape (n, n).
    plain
        Φ, without that cost.
    information
        Ak, shape (tones, n, n).
    degrees
        νk, shape (tones,).
    shared
        What each source does to θ, shape (n,).
    square
        Sum of the squares of the whitened residuals.
    """

    value: Array
    covariance: Array
    plain: Array
    information: Array
    degrees: Array
    shared: Mapping[str, Array]
    square: float

    def estimated(self, weights: Array) -> Estimated:
        """The combination `weights`ᵀθ, weights of shape (n,)."""
        toward = self.plain @ weights
        spread = float((np.einsum("i,kij,j->k", toward, self.information, toward) ** 2 / self.degrees).sum())
        return Estimated(
            float(weights @ self.value),
            float(np.sqrt(weights @ self.covariance @ weights)),
            float(weights @ toward) ** 2 / spread if spread > 0 else np.inf,
            {name: float(weights @ effect) for name, effect in self.shared.items()},
        )


@dataclass(frozen=True, slots=True)
class Consistency:
    """Whether what a fit leaves over is noise.

    Parameters
    ----------
    square
        Least sum of squares of residuals and of the common errors (in their standard uncertainties) that explain them.
    degrees
        Values less parameters.
    p_value
        Chance of as much or more; None where nothing is left over.
    """

    square: float
    degrees: int
    p_value: float | None


def weighted(curve: Curve) -> Weighted:
    """`curve` made ready for fits.

    Raises
    ------
    ArgumentFault
        When a covariance is not positive definite, or has four degrees of freedom or fewer.
    """
    if not (curve.degrees > LEAST_DEGREES).all():
        raise ArgumentFault(
            "degrees", float(curve.degrees.min()), "more than 4 at every tone: record more groups"
        )
    try:
        roots = np.linalg.inv(np.linalg.cholesky(curve.random))
    except np.linalg.LinAlgError:
        raise ArgumentFault("random", curve.random, "noise at every tone, in R and in X") from None
    return Weighted(curve, roots)


def fitted(data: Weighted, columns: Complex) -> LinearFit:
    """Fit of ``columns @ θ``, columns of shape (tones, n), to the curve."""
    tones, n = columns.shape
    rows = data.rows(columns)
    size = np.linalg.norm(rows, axis=0)
    y = data.rows(data.curve.value[:, None])[:, 0]
    # Columns of like size: ohm and henry lie ten decades apart.
    q, r = np.linalg.qr(rows / size)
    back = np.linalg.inv(r) / size[:, None]
    value = back @ (q.T @ y)
    plain = back @ back.T
    each = rows.reshape(tones, 2, n)
    information = np.swapaxes(each, 1, 2) @ each
    cost = (
        (4 / (data.curve.degrees - 4))[:, None, None] * (information - information @ plain @ information)
    ).sum(0)
    shared = {
        name: back @ (q.T @ data.rows(effect[:, None])[:, 0]) for name, effect in data.curve.shared.items()
    }
    left = y - rows @ value
    return LinearFit(
        value,
        plain + plain @ cost @ plain,
        plain,
        information,
        data.curve.degrees,
        shared,
        float(left @ left),
    )


def consistency(data: Weighted, columns: Complex, left: Complex) -> Consistency:
    """Whether the residuals `left` of a fit with (linearised) `columns` are noise and common errors.

    The sum Q over n degrees of freedom is χ² for known covariances. Estimated ones, from ν degrees each (harmonic mean), give
    it the mean n ν/(ν − 2) and a larger variance: it is judged as ν/(ν − 2) (d − 2)/d n F(n, d) with the d that has the same
    variance, d = ν + (n − 2)(ν − 4)/4; for n = 2 this is exact.
    """
    curve = data.curve
    rows = data.rows(columns)
    rows = rows / np.linalg.norm(rows, axis=0)
    errors = [data.rows(effect[:, None]) for effect in curve.shared.values()]
    sources, n = len(errors), columns.shape[1]
    matrix = np.zeros((len(rows) + sources, n + sources))
    matrix[: len(rows), :n] = rows
    if sources:
        matrix[: len(rows), n:] = np.hstack(errors)
        matrix[len(rows) :, n:] = np.eye(sources)
    y = np.append(data.rows(left[:, None])[:, 0], np.zeros(sources))
    rest = y - matrix @ np.linalg.lstsq(matrix, y, rcond=None)[0]
    square, degrees = float(rest @ rest), len(rows) - n
    if degrees <= 0:
        return Consistency(square, 0, None)
    if (inverse := float(np.mean(1 / curve.degrees))) == 0:
        return Consistency(square, degrees, float(stats.chi2.sf(square, degrees)))
    nu = 1 / inverse
    d = nu + (degrees - 2) * (nu - 4) / 4
    scale = nu / (nu - 2) * (d - 2) / d
    return Consistency(square, degrees, float(stats.f.sf(square / degrees / scale, degrees, d)))
