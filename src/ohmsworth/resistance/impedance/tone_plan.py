"""Which tones are played, for how long and in which order: what player, recorder and analysis agree on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from ohmsworth.errors import ArgumentFault

Array = NDArray[np.float64]
#: All tones at once, or one after the other.
Way = Literal["together", "in turn"]


@dataclass(frozen=True, slots=True)
class Stretch:
    """A part of the drive: samples from `start` up to, not including, `stop`."""

    start: int
    stop: int

    def __len__(self) -> int:
        return self.stop - self.start


@dataclass(frozen=True, slots=True, eq=False)
class TonePlan:
    """Tones on exact bins of one period.

    Parameters
    ----------
    rate
        Samples a second, as the player counts them.
    period
        Samples of a period; every tone has a whole number of cycles in it.
    cycles
        Cycles of each tone in a period, shape (tones,), ascending.
    amplitudes
        Peak of each tone, full scale being 1, shape (tones,).
    phases
        Phase of each tone in radian where the main part begins, shape (tones,): tone k is
        ``amplitudes[k] cos(2π cycles[k] n / period + phases[k])``.
    periods
        Whole periods that are analysed; in turn: of each tone.
    run_in
        Whole periods before them, for circuit and interface to settle; in turn: before each tone.
    way
        All tones together, or one after the other.
    silence, level, gap, mark
        Samples of the silence at the beginning (and of that at the end), of the level check, of the pauses between
        the parts, and of each of the two marks.

    Raises
    ------
    ArgumentFault
        When a length is not positive, or the tones do not fit into the period.
    """

    rate: int
    period: int
    cycles: NDArray[np.int64]
    amplitudes: Array
    phases: Array
    periods: int
    run_in: int
    way: Way
    silence: int
    level: int
    gap: int
    mark: int

    def __post_init__(self) -> None:
        for name in ("rate", "period", "periods", "run_in", "silence", "level", "gap", "mark"):
            if getattr(self, name) < 1:
                raise ArgumentFault(name, getattr(self, name), "one or more")
        if not (len(self.cycles) == len(self.amplitudes) == len(self.phases) >= 1):
            raise ArgumentFault("cycles", len(self.cycles), "as many as amplitudes and phases, one or more")
        if self.cycles[0] < 1 or 2 * self.cycles[-1] >= self.period or (np.diff(self.cycles) < 1).any():
            raise ArgumentFault("cycles", self.cycles, "ascending, from 1 to below half the period")

    @property
    def frequencies(self) -> Array:
        """Of the tones, in hertz of the player's clock, shape (tones,)."""
        return np.asarray(self.cycles * (self.rate / self.period))

    @property
    def turns(self) -> int:
        """How many times the main part begins anew: once together, once a tone in turn."""
        return len(self.cycles) if self.way == "in turn" else 1

    @property
    def first_mark(self) -> Stretch:
        """The rising sweep that says where the take begins."""
        return Stretch(self.silence, self.silence + self.mark)

    @property
    def level_check(self) -> Stretch:
        """One tone as strong as the peak of the main part, to set the gains by."""
        start = self.first_mark.stop + self.gap
        return Stretch(start, start + self.level)

    @property
    def main(self) -> tuple[Stretch, ...]:
        """What is analysed, without its run-in: one stretch together, one a tone in turn."""
        begun = self.level_check.stop + self.gap
        each = (self.run_in + self.periods) * self.period
        starts = [begun + turn * each for turn in range(self.turns)]
        return tuple(Stretch(start + self.run_in * self.period, start + each) for start in starts)

    @property
    def last_mark(self) -> Stretch:
        """The same sweep once more: with the first it tells the clocks apart."""
        start = self.main[-1].stop + self.gap
        return Stretch(start, start + self.mark)

    @property
    def length(self) -> int:
        """Samples of the whole drive."""
        return self.last_mark.stop + self.silence
