"""What lossy coders leave out: the treble above an edge, of the noise and of the tones."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ohmsworth.readings.doubt import Doubt
from ohmsworth.resistance.impedance.sound_faults.heard import (
    quiet_parts,
    rounding,
    spectrum_of_noise,
)
from ohmsworth.resistance.impedance.sound_faults.placed import PlacedTake

Array = NDArray[np.float64]

#: Shares of half the rate between which an edge is looked for, and up to which the band should reach.
_FROM, _TO, _BAND = 0.3, 0.86, 0.9
#: Factor of power that the density falls by at an edge, and cycles a sample that the edge may be wide.
_FALL, _WIDE = 100.0, 0.012
#: Share of its neighbours' strength below which a tone is missing.
_MISSING = 0.02


def losses(take: PlacedTake, loudest: int) -> list[Doubt]:
    """What a coder has taken away.

    Parameters
    ----------
    loudest
        Number, from 0, of the input with the stronger tones.
    """
    told = []
    if edge := _edge(take):
        told.append(f"the noise ends at {edge / 1000:.1f} kHz")
    if absent := _absent(take, loudest):
        told.append(f"tones from {absent / 1000:.1f} kHz on are missing")
    if not told:
        return []
    mend = (
        "Record WAV or FLAC from the start, on this computer and not by a call or a stream, with noise suppression off; a lossy "
        "recording that is converted to WAV stays lossy."
    )
    return [Doubt("LOSSY", "; ".join(told), (), mend)]


def _edge(take: PlacedTake) -> float | None:
    """Where the noise of the silence ends within the band, in hertz."""
    parts = [spectrum_of_noise(waves) for _, waves in quiet_parts(take)]
    if not parts:
        return None
    density = np.mean(parts, axis=0)
    turn = np.linspace(0, 0.5, len(density))
    best, found = _FALL, None
    for at in range(int(_FROM * len(turn)), int(_TO * len(turn))):
        above = np.median(density[(turn > turn[at] + _WIDE) & (turn < _BAND / 2)], axis=0)
        above = np.maximum(above, max(rounding(take), 1e-30))
        below = np.median(density[(turn < turn[at]) & (turn > 0.7 * turn[at])], axis=0)
        number = int((below / above).argmax())
        if (fall := float(below[number] / above[number])) > best:
            best = fall
            there = (density[:, number] > np.sqrt(below[number] * above[number])) & (
                turn < turn[at] + 2 * _WIDE
            )
            found = float(turn[np.flatnonzero(there)[-1]]) * take.recording.rate
    return found


def _absent(take: PlacedTake, number: int) -> float | None:
    """The lowest tone, in hertz, from which on none is there, though lower ones are."""
    plan = take.plan
    turns = plan.cycles / plan.period / (1 + take.clock)
    strengths = np.zeros(len(turns))
    for tone, turn in enumerate(turns):
        part = plan.main[tone if plan.way == "in turn" else 0]
        waves = take.waves(take.periods(part)[0])[:, number]
        if len(waves) < 64:
            return None
        window = np.hanning(len(waves))
        at = np.arange(len(waves))
        strengths[tone] = abs((waves - waves.mean()) * window @ np.exp(-2j * np.pi * turn * at))
    strengths /= plan.amplitudes
    there = strengths > _MISSING * np.median(strengths)
    if there.all() or not there.any():
        return None
    highest = int(np.flatnonzero(there)[-1])
    return float(plan.frequencies[highest + 1]) if highest + 1 < len(there) else None
