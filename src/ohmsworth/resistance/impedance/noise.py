"""Noise about a line, from the bins beside it in which nothing is played."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ohmsworth.resistance.impedance.tone_plan import TonePlan

Array = NDArray[np.float64]
Complex = NDArray[np.complex128]
Codes = NDArray[np.int64]

#: Mains frequencies in hertz, and how far from their harmonics a bin has to be.
MAINS, MAINS_WIDTH = (50.0, 60.0), 1.5
#: Bins that are looked at beside each line, half of them on either side where there are as many.
BESIDE = 40
#: A bin with this many times the median power holds a line of its own, such as a whistle, and no noise; chance does it once
#: in four thousand.
WHISTLE = 12.0


def quiet_bins(plan: TonePlan, lines: Codes, reach: Array) -> NDArray[np.bool_]:
    """Which whole numbers of cycles hold nothing but noise, shape (period // 2 + 1,).

    Parameters
    ----------
    plan
        Of the take.
    lines
        Cycles of whatever is or may be there: tones and products.
    reach
        How many bins on either side of each line are taken by it, shape as `lines`.
    """
    size = plan.period // 2 + 1
    quiet = np.ones(size, bool)
    quiet[[0, 1, size - 1]] = False
    quiet &= ~near_mains(np.arange(size) * (plan.rate / plan.period), MAINS_WIDTH)
    for line, far in zip(lines.tolist(), reach, strict=True):
        quiet[max(int(line - far), 0) : int(line + far) + 1] = False
    return quiet


def near_mains(frequency: NDArray[np.floating], width: float) -> NDArray[np.bool_]:
    """Which of `frequency` (hertz) lie less than `width` hertz from a harmonic of either mains frequency; shape as they."""
    apart = [np.abs(frequency - mains * np.round(frequency / mains)) for mains in MAINS]
    return np.asarray(np.min(apart, axis=0) < width)


def bins_beside(quiet: NDArray[np.bool_], line: float) -> Codes:
    """The quiet bins nearest to a line, half on either side where there are as many, ascending."""
    free = np.flatnonzero(quiet)
    split = int(np.searchsorted(free, line))
    below = min(split, max(BESIDE // 2, BESIDE - (len(free) - split)))
    above = min(len(free) - split, BESIDE - below)
    return free[split - below : split + above]


def noise_beside(spectrum: Complex) -> tuple[Complex, float]:
    """Covariance E[n nᴴ] of two inputs' phasors at a line, and its degrees of freedom.

    Parameters
    ----------
    spectrum
        Mean phasors in the bins beside it, shape (2, bins).
    """
    power = np.abs(spectrum) ** 2
    typical = np.median(power, axis=1, keepdims=True) + np.finfo(float).tiny
    kept = spectrum[:, (power <= WHISTLE * typical).all(axis=0)]
    return np.asarray(kept @ kept.conj().T / kept.shape[1]), 2.0 * kept.shape[1]
