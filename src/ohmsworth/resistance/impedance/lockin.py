"""Phasors of the tones from the samples: by folding whole periods, or at any frequency by least squares."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy import fft

from ohmsworth.resistance.impedance.recording import Recording
from ohmsworth.resistance.impedance.windows import Windows, hann_response, level_response

Array = NDArray[np.float64]
Complex = NDArray[np.complex128]

#: Samples that are multiplied with the lines at once.
BLOCK = 4096
#: Blocks read at once.
BLOCKS = 64


def fold(recording: Recording, start: int, period: int, windows: Windows) -> Complex:
    """Spectra of the groups from whole periods laid on each other, at every whole number of cycles in a period.

    Exact for tones with whole cycles in `period` samples of the recording.

    Parameters
    ----------
    recording
        Both inputs.
    start
        Sample at which the first period begins.
    period
        In samples.
    windows
        Which periods make a group.

    Returns
    -------
    Complex
        Phasors, full scale being 1, shape (groups, 2, period // 2 + 1).
    """
    hop = windows.hop * period
    laid = np.zeros((windows.groups, 2, period))
    weight_of = _Swell(hop, period)
    at = 0
    many = max(1, BLOCK * BLOCKS // period)
    for block in recording.read(start, start + windows.periods * period, many * period):
        for row in range(0, len(block), period):
            group, inside = divmod(at, hop)
            one = block[row : row + period].T
            swelling = weight_of(inside + 0.5, period) * one
            if group < windows.groups:
                laid[group] += swelling
            if group > 0:
                laid[group - 1] += one - swelling
            at += period
    return np.asarray(fft.rfft(laid, axis=-1, workers=2) * (2 / hop))


@dataclass(frozen=True, slots=True)
class Timing:
    """Where the main part lies in a recording whose clock is another than the player's.

    Parameters
    ----------
    start
        Sample at which the first period begins, not a whole number.
    scale
        Samples of the recording a sample of the player.
    period
        In samples of the player.
    """

    start: float
    scale: float
    period: int

    def turn(self, cycles: Array) -> Array:
        """Radian a sample of the recording of lines with `cycles` in a period."""
        return np.asarray(2 * np.pi * cycles / (self.period * self.scale))


def demodulate(
    recording: Recording, timing: Timing, windows: Windows, tones: Array, products: Array
) -> tuple[Complex, Complex]:
    """Phasors at any numbers of cycles in a period: windowed least squares.

    Windowed sums ``Σ w x exp(−jωt)``, from which the lines' leaking into each other is taken away with the normal matrix of
    least squares, the window being the weight; that matrix is known in closed form.

    Parameters
    ----------
    recording
        Both inputs.
    timing
        Where the main part lies.
    windows
        Which periods make a group.
    tones
        Cycles in a period of the strong lines, shape (tones,).
    products
        Cycles in a period of the weak ones, shape (products,); they leak into nothing.

    Returns
    -------
    tuple[Complex, Complex]
        Phasors, full scale being 1, of the tones in every group, shape (groups, 2, tones), and of the products over all
        groups, shape (2, products).
    """
    hop = windows.hop * timing.period * timing.scale
    first = int(np.ceil(timing.start))
    last = int(np.floor(timing.start + (windows.groups + 1) * hop))
    strong, weak = _Basis(timing.turn(tones), np.float64), _Basis(timing.turn(products), np.float32)
    groups = np.zeros((windows.groups, 2, len(tones)), complex)
    level = np.zeros((2, len(products)), complex)
    weight_of = _Swell(hop, min(BLOCK * BLOCKS, last - first))
    at = first
    for block in recording.read(first, last, BLOCK * BLOCKS):
        since = at - timing.start
        for row, stop, hops in _within_hops(since, len(block), hop):
            waves = block[row:stop].T
            swelling = weight_of(since + row - hops * hop, stop - row) * waves
            fading = waves - swelling
            if hops < windows.groups:
                groups[hops] += strong.sums(swelling, since + row)
            if hops > 0:
                groups[hops - 1] += strong.sums(fading, since + row)
            whole = swelling if hops == 0 else fading if hops == windows.groups else waves
            level += weak.sums(whole, since + row)
        at += len(block)
    parted = _parted(np.asarray(2 * groups / hop), tones, windows)
    seen = 2 * level / (windows.groups * hop)
    return parted, seen - leaking(parted.mean(axis=0), tones, products, windows)


def leaking(phasors: Complex, cycles: Array, others: Array, windows: Windows) -> Complex:
    """What lines with `cycles` in a period leave at `others` over all groups, shape (2, others)."""
    same = level_response(others[:, None] - cycles, windows)
    mirrored = level_response(others[:, None] + cycles, windows)
    return np.asarray((phasors @ same.T) + (phasors.conj() @ mirrored.T))


class _Swell:
    """First half of a Hann window of `hop` samples, by the addition theorem instead of a cosine a sample."""

    def __init__(self, hop: float, longest: int) -> None:
        self._step = np.pi / hop
        angle = self._step * np.arange(longest)
        self._cosine, self._sine = np.cos(angle), np.sin(angle)

    def __call__(self, begin: float, length: int) -> Array:
        """Weights of `length` samples, the first `begin` samples after the beginning of the window."""
        angle = self._step * begin
        cosine = np.cos(angle) * self._cosine[:length] - np.sin(angle) * self._sine[:length]
        return np.asarray(0.5 - 0.5 * cosine)


class _Basis:
    """The lines over one block, to be multiplied with many at once.

    Single precision is enough for weak lines: its rounding is chance, a thousandth of what an interface's noise leaves of them.
    """

    def __init__(self, turn: Array, kind: type[np.float64] | type[np.float32]) -> None:
        self._turn, self._kind = turn, kind
        wave = np.exp(-1j * turn * np.arange(BLOCK)[:, None])
        self._waves = np.concatenate([wave.real, wave.imag], axis=1, dtype=kind)

    def sums(self, waves: Array, begin: float) -> Complex:
        """``Σ x exp(−jωt)`` of `waves`, shape (2, samples), the first at `begin`; shape (2, lines)."""
        lines = len(self._turn)
        if not lines:
            return np.empty((2, 0), complex)
        rows = -(-waves.shape[1] // BLOCK)
        padded = np.zeros((2, rows * BLOCK), self._kind)
        padded[:, : waves.shape[1]] = waves
        product = (padded.reshape(2 * rows, BLOCK) @ self._waves).astype(float)
        sums = (product[:, :lines] + 1j * product[:, lines:]).reshape(2, rows, lines)
        phase = np.exp(-1j * self._turn * (begin + BLOCK * np.arange(rows))[:, None])
        return np.asarray((sums * phase).sum(axis=1))


def _within_hops(since: float, length: int, hop: float) -> Iterator[tuple[int, int, int]]:
    """Cut `length` samples, the first of them `since` samples after the start, where hops end: from, to, number of the hop."""
    row = 0
    while row < length:
        hops = int((since + row) // hop)
        stop = min(int(np.ceil((hops + 1) * hop - since)), length)
        yield row, max(stop, row + 1), hops
        row = max(stop, row + 1)


def _parted(seen: Complex, cycles: Array, windows: Windows) -> Complex:
    """Take the tones' leaking into each other away.

    Turned to the middle of its window a group sees ``A V + B V*`` with real A and B, the same for every group.
    """
    length = 2 * windows.hop  # periods in a window
    same = hann_response((cycles[:, None] - cycles) * length).real
    mirrored = hann_response((cycles[:, None] + cycles) * length).real
    middle = windows.hop * np.arange(1, windows.groups + 1)[:, None, None]
    turned: Complex = seen * np.exp(2j * np.pi * middle * cycles)
    flat = turned.reshape(-1, len(cycles)).T
    real = np.linalg.solve(same + mirrored, flat.real)
    imaginary = np.linalg.solve(same - mirrored, flat.imag)
    parted = (real + 1j * imaginary).T.reshape(seen.shape)
    return np.asarray(parted * np.exp(-2j * np.pi * middle * cycles))
