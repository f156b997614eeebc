"""Samples that went missing or came in between: the tones go on later or earlier than they should.

The phases of the tones in one period against those in the one before, tone k with c_k cycles a period of N samples:

    Δφ_k = −2π c_k d / N         d, in samples, by which the tones come later than the drive tells
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from ohmsworth.readings.doubt import Doubt
from ohmsworth.resistance.impedance.sound_faults.dropouts import MEND
from ohmsworth.resistance.impedance.sound_faults.placed import PlacedTake
from ohmsworth.resistance.impedance.sound_faults.summed import summed_at
from ohmsworth.resistance.impedance.tone_plan import Stretch

Array = NDArray[np.float64]
Complex = NDArray[np.complex128]

#: A jump is at least so many samples, and so many times what the others stray by.
_JUMP, _STRAY = 0.7, 12.0


def slips(take: PlacedTake, loudest: int) -> list[Doubt]:
    """Where the tones jump in time.

    Parameters
    ----------
    loudest
        Number, from 0, of the input with the stronger tones.
    """
    found: list[tuple[float, float]] = []
    for turn, part in enumerate(take.plan.main):
        cycles = take.plan.cycles[turn : turn + 1] if take.plan.way == "in turn" else take.plan.cycles
        periods = take.periods(part)
        if len(periods) >= 4:
            found += _jumps(take, periods, cycles, loudest)
    if not found:
        return []
    at, by = found[0]
    words = (
        f"the tones come {abs(by):.0f} samples {'later' if by > 0 else 'earlier'} from about {take.told(at)} on: samples "
        f"{'came in between' if by > 0 else 'are missing'}"
    )
    return [Doubt("DROPPED_OUT", words, (), MEND)]


def _jumps(
    take: PlacedTake, periods: list[Stretch], cycles: NDArray[np.int64], number: int
) -> list[tuple[float, float]]:
    """Place and size of each jump."""
    phasors = np.array([_phasors(take, period, cycles, number) for period in periods])
    # Over two periods, so that the one with the jump in it, which belongs to neither side, is stepped over.
    steps = np.array(
        [
            _later(before, after, cycles, len(periods[0]))
            for before, after in zip(phasors, phasors[2:], strict=False)
        ]
    )
    off = steps - np.median(steps)
    stray = float(np.median(np.abs(off))) * 1.4826
    far = np.abs(off) > max(_JUMP, _STRAY * stray)
    found = []
    for first in np.flatnonzero(far & ~np.concatenate([[False], far[:-1]])):
        # A jump in period p shows from p − 2 to p as far as p is spoiled, and whole from p − 1 to p + 1.
        whole = first + 1 if first + 1 < len(off) and far[first + 1] else first
        period = periods[int(whole) + 1]
        found.append((take.at((period.start + period.stop) / 2), float(off[whole])))
    return found


def _phasors(take: PlacedTake, period: Stretch, cycles: NDArray[np.int64], number: int) -> Complex:
    """Of each tone, turned back to where the period begins."""
    inside = take.stretch(period)
    wave = take.recording.whole(inside.start, inside.stop)[:, number]
    turn = cycles / take.plan.period / (1 + take.clock)
    begun = inside.start - take.at(period.start)
    return np.asarray(summed_at(wave, turn) * np.exp(-2j * np.pi * turn * begun))


def _later(before: Complex, after: Complex, cycles: NDArray[np.int64], length: int) -> float:
    """Samples of the drive by which `after` comes later, the nearest to nought of those that fit alike."""
    turned = after * np.conj(before)
    turned = turned / np.maximum(np.abs(turned), 1e-300)
    spectrum = np.zeros(length // 2 + 1, complex)
    spectrum[cycles] = turned
    # Σ Re(turned_k e^{j2π c_k d/N}) is largest at the shift d that undoes the turning.
    fit = np.fft.irfft(spectrum, length)
    near = np.flatnonzero(fit >= fit.max() - 0.02 * abs(fit.max()))
    shift = (near + length // 2) % length - length // 2
    coarse = int(shift[np.abs(shift).argmin()])
    if len(cycles) == 1:
        return float(-np.angle(turned[0]) / (2 * np.pi * cycles[0]) * length)
    left = np.angle(turned * np.exp(2j * np.pi * cycles * coarse / length))
    return float(coarse - (cycles * left).sum() / (cycles**2).sum() * length / (2 * np.pi))
