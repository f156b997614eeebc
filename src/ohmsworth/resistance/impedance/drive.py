"""The drive: silence, mark, level check, tones, mark, silence."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from ohmsworth.resistance.impedance.peak import peak_of_tones
from ohmsworth.resistance.impedance.tone_plan import Stretch, TonePlan

Array = NDArray[np.float64]

#: Ends of the sweep of a mark, hertz; the upper one stays below this share of the rate.
MARK_LOW, MARK_HIGH, MOST_OF_RATE = 300.0, 6000.0, 0.2
#: The level check is the tone that is nearest to this, in hertz.
LEVEL_FREQUENCY = 1000.0
#: Share of a mark or level check that swells, and again that fades.
EASED = 0.125


def sum_of_tones(period: int, cycles: NDArray[np.int64], amplitudes: Array, phases: Array) -> Array:
    """A period of ``Σ A_k cos(2π c_k n / period + φ_k)``; shape (period,)."""
    spectrum = np.zeros(period // 2 + 1, complex)
    spectrum[cycles] = amplitudes * np.exp(1j * phases)
    return np.asarray(np.fft.irfft(spectrum, period) * (period / 2))


def one_period(plan: TonePlan, tone: int | None = None) -> Array:
    """A period of the main part, of all tones or of one; shape (period,)."""
    chosen = slice(None) if tone is None else slice(tone, tone + 1)
    return sum_of_tones(plan.period, plan.cycles[chosen], plan.amplitudes[chosen], plan.phases[chosen])


@lru_cache(maxsize=8)
def peak(plan: TonePlan) -> float:
    """Peak of the main part as it sounds, between its samples too; full scale being 1. See `peak_of_tones`."""
    if plan.way == "in turn":
        return float(plan.amplitudes.max())
    return peak_of_tones(plan.cycles, plan.amplitudes * np.exp(1j * plan.phases))


def largest_sample(plan: TonePlan) -> float:
    """Largest sample of the main part, full scale being 1: plans were once made to reach a current with it."""
    if plan.way == "in turn":
        return float(plan.amplitudes.max())
    return float(np.abs(one_period(plan)).max())


def mark(plan: TonePlan) -> Array:
    """The rising sweep of both marks, as strong as the peak of the main part; shape (mark,)."""
    seconds = plan.mark / plan.rate
    high = min(MARK_HIGH, MOST_OF_RATE * plan.rate)
    time = np.arange(plan.mark) / plan.rate
    phase = 2 * np.pi * (MARK_LOW * time + (high - MARK_LOW) * time**2 / (2 * seconds))
    return peak(plan) * np.sin(phase) * eased(plan.mark)


def level_tone(plan: TonePlan) -> float:
    """Frequency of the level check in hertz."""
    return float(plan.frequencies[np.abs(plan.frequencies - LEVEL_FREQUENCY).argmin()])


def level_check(plan: TonePlan) -> Array:
    """One tone with the peak of the main part; shape (level,)."""
    time = np.arange(plan.level) / plan.rate
    return peak(plan) * np.sin(2 * np.pi * level_tone(plan) * time) * eased(plan.level)


def eased(length: int) -> Array:
    """1 with a soft beginning and end (half cosines), shape (length,)."""
    soft = max(int(EASED * length), 1)
    rise = 0.5 - 0.5 * np.cos(np.pi * (np.arange(soft) + 0.5) / soft)
    shape = np.ones(length)
    shape[:soft] *= rise
    shape[length - soft :] *= rise[::-1]
    return shape


def drive(plan: TonePlan, first: int, last: int) -> Array:
    """Samples `first` up to, not including, `last` of the drive, full scale being 1; made piece by piece."""
    out = np.zeros(last - first)
    for at, wave in _pieces(plan):
        _lay(out, first, at, wave)
    for turn, stretch in enumerate(plan.main):
        _lay_tones(out, first, plan, stretch, turn if plan.way == "in turn" else None)
    return out


def _pieces(plan: TonePlan) -> tuple[tuple[int, Array], ...]:
    sweep = mark(plan)
    return (
        (plan.first_mark.start, sweep),
        (plan.level_check.start, level_check(plan)),
        (plan.last_mark.start, sweep),
    )


def _lay(out: Array, start: int, at: int, wave: Array) -> None:
    """Add `wave`, which begins at sample `at`, to the samples from `start` on."""
    first, last = max(at, start), min(at + len(wave), start + len(out))
    if first < last:
        out[first - start : last - start] += wave[first - at : last - at]


def _lay_tones(out: Array, start: int, plan: TonePlan, stretch: Stretch, tone: int | None) -> None:
    """Whole periods, swelling in the run-in and fading after it into the pause."""
    begun = stretch.start - plan.run_in * plan.period
    soft = min(plan.period, plan.gap) // 2
    first, last = max(begun, start), min(stretch.stop + soft, start + len(out))
    if first >= last:
        return
    at = np.arange(first, last)
    wave = one_period(plan, tone)[(at - stretch.start) % plan.period]
    swell = np.clip((at - begun + 0.5) / soft, 0, 1) * np.clip((stretch.stop + soft - at - 0.5) / soft, 0, 1)
    out[first - start : last - start] += wave * (0.5 - 0.5 * np.cos(np.pi * swell))
