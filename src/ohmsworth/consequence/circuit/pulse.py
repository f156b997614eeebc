"""What becomes of a train of bits: a periodic signal through a circuit, harmonic by harmonic."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from ohmsworth.errors import ArgumentFault

Array = npt.NDArray[np.float64]
Complex = npt.NDArray[np.complex128]

#: Rise time from 10 to 90 % of an edge over its standard deviation, where the edge is a normal distribution summed up.
RISE_OVER_SIGMA = 2.5631031310892007
#: By default the part of a signal of ±1 that harmonics left out may amount to.
NEGLECTED = 1e-5
# Standard deviations in the frequency domain beyond which nothing is left of a spectrum: exp(−8.5²/2) = 2e-16.
_BEYOND = 8.5


@dataclass(frozen=True, slots=True, eq=False)
class PulseTrain:
    """Bits one after the other that repeat for ever, the first one from time 0 on.

    Parameters
    ----------
    levels
        What each bit is sent as: shape (B,), ±1 for bits.
    bit_time
        Second of each bit, more than 0.
    rise_time
        Second from 10 to 90 % of an edge, more than 0. Edges are normal distributions summed up, and half way at the time
        of the bit's beginning.
    """

    levels: Array
    bit_time: float
    rise_time: float

    def __post_init__(self) -> None:
        if self.levels.ndim != 1 or not self.levels.size or not np.all(np.isfinite(self.levels)):
            raise ArgumentFault("levels", self.levels, "one dimension of finite levels, at least one")
        for name in ("bit_time", "rise_time"):
            value = getattr(self, name)
            if not (math.isfinite(value) and value > 0):
                raise ArgumentFault(name, value, "more than 0 s")

    @property
    def period(self) -> float:
        """Second until it repeats."""
        return self.bit_time * len(self.levels)


@dataclass(frozen=True, slots=True, eq=False)
class Harmonics:
    """A periodic signal as the sum of Re(2 c_k exp(jω_k t)), and c_0 without the 2.

    Parameters
    ----------
    period
        Second.
    order
        k of each harmonic kept, shape (m,), rising.
    spectrum
        c_k, shape (m,).
    dropped
        Sum of 2|c_k| of all those left out: a circuit that passes none of them more than G times has an error of at most
        G times this, at any time.
    """

    period: float
    order: npt.NDArray[np.int64]
    spectrum: Complex
    dropped: float

    @property
    def frequency(self) -> Array:
        """Hertz of each harmonic, shape (m,): where a circuit has to be solved."""
        return self.order / self.period


def harmonics(train: PulseTrain, neglected: float = NEGLECTED) -> Harmonics:
    """The harmonics that `train` is made of, but for the weakest ones that together come to at most `neglected`.

    c_k = (1/B) sinc(k/B) exp(−(ω_k σ)²/2) Σ_i b_i exp(−2πjk(i + ½)/B), σ = rise time/2.563.

    Notes
    -----
    The spectrum is exact for edges of normal distribution, whose harmonics die out so fast that cutting them costs
    nothing: no ringing is made that is not there.
    """
    if not (math.isfinite(neglected) and neglected > 0):
        raise ArgumentFault("neglected", neglected, "more than 0")
    bits = len(train.levels)
    sigma = train.rise_time / RISE_OVER_SIGMA
    highest = math.ceil(_BEYOND * train.period / (2 * math.pi * sigma))
    k = np.arange(highest + 1)
    folded = np.fft.fft(train.levels)[k % bits]
    edge = np.exp(-((2 * np.pi * k / train.period * sigma) ** 2) / 2)
    c = folded * np.exp(-1j * np.pi * k / bits) * np.sinc(k / bits) * edge / bits
    size = np.where(k == 0, 1, 2) * np.abs(c)
    weakest = np.argsort(size, kind="stable")
    total = np.cumsum(size[weakest])
    count = int(np.searchsorted(total, neglected, side="right"))
    kept = np.sort(weakest[count:])
    return Harmonics(train.period, kept, c[kept], float(total[count - 1]) if count else 0.0)


def waveform(signal: Harmonics, gain: Complex, samples: int, start: float = 0.0) -> Array:
    """The signal behind a circuit, at `samples` even steps of one period from the time `start` on: shape (..., samples).

    Parameters
    ----------
    signal
        What goes in, m harmonics.
    gain
        What the circuit makes of each of them, shape (..., m): volts by volt, say.
    samples
        At least 1.
    start
        Second.

    Notes
    -----
    The error is `signal.dropped` times the largest gain at the harmonics left out, and rounding.
    """
    if samples < 1:
        raise ArgumentFault("samples", samples, "at least 1")
    shifted = gain * (signal.spectrum * np.exp(2j * np.pi * signal.frequency * start))
    highest = int(signal.order.max(initial=0))
    # So many times the samples asked for that no harmonic is folded onto another one.
    times = highest * 2 // samples + 1
    whole = np.zeros((*shifted.shape[:-1], samples * times // 2 + 1), dtype=np.complex128)
    whole[..., signal.order] = shifted
    return np.asarray(np.fft.irfft(whole, samples * times, norm="forward")[..., ::times])


def worst_level(step: Array) -> Array:
    """The smallest level that a bit sent as +1 can have among any others, ±1: shape (...) of `step` of shape (..., W).

    p_0 − Σ |p_k| for k from 1 to W − 1: p_0 is what the bit itself leaves at the time when it is looked at, p_k what the one
    k bits earlier leaves there.

    Parameters
    ----------
    step
        What comes of W bits of −1 followed by W bits of +1 for ever, looked at once in each of the W bits of +1.

    Notes
    -----
    Exact for a linear circuit that has forgotten a bit W bits later. Negative when some pattern of bits turns the bit over.
    """
    before = np.concatenate((-step[..., -1:], step[..., :-1]), axis=-1)
    left = (step - before) / 2
    return np.asarray(left[..., 0] - np.abs(left[..., 1:]).sum(-1))
