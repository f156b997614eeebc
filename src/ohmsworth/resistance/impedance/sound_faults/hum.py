"""Hum from the mains, heard in the silence."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ohmsworth.readings.doubt import Doubt
from ohmsworth.resistance.impedance.sound_faults.heard import Heard
from ohmsworth.resistance.impedance.sound_faults.placed import PlacedTake, spoken
from ohmsworth.resistance.impedance.sound_faults.summed import summed_at

Array = NDArray[np.float64]

#: Mains in hertz, and harmonics that are listened to.
_MAINS, _HARMONICS = (50.0, 60.0), 20
#: Hum is too large when its root mean square is more than this share of the tones', or this one of full scale.
_OF_TONES, _OF_FULL = 0.5, 0.05


def hum(take: PlacedTake, sound: Heard) -> list[Doubt]:
    """Hum that is strong against the tones of its input, or takes much of full scale."""
    doubts = []
    waves = take.waves(take.silences[0], 0.02, 0.98)
    found = {mains: _strength(waves, take.recording.rate, mains) for mains in _MAINS}
    mains = max(_MAINS, key=lambda one: float(found[one].sum()))
    for number in range(2):
        strength = float(found[mains][number])
        tones = float(np.sqrt(max(sound.tones[number] ** 2 - strength**2, 0.0)))
        if strength > max(min(_OF_TONES * tones, _OF_FULL), 3 * float(sound.grass[number])):
            words = f"{spoken(number)} hums at {mains:.0f} Hz and its multiples with {_times(strength, tones)} the tones' level"
            mend = (
                "Run the computer from its battery, connect player and recorder to one earth only, keep the leads short, twisted "
                "and away from mains adapters, and record again."
            )
            doubts.append(Doubt("HUM", words, (), mend))
    return doubts


def _times(strength: float, tones: float) -> str:
    return f"{strength / tones:.2g} times" if tones else "more than"


def _strength(waves: Array, rate: int, mains: float) -> Array:
    """Root mean square of the harmonics, less what noise has halfway between them; shape (2,)."""
    if len(waves) < 4 * rate / mains:
        return np.zeros(2)
    window = np.hanning(len(waves))
    waves = (waves - waves.mean(axis=0)) * window[:, None]
    number = np.arange(1, min(_HARMONICS, int(0.45 * rate / mains)) + 1)
    on, off = (
        _powers(waves, turn, window.sum()) for turn in (number * mains / rate, (number + 0.5) * mains / rate)
    )
    return np.asarray(np.sqrt(np.clip((on - off).sum(axis=0), 0, None)))


def _powers(waves: Array, turns: Array, total: float) -> Array:
    """Mean squares at some frequencies in cycles a sample, shape (frequencies, 2)."""
    return np.asarray(2 * np.abs(summed_at(waves, turns) / total) ** 2)
