"""Samples that went missing or came in between: the tones go on later or earlier than they should.

The phases of the tones in one period against those in the one before, tone k with c_k cycles a period of N samples:

    Δφ_k = −2π c_k d / N         d, in samples, by which the tones come later than the drive tells
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from ohmsworth.readings.doubt import Doubt
from ohmsworth.resistance.impedance.sound_faults.dropouts import MEND, runs
from ohmsworth.resistance.impedance.sound_faults.placed import PlacedTake
from ohmsworth.resistance.impedance.sound_faults.summed import summed_at
from ohmsworth.resistance.impedance.tone_plan import Stretch

Array = NDArray[np.float64]
Complex = NDArray[np.complex128]

#: A jump is at least so many samples, and so many times what the others stray by.
_JUMP, _STRAY = 0.7, 12.0
#: Steps from period to period that it takes to see which of them are usual: a jump within a period spoils two.
_STEPS = 5


@dataclass(frozen=True, slots=True, eq=False)
class _Turn:
    """Periods of the same tones: `phasors` of each, shape (periods, tones), and how much later each comes than the last."""

    periods: list[Stretch]
    cycles: NDArray[np.int64]
    phasors: Complex
    steps: Array


def slips(take: PlacedTake, loudest: int) -> list[Doubt]:
    """Where the tones jump in time.

    Parameters
    ----------
    loudest
        Number, from 0, of the input with the stronger tones.
    """
    turns = [_turn(take, number, loudest) for number in range(len(take.plan.main))]
    steps = np.concatenate([turn.steps for turn in turns])
    if len(steps) < _STEPS:
        return []
    # A clock that is not quite known makes every period come later by as much.
    usual = float(np.median(steps))
    jumps = [jump for turn in turns for jump in _jumps(turn, usual)]
    if not jumps:
        return []
    sample, by = jumps[0]
    words = (
        f"the tones come {abs(by):.0f} samples {'later' if by > 0 else 'earlier'} from about {take.told(take.at(sample))} on: "
        f"samples {'came in between' if by > 0 else 'are missing'}"
    )
    return [Doubt("DROPPED_OUT", words, (), MEND)]


def _turn(take: PlacedTake, number: int, loudest: int) -> _Turn:
    plan = take.plan
    cycles = plan.cycles[number : number + 1] if plan.way == "in turn" else plan.cycles
    periods = take.periods(plan.main[number])
    phasors = np.array([_phasors(take, period, cycles, loudest) for period in periods])
    steps = np.array([_later(before, after, cycles, plan.period) for before, after in pairwise(phasors)])
    return _Turn(periods, cycles, phasors, steps)


def _jumps(turn: _Turn, usual: float) -> list[tuple[float, float]]:
    """Sample of the drive and size of each jump."""
    if not len(turn.steps):
        return []
    off = np.abs(turn.steps - usual)
    # A quarter of normally distributed errors is below 0.3186 standard deviations: jumps do not reach it.
    stray = float(np.quantile(off, 0.25)) / 0.3186
    found = []
    for first, length in runs(off > max(_JUMP, _STRAY * stray)):
        # From the last period before to the first one after: what lies between is spoiled by the jump.
        last = first + length
        by = _later(turn.phasors[first], turn.phasors[last], turn.cycles, len(turn.periods[0]))
        by -= length * usual
        if abs(by) > _JUMP:
            found.append(((turn.periods[first].stop + turn.periods[last].start) / 2, by))
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
