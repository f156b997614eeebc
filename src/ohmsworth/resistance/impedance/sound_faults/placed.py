"""Where the parts of the drive lie in a recording."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ohmsworth.errors import ArgumentFault
from ohmsworth.resistance.impedance.recording import Recording
from ohmsworth.resistance.impedance.tone_plan import Stretch, TonePlan

Array = NDArray[np.float64]

#: Samples of a block when a whole take is walked through.
BLOCK = 1 << 16


@dataclass(frozen=True, slots=True)
class PlacedTake:
    """A recording and where the drive lies in it: sample n of the drive at ``start + (1 + clock) n``.

    Parameters
    ----------
    recording
        As read.
    plan
        What was played.
    start
        Sample of the recording at which the drive begins, not a whole number; negative when its beginning was missed.
    clock
        Recorder's samples to player's samples of the same stretch, less one.
    """

    recording: Recording
    plan: TonePlan
    start: float
    clock: float

    def __post_init__(self) -> None:
        if not -1 < self.clock < np.inf:
            raise ArgumentFault("clock", self.clock, "more than -1")

    def at(self, sample: float) -> float:
        """Where a sample of the drive lies in the recording."""
        return self.start + (1 + self.clock) * sample

    def stretch(self, part: Stretch, first: float = 0.0, last: float = 1.0) -> Stretch:
        """Samples of the recording from one share of `part` to another, as far as they were recorded."""
        length = part.stop - part.start
        start = round(self.at(part.start + first * length))
        stop = round(self.at(part.start + last * length))
        frames = self.recording.frames
        start = min(max(start, 0), frames)
        return Stretch(start, min(max(stop, start), frames))

    def waves(self, part: Stretch, first: float = 0.0, last: float = 1.0) -> Array:
        """What was recorded of it, shape (samples, 2); for short parts."""
        found = self.stretch(part, first, last)
        return self.recording.whole(found.start, found.stop)

    @property
    def signal(self) -> Stretch:
        """From the first mark to the end of the last, in samples of the recording."""
        return self.stretch(Stretch(self.plan.first_mark.start, self.plan.last_mark.stop))

    @property
    def silences(self) -> tuple[Stretch, Stretch]:
        """The silence before the first mark and that after the last, in samples of the drive."""
        plan = self.plan
        return Stretch(0, plan.silence), Stretch(plan.last_mark.stop, plan.length)

    @property
    def gaps(self) -> tuple[Stretch, Stretch, Stretch]:
        """The pauses: after the first mark, after the level check, and after the tones, in samples of the drive."""
        plan = self.plan
        return (
            Stretch(plan.first_mark.stop, plan.level_check.start),
            Stretch(plan.level_check.stop, plan.level_check.stop + plan.gap),
            Stretch(plan.main[-1].stop, plan.last_mark.start),
        )

    def periods(self, part: Stretch) -> list[Stretch]:
        """The whole periods of a stretch of the main part, in samples of the drive."""
        length = self.plan.period
        return [Stretch(at, at + length) for at in range(part.start, part.stop - length + 1, length)]

    def told(self, sample: float) -> str:
        """A place in words: seconds from the beginning of the file, and the part of the drive."""
        return (
            f"{sample / self.recording.rate:.2f} s ({self._part((sample - self.start) / (1 + self.clock))})"
        )

    def _part(self, sample: float) -> str:
        plan = self.plan
        ends = (
            (plan.first_mark.start, "before the first mark"),
            (plan.first_mark.stop, "in the first mark"),
            (plan.level_check.start, "after the first mark"),
            (plan.level_check.stop, "in the level check"),
            (plan.level_check.stop + plan.gap, "after the level check"),
            (plan.main[-1].stop, "in the tones"),
            (plan.last_mark.start, "after the tones"),
            (plan.last_mark.stop, "in the last mark"),
        )
        return next((words for end, words in ends if sample < end), "after the last mark")


def spoken(number: int) -> str:
    """What an input is called in words."""
    return f"input {number + 1}"
