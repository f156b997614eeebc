"""The eye of a digital audio signal: how far it is open, and how far its edges spread."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from ohmsworth.consequence.circuit import (
    Harmonics,
    Polynomials,
    PulseTrain,
    harmonics,
    value_along,
    waveform,
)
from ohmsworth.consequence.use import Array

#: Points in each unit interval at which the signal is looked at, an even number.
POINTS = 20
#: What may be left out of a signal of ±1: below what any receiver sees.
_NEGLECTED = 1e-4
#: What is sent: this, then the same turned over, for ever.
_PREAMBLE = (1.0, 1.0, 1.0, -1.0, -1.0, -1.0, 1.0, -1.0)
_DATA = (0, 1, 0, 0, 1, 1)
#: Unit intervals looked at before an edge and after it.
_BEFORE, _AFTER = POINTS // 2, POINTS


def biphase(bits: tuple[int, ...], level: float) -> list[float]:
    """Two unit intervals for each of `bits`: every bit begins with an edge, a 1 has another one in its middle.

    Parameters
    ----------
    level
        Of the interval before, ±1.
    """
    found = []
    for bit in bits:
        first = -level
        level = -first if bit else first
        found += [first, level]
    return found


def half_pattern() -> Array:
    """The levels of 20 unit intervals: a preamble with pulses of three, and bits with pulses of one and two."""
    return np.array([*_PREAMBLE, *biphase(_DATA, _PREAMBLE[-1])])


def sent(pulse: float, rise_time: float) -> Harmonics:
    """The pattern and its reverse as a signal of ±1, `pulse` second the unit interval."""
    half = half_pattern()
    return harmonics(PulseTrain(np.concatenate((half, -half)), pulse, rise_time), _NEGLECTED)


def received(signal: Harmonics, polynomials: Polynomials, delay: float, ohm: npt.ArrayLike) -> Array:
    """What comes of `signal` at each resistance `ohm`, POINTS values in each unit interval from `delay` second on."""
    return waveform(signal, value_along(polynomials, ohm), 2 * len(half_pattern()) * POINTS, delay)


def opening(found: Array) -> Array:
    """Smallest height of the eye over half a unit interval, where it is widest; `found` of ±1 as from `received`.

    Notes
    -----
    The half interval lies where a receiver's own clock would settle: where the least level over all pulses is largest.
    Peak to peak: twice the level. Negative where no such place is left.
    """
    levels = half_pattern()
    after = np.arange(POINTS * 3 // 2 + 1)
    place = (np.arange(len(levels))[:, None] * POINTS + after) % found.shape[-1]
    least = (found[..., place] * levels[:, None]).min(axis=-2)
    over_half = np.lib.stride_tricks.sliding_window_view(least, POINTS // 2 + 1, axis=-1).min(axis=-1)
    return np.asarray(2 * over_half.max(axis=-1))


def spread_of_edges(found: Array) -> Array:
    """Latest edge less earliest, against where they were sent, in unit intervals; `found` as from `received`.

    Notes
    -----
    An edge is where the signal passes zero, between points by a straight line. One that is not found from half an interval
    before its time to one after it counts as one interval late.
    """
    levels = half_pattern()
    edge = np.flatnonzero(levels != np.concatenate((-levels[-1:], levels[:-1])))
    place = (edge[:, None] * POINTS + np.arange(-_BEFORE, _AFTER + 1)) % found.shape[-1]
    z = found[..., place] * levels[edge][:, None]
    passing = (z[..., :-1] < 0) & (z[..., 1:] >= 0)
    first = passing.argmax(axis=-1)[..., None]
    low, high = (np.take_along_axis(z, first + k, axis=-1)[..., 0] for k in (0, 1))
    seen = passing.any(axis=-1)
    at = first[..., 0] - _BEFORE + np.where(seen, low / np.where(seen, low - high, 1), 0)
    late = np.where(seen, at, _AFTER) / POINTS
    return np.asarray(late.max(axis=-1) - late.min(axis=-1))
