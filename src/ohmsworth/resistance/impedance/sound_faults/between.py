"""The noise between the tones against that of the silence: suppression, coders and automatic gain leave less of it."""

from __future__ import annotations

import numpy as np
import scipy.signal
from numpy.typing import NDArray

from ohmsworth.resistance.impedance.sound_faults.heard import floor, quiet_parts, rounding, spectrum_of_noise
from ohmsworth.resistance.impedance.sound_faults.placed import PlacedTake, spoken

Array = NDArray[np.float64]

#: Share of the silence's noise that has to be left between the tones.
_LEFT = 0.1
#: Samples of the tones that are looked at; Kaiser's window with its form: no leakage above −200 dB.
_LENGTH, _KAISER, _MAIN_LOBE = 1 << 17, 28.0, 10


def noise_taken_away(take: PlacedTake) -> list[str]:
    """Noise between the tones that is far below that of the silence, in words by input."""
    quiet = quiet_parts(take)
    part = take.stretch(take.plan.main[0])
    waves = take.recording.whole(part.start, min(part.stop, part.start + _LENGTH))
    if not quiet or len(waves) < 8192:
        return []
    silent = np.median([floor(spectrum_of_noise(parts), take.recording.rate) for _, parts in quiet], axis=0)
    between = _between_tones(take, waves)
    told = []
    for number in range(2):
        most = _LEFT * float(silent[number])
        if most > 2 * rounding(take) and between[number] < most:
            less = 10 * np.log10(silent[number] / max(between[number], 1e-30))
            told.append(
                f"{spoken(number)} has {less:.0f} dB less noise between the tones than in the silence"
            )
    return told


def _between_tones(take: PlacedTake, waves: Array) -> Array:
    """The power density in the same band, away from the tones; shape (2,)."""
    window = scipy.signal.windows.kaiser(len(waves), _KAISER)
    spectrum = np.fft.rfft((waves - waves.mean(axis=0)) * window[:, None], axis=0)
    density = 2 * np.abs(spectrum) ** 2 / (window**2).sum()
    turn = np.arange(len(density)) / len(waves)
    apart = (turn >= min(2000 / take.recording.rate, 0.2)) & (turn <= 0.4)
    for tone in take.plan.cycles / take.plan.period / (1 + take.clock):
        apart &= np.abs(turn - tone) > _MAIN_LOBE / len(waves)
    if not apart.any():
        return np.full(2, np.inf)
    # The middle of exponentially distributed powers is ln 2 of their mean.
    return np.asarray(np.median(density[apart], axis=0) / np.log(2))
