"""Where the take lies in a recording, by its two marks."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy import fft

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.resistance.impedance.drive import mark
from ohmsworth.resistance.impedance.recording import Recording
from ohmsworth.resistance.impedance.tone_plan import TonePlan

Array = NDArray[np.float64]

#: Least likeness (0 to 1) of a mark to what was played; chance alone stays far below it.
LEAST_LIKENESS = 0.3
#: Largest difference of two clocks that is looked for, as a fraction.
MOST_CLOCK = 2e-3
_WHOLE = "Record the whole of the drive file, from before its first sound to after its last."
#: Samples that are looked through at once for a mark: those about the last one are the more, the longer the take.
AT_ONCE = 1 << 16


class TakeNotFound(InputRefused):
    """The marks are not in the recording."""

    def __init__(self, where: str, found: str, expected: str, mend: str) -> None:
        super().__init__((Fault(where, found, expected, mend),))


@dataclass(frozen=True, slots=True)
class Place:
    """Where the drive begins, in samples of the recording (not a whole number), and how much faster the recorder counts."""

    start: float
    clock: float


def locate(plan: TonePlan, recording: Recording) -> Place:
    """Find a take by the sweep before it and the same one after it.

    Each mark is the highest of ``|c₁|² + |c₂|²``, c being the correlation of an input with the analytic mark, refined by a
    parabola through three samples.

    Raises
    ------
    TakeNotFound
        When the first mark is not there, or the recording ends before the last.
    """
    sweep = mark(plan)
    distance = plan.last_mark.start - plan.first_mark.start
    latest = recording.frames - int(distance * (1 - MOST_CLOCK))
    needed = plan.length / plan.rate
    if latest <= 0:
        found, expected = (
            f"{length:.1f} s of sound" for length in (recording.frames / recording.rate, needed)
        )
        raise TakeNotFound(recording.name, found, f"{expected} or more, the length of the drive", _WHOLE)
    first = _search(recording, sweep, 0, latest)
    if first is None:
        expected = "the rising sweep that the drive begins with, and all that follows it"
        raise TakeNotFound(recording.name, "no such sweep, or too little after it", expected, _WHOLE)
    spare = MOST_CLOCK * distance + 2
    last = _search(recording, sweep, int(first + distance - spare), int(first + distance + spare) + 1)
    if last is None:
        expected = "the sweep after the tones, as long after the first as it was played"
        mend = "It was stopped, or something is missing from it: record again without stopping."
        raise TakeNotFound(recording.name, "no sweep there", expected, mend)
    clock = (last - first) / distance - 1
    return Place(first - plan.first_mark.start * (1 + clock), clock)


def _search(recording: Recording, sweep: Array, begin: int, end: int) -> float | None:
    """Sample at which the sweep begins, between `begin` and `end`; None where nothing is like it."""
    best, at, found = LEAST_LIKENESS**2, None, 0.0
    begin = max(begin, 0)
    for start in range(begin, end, AT_ONCE):
        stop = min(start + AT_ONCE, end)
        waves = recording.whole(start, min(stop + len(sweep) - 1, recording.frames))
        if len(waves) < len(sweep):
            break
        like = _likeness(waves, sweep)[: stop - start]
        top = int(like.argmax())
        if like[top] > best:
            best, at, found = float(like[top]), start + top, _refined(like, top)
    return None if at is None else at + found


def _likeness(waves: Array, sweep: Array) -> Array:
    """Squared correlation (0 to 1) of the louder of the inputs with the sweep, at every place where it fits."""
    size = fft.next_fast_len(len(waves))
    spectrum = fft.fft(sweep, size)
    spectrum[size // 2 + 1 :] = 0  # analytic: the phase that the circuit turns it by does not matter
    energy, matched = np.zeros(len(waves) - len(sweep) + 1), np.zeros(len(waves) - len(sweep) + 1)
    for wave in waves.T:
        hit = fft.ifft(fft.fft(wave, size, workers=2) * np.conj(spectrum), workers=2)[: len(energy)]
        matched += (hit.real**2 + hit.imag**2) * (4 / (sweep @ sweep))
        total = np.concatenate([[0.0], np.cumsum(wave**2)])
        energy += total[len(sweep) :] - total[: -len(sweep)]
    floor = energy.max() * 1e-9 + 1e-30
    return np.asarray(matched / (energy + floor))


def _refined(like: Array, top: int) -> float:
    """Where a parabola through three samples has its top, from the highest of them."""
    if not 0 < top < len(like) - 1:
        return 0.0
    before, peak, after = like[top - 1 : top + 2]
    bend = before - 2 * peak + after
    return float(np.clip(0.5 * (before - after) / bend, -0.5, 0.5)) if bend < 0 else 0.0
