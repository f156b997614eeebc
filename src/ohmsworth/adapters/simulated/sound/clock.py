"""A signal at any instants, from its spectrum: what a recorder on another clock samples.

    x(t) = Σk w(t − k) y_k        y the signal at twice its rate, its spectrum divided by that of w beforehand

w is a bell that is nought outside of 16 samples, ``exp(β (√(1 − (t/8)²) − 1))``. As the signal fills half of the band at twice
its rate, what the bell lets through of the images, and nothing else, is wrong: below −200 dB. Source: "BarnettMagland2019".
"""

from __future__ import annotations

import numpy as np
import scipy.fft
from numpy.typing import NDArray

Array = NDArray[np.float64]
Complex = NDArray[np.complex128]

#: Samples at twice the rate that the bell covers, and how steep it is.
_WIDTH, _STEEP = 16, 2.30 * 16
#: Instants at a time.
_BLOCK = 1 << 15


def at_instants(spectrum: Complex, samples: int, instants: Array) -> Array:
    """The periodic signal of which `spectrum` is the rfft, at `instants`; shape as they.

    Parameters
    ----------
    spectrum
        Shape (samples // 2 + 1,); the last one, at half the rate, is left out.
    samples
        In a period of the signal, an even number.
    instants
        In samples from the first, in any order.
    """
    twice = scipy.fft.irfft(_undone(spectrum, samples), 2 * samples) * 2
    twice = np.concatenate([twice[-_WIDTH:], twice, twice[:_WIDTH]])
    found = np.empty(len(instants))
    for first in range(0, len(instants), _BLOCK):
        at = (2 * instants[first : first + _BLOCK]) % (2 * samples)
        below = np.floor(at).astype(np.int64) - _WIDTH // 2 + 1
        taps = below[:, None] + np.arange(_WIDTH)
        weights = _bell(at[:, None] - taps)
        found[first : first + _BLOCK] = np.einsum("ij,ij->i", weights, twice[taps + _WIDTH])
    return found


def _bell(distance: Array) -> Array:
    inside = np.clip(1 - (2 * distance / _WIDTH) ** 2, 0, None)
    return np.asarray(np.exp(_STEEP * (np.sqrt(inside) - 1)))


def _undone(spectrum: Complex, samples: int) -> Complex:
    """`spectrum` over that of the bell, which is an integral over its width (Gauss and Legendre)."""
    nodes, weights = np.polynomial.legendre.leggauss(80)
    distance = nodes * _WIDTH / 2
    weights = weights * _bell(distance) * _WIDTH / 2
    # The bell is even and its spectrum smooth: from a coarse grid of Chebyshev nodes it is exact to rounding.
    grid = np.polynomial.chebyshev.Chebyshev.interpolate(
        lambda turn: np.cos(2 * np.pi * turn[:, None] * distance) @ weights, 60, domain=[0, 0.25]
    )
    undone = spectrum / grid(np.arange(len(spectrum)) / (2 * samples))
    undone[-1] = 0
    return np.asarray(undone)
