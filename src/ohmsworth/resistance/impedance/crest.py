"""Phases that keep the peak of many tones low: more current for the same peak of output and contact voltage."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ohmsworth.resistance.impedance.drive import sum_of_tones
from ohmsworth.resistance.impedance.peak import peak_of_tones

Array = NDArray[np.float64]

#: Share of the peak at which the wave is clipped, from the first round to the last, and how many rounds.
CLIP_FIRST, CLIP_LAST, ROUNDS = 0.50, 0.95, 24
#: Starts that are tried beside Schroeder's: phases that grow with the square of a tone's number, by these many golden turns.
OTHER_STARTS = 16
#: Points of a period for each cycle of the highest tone: enough for the peaks, and no more than that.
_POINTS_A_CYCLE = 4
_MOST_POINTS = 1 << 17
_GOLDEN = (np.sqrt(5) - 1) / 2


def schroeder_phases(cycles: NDArray[np.int64], amplitudes: Array) -> Array:
    """Phases that spread the tones over the period by their power, as a sweep does.

    ``φ_k = φ_(k−1) − 2π (c_k − c_(k−1)) Σ_(l<k) p_l`` with the cycles c and the shares p of the power. For tones that
    follow each other without a gap it is Schroeder's ``φ_k = −2π Σ_(l<k) (k − l) p_l``, with equal amplitudes
    ``−π k (k − 1)/N``.

    Parameters
    ----------
    cycles
        Of each tone in a period, ascending, shape (tones,).
    amplitudes
        Of each tone, shape (tones,).

    Returns
    -------
    NDArray
        In radian, from 0 up to 2π, shape (tones,); the first is zero.

    Notes
    -----
    Source: Schroeder1970 (from memory).
    """
    power = np.cumsum(amplitudes**2) / np.sum(amplitudes**2)
    turns = np.concatenate([[0.0], np.cumsum(np.diff(cycles) * power[:-1])])
    return np.asarray(-2 * np.pi * turns % (2 * np.pi))


def crest_factor(cycles: NDArray[np.int64], amplitudes: Array, phases: Array) -> float:
    """Peak of what sounds, between samples too, over its root mean square ``√(Σ A²/2)``."""
    peak = peak_of_tones(cycles, amplitudes * np.exp(1j * phases))
    return float(peak / np.sqrt(np.sum(amplitudes**2) / 2))


def low_crest_phases(cycles: NDArray[np.int64], amplitudes: Array) -> Array:
    """Phases with a low crest factor: Schroeder's or the best of some other starts, improved by swapping.

    In each round of the swapping between time and frequency the wave is clipped, its phases are kept and its amplitudes
    restored; the clipping begins deep and ends below the peak. The best phases of all rounds are kept, so that the result
    is never worse than Schroeder's. Nothing is drawn by chance. Tones that follow each other closely come to about 1.6.
    Tones spread over decades meet each other in nearly every way during a period: the phases do little for them, and 3.5
    to 4 is what eleven or more come to.

    Parameters
    ----------
    cycles
        Of each tone in a period, ascending, shape (tones,).
    amplitudes
        Of each tone, shape (tones,).

    Returns
    -------
    NDArray
        In radian, shape (tones,).

    Notes
    -----
    Source: VanDerOuderaa1988 (from memory; the course of the clipping is our own).
    """
    points = _points(int(cycles[-1]))
    schroeder = schroeder_phases(cycles, amplitudes)
    squares = np.arange(len(cycles)) ** 2
    others = [2 * np.pi * (_GOLDEN * turns * squares % 1) for turns in range(1, OTHER_STARTS + 1)]

    def peak(phases: Array) -> float:
        return float(np.abs(sum_of_tones(points, cycles, amplitudes, phases)).max())

    start = min([schroeder, *others], key=peak)
    best = _swapped(points, cycles, amplitudes, start)
    # What sounds goes on between the points that were looked at.
    return min(best, schroeder, key=lambda found: crest_factor(cycles, amplitudes, found))


def _swapped(points: int, cycles: NDArray[np.int64], amplitudes: Array, start: Array) -> Array:
    """The phases with the lowest peak of all rounds of clipping and restoring."""
    phases = best = start
    lowest = np.inf
    for clip in np.linspace(CLIP_FIRST, CLIP_LAST, ROUNDS):
        wave = sum_of_tones(points, cycles, amplitudes, phases)
        peak = np.abs(wave).max()
        if peak < lowest:
            lowest, best = peak, phases
        phases = np.angle(np.fft.rfft(np.clip(wave, -clip * peak, clip * peak))[cycles])
    return best


def _points(highest: int) -> int:
    """A power of two of points a period: enough for the peaks of the highest tone, and quickly transformed."""
    most = max(_MOST_POINTS, 1 << int(np.ceil(np.log2(2 * highest + 1))))
    return min(1 << int(np.ceil(np.log2(_POINTS_A_CYCLE * highest))), most)
