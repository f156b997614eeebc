"""How loud the parts of a take are: peaks, the tones, the level check against the noise beside it, and the noise floor."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import scipy.signal
from numpy.typing import NDArray

from ohmsworth.resistance.impedance.drive import EASED, level_tone
from ohmsworth.resistance.impedance.sound_faults.placed import BLOCK, PlacedTake

Array = NDArray[np.float64]
Complex = NDArray[np.complex128]

#: Samples of a block of the noise's spectrum.
_LINES = 512
#: Share of a silence at its ends that is left out: what was played before may still ring.
_RINGING = 0.05
#: Share of a pause from which on what was played before has faded.
_FADED = 0.6


@dataclass(frozen=True, slots=True, eq=False)
class Heard:
    """Levels of a take by input, full scale being 1.

    Parameters
    ----------
    peak
        Largest sample of the file, shape (2,).
    tones
        Root mean square over the main part, its mean taken off, shape (2,).
    check
        Phasor of the level check, shape (2,).
    grass
        What noise makes of a phasor of that length (root mean square), shape (2,).
    """

    peak: Array
    tones: Array
    check: Complex
    grass: Array


def heard(take: PlacedTake) -> Heard:
    """The levels of a take, in one walk through it."""
    peak = np.zeros(2)
    for block in take.recording.read(0, take.recording.frames, BLOCK):
        peak = np.maximum(peak, np.abs(block).max(axis=0))
    sums, squares, count = np.zeros(2), np.zeros(2), 0
    for part in take.plan.main:
        inside = take.stretch(part)
        for block in take.recording.read(inside.start, inside.stop, BLOCK):
            sums += block.sum(axis=0)
            squares += (block**2).sum(axis=0)
            count += len(block)
    variance = squares / max(count, 1) - (sums / max(count, 1)) ** 2
    check, grass = _check(take)
    return Heard(peak, np.sqrt(np.clip(variance, 0, None)), check, grass)


def _check(take: PlacedTake) -> tuple[Complex, Array]:
    """Phasor of the level check, and the noise of one as the lines beside it in the silence tell."""
    turn = level_tone(take.plan) / take.plan.rate / (1 + take.clock)
    waves = take.waves(take.plan.level_check, EASED, 1 - EASED)
    window = np.hanning(max(len(waves), 1))
    found = _phasors(waves, window, turn)
    quiet = take.waves(take.silences[0], _RINGING, 1 - _RINGING)
    if len(quiet) < 64 or len(waves) < 64:
        return found, np.zeros(2)
    shape = np.hanning(len(quiet))
    power = np.abs(np.fft.rfft((quiet - quiet.mean(axis=0)) * shape[:, None], axis=0)) ** 2
    center = round(turn * len(quiet))
    beside = power[max(center // 2, 3) : max(center * 2, 20)]
    # The middle of exponentially distributed powers is ln 2 of their mean: hum stands out of it.
    density = np.median(beside, axis=0) / np.log(2) / (shape**2).sum()
    return found, np.sqrt(4 * density * (window**2).sum()) / window.sum()


def _phasors(waves: Array, window: Array, turn: float) -> Complex:
    if len(waves) < 64:
        return np.zeros(2, complex)
    turned = np.exp(-2j * np.pi * turn * np.arange(len(waves))) * window
    # A constant would leak into a short check.
    level = (waves * window[:, None]).sum(axis=0) / window.sum()
    return np.asarray(2 * turned @ (waves - level) / window.sum())


def quiet_parts(take: PlacedTake) -> list[tuple[str, Array]]:
    """What was recorded while nothing was played, with what it is called; only parts that are long enough."""
    named = [("in the silence before the first mark", take.waves(take.silences[0], _RINGING, 1 - _RINGING))]
    after = ("after the first mark", "after the level check", "after the tones")
    named += [(words, take.waves(gap, _FADED, 0.98)) for words, gap in zip(after, take.gaps, strict=True)]
    named.append(("in the silence after the last mark", take.waves(take.silences[1], _FADED / 2, 1.0)))
    return [(words, waves) for words, waves in named if len(waves) >= 2 * _LINES]


def spectrum_of_noise(waves: Array) -> Array:
    """Power density against cycles a sample (0 to 1/2) of full scale = 1, shape (lines, 2)."""
    _, density = scipy.signal.welch(waves, nperseg=_LINES, axis=0)
    return np.asarray(density)


def floor(density: Array, rate: int) -> Array:
    """The middle of a density above 2 kHz, where hum is faint, and below the converter's filter; shape (2,)."""
    turn = np.linspace(0, 0.5, len(density))
    inside = (turn >= min(2000 / rate, 0.2)) & (turn <= 0.4)
    return np.asarray(np.median(density[inside], axis=0))


def rounding(take: PlacedTake) -> float:
    """Power density of the rounding of its samples."""
    bits = take.recording.bits
    return 2 * (2.0 ** (1 - bits)) ** 2 / 12 if bits else 0.0
