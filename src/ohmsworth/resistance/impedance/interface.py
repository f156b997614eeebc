"""What takes tell of the interface: its noise, the hum, and where its inputs differ.

A white noise of the one-sided density e leaves of a phasor over the time T, E|n|² = 2 e²/T. The groups' windows together rise
over a hop h, are level over G − 1 hops and fall over one, so that

    T = (Σw)²/Σw² = G² h/(G − 1/4)

Hum is looked for in the silence before the first mark, under one Hann window: the root of the sum of the squares at the mains
frequency and its first harmonics, what noise would leave there taken off. Source: Kay.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ohmsworth.resistance.impedance.noise import MAINS
from ohmsworth.resistance.impedance.phasors import Lines
from ohmsworth.resistance.impedance.recording import Recording
from ohmsworth.resistance.impedance.tone_plan import TonePlan
from ohmsworth.resistance.impedance.windows import windows_for

Array = NDArray[np.float64]

#: Harmonics of the mains that count as hum, the fundamental among them.
HARMONICS = 10
#: Share of the silence that is left alone before the mark.
_APART = 0.1
#: Seconds of silence without which the harmonics of the two mains frequencies are not told apart.
_LEAST_SILENCE = 0.2
#: Mean square of noise over which hum is told, of two numbers for each harmonic; chance does it once in a thousand times.
_SEEN = 2.3


@dataclass(frozen=True, slots=True)
class Hum:
    """Mains hum, full scale being 1.

    Parameters
    ----------
    mains
        Its fundamental in hertz.
    rms
        Root mean square at the first and the second input; 0 where it is not seen in the noise.
    """

    mains: float
    rms: tuple[float, float]


def noise_of(tones: Lines, plan: TonePlan) -> Array:
    """Noise density beside each tone, full scale (1/√Hz) being 1, shape (2, tones)."""
    windows = windows_for(plan.periods)
    hop = windows.hop * plan.period / plan.rate
    seconds = windows.groups**2 * hop / (windows.groups - 0.25)
    power = np.stack([tones.noise[:, one, one].real for one in (0, 1)])
    return np.asarray(np.sqrt(power * seconds / 2))


def hum_of(recording: Recording, plan: TonePlan, start: float) -> Hum | None:
    """Hum in the silence of a take whose drive begins at sample `start`; None where too little of the silence was recorded."""
    first = max(0, round(start))
    last = round(start + plan.silence * (1 - _APART))
    if last - first < _LEAST_SILENCE * recording.rate:
        return None
    waves = recording.whole(first, last)
    window = np.hanning(len(waves) + 1)[:-1]
    spectrum = np.fft.rfft((waves - waves.mean(axis=0)) * window[:, None], axis=0)
    # Mean of the power that white noise has in a bin; the median of |n|² is ln 2 times its mean.
    floor = np.median(np.abs(spectrum) ** 2, axis=0) / np.log(2)
    found = [(mains, _power(waves, window, recording.rate, mains)) for mains in MAINS]
    mains, power = max(found, key=lambda one: float(one[1].sum()))
    over = np.where(power > _SEEN * HARMONICS * floor, power - HARMONICS * floor, 0.0)
    rms = np.sqrt(2 * over) / window.sum()
    return Hum(mains, (float(rms[0]), float(rms[1])))


def _power(waves: Array, window: Array, rate: int, mains: float) -> Array:
    """Σ|X|² at the harmonics of `mains`, shape (2,)."""
    turn = 2j * np.pi * mains / rate * np.arange(len(waves))
    parts = [(window * np.exp(-turn * k)) @ waves for k in range(1, HARMONICS + 1)]
    return np.asarray((np.abs(parts) ** 2).sum(axis=0))
