"""A ratio of two phasors whose errors belong together, with the covariance of its real and imaginary part.

With z = n/d, to first order (GUM 5.2; for complex quantities the same law with 2 × 2 matrices):

    δz = (δn − z δd)/d

Circular noise (real and imaginary part alike and apart, E[δ δᵀ] = 0) stays circular in a ratio, since the ratio is an analytic
function; with N = E[δ δᴴ] and w = (1, −z):

    E|δz|² = w N wᴴ/|d|²,    covariance of (Re z, Im z) = E|δz|²/2 times the unit matrix

Valid for errors well below |d|. Sources: GUM; its example H.2 is this ratio, and is held to in the tests.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from ohmsworth.errors import ArgumentFault

Array = npt.NDArray[np.float64]
Complex = npt.NDArray[np.complex128]


@dataclass(frozen=True, slots=True, eq=False)
class Ratio:
    """A complex ratio.

    Parameters
    ----------
    value
        Shape (...,), in the unit of the numerator over that of the denominator.
    covariance
        Of (Re, Im), in the square of that unit, shape (..., 2, 2).
    """

    value: Complex
    covariance: Array


def turning(value: npt.ArrayLike) -> Array:
    """The real matrix [[a, −b], [b, a]] that does to (Re, Im) what a product with a + jb does; shape (..., 2, 2)."""
    c = np.asarray(value, complex)
    return np.stack([np.stack([c.real, -c.imag], -1), np.stack([c.imag, c.real], -1)], -2)


def ratio(numerator: npt.ArrayLike, denominator: npt.ArrayLike, covariance: npt.ArrayLike) -> Ratio:
    """Ratio of phasors with circular noise.

    Parameters
    ----------
    numerator, denominator
        Complex, shape (...,).
    covariance
        N = E[δ δᴴ] of the two, numerator first, shape (..., 2, 2), complex and Hermitian: real and imaginary part of
        each have half of its diagonal.

    Raises
    ------
    ArgumentFault
        When a denominator is zero.
    """
    z, below = _divided(numerator, denominator)
    weights = np.stack([np.ones_like(z), -z], -1)
    square = np.einsum("...i,...ij,...j->...", weights, np.asarray(covariance, complex), weights.conj()).real
    return Ratio(z, (square / np.abs(below) ** 2 / 2)[..., None, None] * np.eye(2))


def ratio_of_parts(numerator: npt.ArrayLike, denominator: npt.ArrayLike, covariance: npt.ArrayLike) -> Ratio:
    """Ratio of phasors whose four parts err in any way.

    Parameters
    ----------
    numerator, denominator
        Complex, shape (...,).
    covariance
        Of (Re numerator, Im numerator, Re denominator, Im denominator), real, shape (..., 4, 4).

    Raises
    ------
    ArgumentFault
        When a denominator is zero.
    """
    z, below = _divided(numerator, denominator)
    slope = np.concatenate([turning(1 / below), turning(-z / below)], -1)
    return Ratio(z, slope @ np.asarray(covariance, float) @ np.swapaxes(slope, -1, -2))


def _divided(numerator: npt.ArrayLike, denominator: npt.ArrayLike) -> tuple[Complex, Complex]:
    above, below = np.asarray(numerator, complex), np.asarray(denominator, complex)
    if not np.all(below != 0):
        raise ArgumentFault("denominator", denominator, "phasors that are not zero")
    return np.asarray(above / below), below
