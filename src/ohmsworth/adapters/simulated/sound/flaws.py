"""What can be wrong with a take, to be planted on purpose."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
import scipy.signal
from numpy.typing import NDArray

from ohmsworth.adapters.simulated.sound.truth import TrueContact, TrueShunt, Truth

Array = NDArray[np.float64]

#: Ohm of something that is open, and of a shunt that is shorted.
_OPEN, _SHORT = 1e9, 1e-6
#: Seconds in which processors look at the level, ahead of it, and turn it down; in which they turn it up again, and in which
#: a gate closes.
_LOOK, _UP, _CLOSING = 0.01, 0.5, 0.05
#: Share of full scale that an automatic gain aims at.
_AIM = 0.25
#: Samples of a block of a lossy coder, its band limit in hertz, and blocks of neighbouring lines that share a step.
_BLOCK, _BAND, _SHARED = 2048, 16000.0, 16


@dataclass(frozen=True, slots=True)
class Flaws:
    """Everything that may be wrong, nothing of it unless asked for.

    Parameters
    ----------
    louder
        Decibels by which both inputs are set too high (negative: too low).
    flat
        Share of full scale at which an input stage clips, before the converter does; None where it does not.
    leveller
        Decibels by which an automatic gain may turn both inputs up or down; 0 without.
    gate
        Share of full scale below which noise is gated to silence; 0 without.
    missing
        Seconds from the beginning of the recording, and samples that are lost there, both inputs.
    emptied
        The same, but the samples are zero.
    repeated
        The same, but the samples are those before them once more.
    exchanged
        Whether the inputs are exchanged against what is said.
    same_again
        Whether a swapped take is the straight one once more, and a turned one too.
    shunt, contact
        What is open or shorted.
    hum
        Peak volts of mains hum at both inputs, from a ground loop.
    header_rate
        What the file says of its rate, where that is wrong.
    lossy
        Whether a lossy coder was at work.
    cut
        Seconds that are missing at the end.
    """

    louder: float = 0.0
    flat: float | None = None
    leveller: float = 0.0
    gate: float = 0.0
    missing: tuple[float, int] | None = None
    emptied: tuple[float, int] | None = None
    repeated: tuple[float, int] | None = None
    exchanged: bool = False
    same_again: bool = False
    shunt: Literal["good", "open", "shorted"] = "good"
    contact: Literal["good", "open"] = "good"
    hum: float = 0.0
    header_rate: int | None = None
    lossy: bool = False
    cut: float = 0.0


def spoiled_row(truth: Truth, flaws: Flaws) -> Truth:
    """The row as it is when its shunt or its contact is open or shorted."""
    shunt, contact = truth.shunt, truth.contact
    if flaws.shunt != "good":
        shunt = TrueShunt(_OPEN if flaws.shunt == "open" else _SHORT)
    if flaws.contact == "open":
        contact = TrueContact(_OPEN)
    return Truth(contact, shunt)


def before_converter(waves: Array, flaws: Flaws) -> Array:
    """What an input stage does to the level, `waves` of shape (samples, 2)."""
    waves = waves * 10 ** (flaws.louder / 20)
    if flaws.flat is not None:
        waves = np.clip(waves, -flaws.flat, flaws.flat)
    return waves


def after_converter(waves: Array, rate: int, flaws: Flaws) -> Array:
    """What a recorder does to samples, `waves` of shape (samples, 2)."""
    if flaws.gate:
        closed = (_loudness(waves, rate) < flaws.gate).astype(float)
        waves = waves * (1 - _followed(closed, rate, len(waves), _CLOSING))
    if flaws.leveller:
        most = 10 ** (flaws.leveller / 20)
        wanted = np.clip(_AIM / np.maximum(_loudness(waves, rate), 1e-9), 1 / most, most)
        waves = np.clip(waves * _followed(wanted, rate, len(waves), _UP), -1, 1)
    if flaws.lossy:
        waves = np.column_stack([_coded(wave, rate) for wave in waves.T])
    return waves


def taken_apart(waves: Array, rate: int, flaws: Flaws) -> Array:
    """What gets lost or moved on the way into the file."""
    if flaws.repeated:
        at, length = _place(flaws.repeated, rate)
        waves = waves.copy()
        waves[at : at + length] = waves[at - length : at]
    if flaws.emptied:
        at, length = _place(flaws.emptied, rate)
        waves = waves.copy()
        waves[at : at + length] = 0
    if flaws.missing:
        at, length = _place(flaws.missing, rate)
        waves = np.delete(waves, slice(at, at + length), axis=0)
    if flaws.cut:
        waves = waves[: max(len(waves) - round(flaws.cut * rate), 0)]
    return waves[:, ::-1] if flaws.exchanged else waves


def _place(told: tuple[float, int], rate: int) -> tuple[int, int]:
    return round(told[0] * rate), told[1]


def _loudness(waves: Array, rate: int) -> Array:
    """Largest sample of both inputs in each piece of 10 ms."""
    length = round(_LOOK * rate)
    whole = np.abs(waves).max(axis=1)
    return np.maximum.reduceat(whole, np.arange(0, len(whole), length))


def _followed(wanted: Array, rate: int, samples: int, seconds: float) -> Array:
    """A factor for each sample that falls at once to what is wanted and rises slowly, shape (samples, 1)."""
    found, now = np.empty(len(wanted) + 1), float(wanted[0])
    for number, value in enumerate(wanted):
        now = value if value < now else now + (value - now) * _LOOK / seconds
        found[number] = now
    found[-1] = now
    at = np.arange(samples) / round(_LOOK * rate)
    return np.interp(at, np.arange(len(found)), found)[:, None]


def _coded(wave: Array, rate: int) -> Array:
    """Blocks with a coarse spectrum: steps of a sixteenth of the largest line nearby, faint bands dropped, no treble."""
    window = np.sqrt(scipy.signal.windows.hann(_BLOCK, sym=False))
    maker = scipy.signal.ShortTimeFFT(window, _BLOCK // 2, rate, dual_win=window)
    blocks = maker.stft(wave)
    blocks[maker.f > _BAND] = 0
    lines = blocks[:-1].reshape(-1, _SHARED, blocks.shape[1])
    largest = np.abs(lines).max(axis=1, keepdims=True)
    step = np.maximum(largest, 1e-300) / 16
    lines = step * (np.round(lines.real / step) + 1j * np.round(lines.imag / step))
    lines = np.where(largest > 1e-4 * np.abs(blocks).max(axis=0), lines, 0)
    coded = np.concatenate([lines.reshape(-1, blocks.shape[1]), np.zeros((1, blocks.shape[1]))])
    return np.asarray(maker.istft(coded, k1=len(wave)).real)
