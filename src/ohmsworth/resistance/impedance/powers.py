"""Lines that squares and cubes of a sum of tones have: harmonics, sums and differences.

With u(t) = Re Σ Uk exp(jωk t), the phasors (peak) of u² and of u³ at chosen cycles, by a discrete Fourier transform that is long
enough for the highest product: exact. For one tone u² has U²/2 at twice, u³ has U³/4 at three times its frequency. Tones that
are played one after the other make harmonics of their own alone.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy import fft

from ohmsworth.resistance.impedance.curve import Complex
from ohmsworth.resistance.impedance.tone_plan import Way

#: A line that is so much smaller than the largest of its order is rounding.
_ROUNDING = 1e-9

Cycles = NDArray[np.int64]
Mask = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class Products:
    """Lines of second and third order.

    Parameters
    ----------
    square, cube
        Phasors of u² and u³ at each line, zero where there is none, shape (lines,).
    harmonic
        Tone of which a line is the second or third harmonic; −1 where it is a sum or difference, shape (lines,).
    clear
        Whether it is known of which tone in turn a line comes; always so with tones together, shape (lines,).
    """

    square: Complex
    cube: Complex
    harmonic: Cycles
    clear: Mask


def products_of(phasors: Complex, cycles: Cycles, wanted: Cycles, way: Way) -> Products:
    """Phasors of u² and u³ at the cycles `wanted`.

    Parameters
    ----------
    phasors, cycles
        Uk and the cycles of the tones, shape (tones,).
    wanted
        Cycles of the lines, shape (lines,).
    way
        All tones together, or in turn.
    """
    tone = {int(n * c): k for n in (2, 3) for k, c in reversed(list(enumerate(cycles)))}
    harmonic = np.array([tone.get(int(line), -1) for line in wanted], np.int64)
    if way == "in turn":
        return _in_turn(phasors, cycles, wanted, harmonic)
    points = fft.next_fast_len(2 * 3 * int(cycles[-1]) + 2, real=True)
    spectrum = np.zeros(points // 2 + 1, complex)
    spectrum[cycles] = phasors * points / 2
    u = fft.irfft(spectrum, points)
    square, cube = (_at(fft.rfft(u**order) * 2 / points, wanted) for order in (2, 3))
    return Products(square, cube, harmonic, np.ones(len(wanted), bool))


def _at(spectrum: Complex, wanted: Cycles) -> Complex:
    """Lines of a spectrum; zero beyond its end, and where there is but rounding."""
    found = np.where(wanted < len(spectrum), spectrum[np.minimum(wanted, len(spectrum) - 1)], 0)
    return np.where(np.abs(found) > _ROUNDING * np.abs(spectrum[1:]).max(), found, 0)


def _in_turn(phasors: Complex, cycles: Cycles, wanted: Cycles, harmonic: Cycles) -> Products:
    square, cube = np.zeros(len(wanted), complex), np.zeros(len(wanted), complex)
    sources = np.zeros(len(wanted), np.int64)
    for phasor, cycle in zip(phasors, cycles, strict=True):
        square[wanted == 2 * cycle] = phasor**2 / 2
        cube[wanted == 3 * cycle] = phasor**3 / 4
        sources += (wanted == 2 * cycle) | (wanted == 3 * cycle)
    return Products(square, cube, harmonic, sources == 1)
