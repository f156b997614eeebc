"""The peak of a sum of tones as it sounds: between its samples too, where a converter's wave may rise above them all.

    cell of 1/16 cycle of the highest tone:   a cell with the peak M has M cos(π/16) or more in its middle
    17 points in each such cell:              M cos(π/256) or more is found, and M = found/cos(π/256) at most

for M. Riesz's lemma: around its largest value M, a sum of tones of at most n cycles a turn stays above ``M cos(n t)`` up to
a quarter of a cycle of its highest tone.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from scipy import fft

#: Points of a cycle of the highest tone that are looked at first, and steps in each cell that may hold the peak.
_POINTS, _STEPS = 16, 16
#: What may be missed of the peak, as a share of it: 7.5e-5, half a cell or half a step on either side.
MISSED = float(1 / np.cos(np.pi / (_POINTS * _STEPS)) - 1)
#: Cells that are looked into at a time: the memory it takes stays small.
_AT_A_TIME = 4096


def peak_of_tones(cycles: NDArray[np.int64], phasors: NDArray[np.complex128]) -> float:
    """Largest ``|Σ Re P_k exp(j c_k t)|`` over a turn t of 2π, too small by the share `MISSED` at most.

    Parameters
    ----------
    cycles
        Of each tone in a period, ascending, shape (tones,).
    phasors
        Of each tone, peak, in any unit, shape (tones,).

    Returns
    -------
    float
        In the unit of the phasors.

    Notes
    -----
    Source: Riesz1914 (from memory); the bound of the two grids is our own derivation from it.
    """
    turns = cycles // np.gcd.reduce(cycles)
    points = fft.next_fast_len(_POINTS * int(turns[-1]), real=True)
    spectrum = np.zeros(points // 2 + 1, complex)
    spectrum[turns] = phasors * (points / 2)
    wave = np.abs(fft.irfft(spectrum, points))
    found = float(wave.max())
    cells = np.flatnonzero(wave >= found * np.cos(np.pi / _POINTS))
    inside = np.arange(-_STEPS // 2, _STEPS // 2 + 1) / _STEPS
    steps = np.exp(2j * np.pi / points * np.outer(turns, inside))
    for first in range(0, len(cells), _AT_A_TIME):
        # Whole numbers of turns are taken off first: the phase of a late cell stays exact.
        middles = np.outer(cells[first : first + _AT_A_TIME], turns) % points
        there = phasors * np.exp(2j * np.pi / points * middles)
        found = max(found, float(np.abs((there @ steps).real).max()))
    return found
