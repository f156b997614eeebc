"""What the thread of a stream and the program share: what waits to be played, what was recorded, what was lost."""

from __future__ import annotations

from collections import deque
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ohmsworth.errors import ArgumentFault
from ohmsworth.work.audio_ports import Channels, Dropout, Keep, Sound

Samples = NDArray[np.float32]

#: Seconds that wait to be played, and that may wait to be kept before more of them are given up.
AHEAD, BEHIND = 3.0, 20.0
#: Seconds of a fade.
FADE = 0.02
#: Dropouts that are listed, each cause once in so many seconds: one that loses all the time need not fill the memory with it.
MOST_DROPOUTS, APART = 20, 1.0
#: A sample may exceed the stated peak by this share, from rounding to the samples of the stream.
_ROUNDING = 1e-6
_FLAGS = (
    ("input_overflow", "samples of the inputs were lost"),
    ("input_underflow", "silence was put in where samples of the inputs were missing"),
    ("output_underflow", "the output had a gap"),
    ("output_overflow", "samples of the output were lost"),
)


class StreamState:
    """Each side of it is written by one thread only; deques hand over between the two.

    Parameters
    ----------
    sound
        What is played.
    channels
        On which outputs; which inputs are kept.
    stop
        What the callback raises so that the stream ends once all of it was heard.
    """

    def __init__(self, sound: Sound, channels: Channels, stop: type[Exception]) -> None:
        self._sound, self._stop = sound, stop
        self._blocks = iter(sound.blocks)
        self._inputs = [number - 1 for number in channels.inputs]
        self._outputs = [number - 1 for number in channels.outputs]
        self._waiting: deque[Samples] = deque()
        self._heard: deque[Samples] = deque()
        self._fed = self._played = self._recorded = 0
        self._tail = 0
        self._begun = 0  # samples of the first waiting block that were played
        self._fading = False
        self._faded = 0
        self.kept = 0
        self.dropouts: list[Dropout] = []
        self._told: dict[str, float] = {}  # when a cause was listed last
        self.silent = self._done = False
        self.fault: Exception | None = None

    def set_tail(self, seconds: float) -> None:
        """Record so much longer than is played."""
        self._tail = round(seconds * self._sound.rate)

    def ended(self) -> bool:
        """Whether everything was played and recorded, or a fault ended it."""
        return self._done

    def fade(self) -> None:
        """Bring the output to silence, soon and for good."""
        self._fading = True

    def feed(self) -> None:
        """Have enough wait to be played.

        Raises
        ------
        ArgumentFault
            When a sample is larger than what was said, or no number; it is never played.
        """
        while self._fed - self._played < AHEAD * self._sound.rate:
            block = next(self._blocks, None)
            if block is None:
                return
            most = self._sound.peak * (1 + _ROUNDING)
            if not (np.abs(block) <= most).all():
                raise ArgumentFault("blocks", float(np.abs(block).max()), f"samples of {most:g} or less")
            self._waiting.append(block.astype(np.float32))
            self._fed += len(block)

    def hand_over(self, keep: Keep) -> bool:
        """Hand over what was recorded; False when nothing was."""
        some = False
        while self._heard:
            block = self._heard.popleft()
            keep(block.astype(np.float64))
            self.kept += len(block)
            some = True
        return some

    def callback(self, indata: Any, outdata: Any, frames: int, time: object, status: Any) -> None:
        """Take `frames` samples and give as many; called by the library in a thread of its own."""
        del time
        outdata.fill(0)
        try:
            self._note(status)
            self._take(indata)
            self._give(outdata, frames)
        except Exception as error:  # the library would print it and go on in silence; the program tells it
            outdata.fill(0)
            self.fault, self._done = error, True
        if self._recorded >= self._sound.length + self._tail:
            self._done = True
        if self._done:
            raise self._stop

    def _note(self, status: Any) -> None:
        """Remember what was lost, but for silence at the beginning."""
        if not status or self._played < self._sound.silence // 2:
            return
        for name, words in _FLAGS:
            if getattr(status, name):
                self._lost(words)

    def _lost(self, words: str) -> None:
        now = self._recorded / self._sound.rate
        if len(self.dropouts) < MOST_DROPOUTS and now - self._told.get(words, -APART) >= APART:
            self._told[words] = now
            self.dropouts.append(Dropout(now, words))

    def _take(self, indata: Any) -> None:
        self._recorded += len(indata)
        if self._recorded - self.kept > BEHIND * self._sound.rate:
            self._lost("the recording could not be written as fast as it came")
            return
        self._heard.append(indata[:, self._inputs])  # a list of columns makes a copy

    def _give(self, outdata: Any, frames: int) -> None:
        wave = self._next(frames)
        if self._fading:
            length = max(round(FADE * self._sound.rate), 1)
            at = np.minimum((self._faded + 1 + np.arange(frames)) / length, 1.0)
            self._faded += frames
            wave = (wave * (0.5 + 0.5 * np.cos(np.pi * at))).astype(np.float32)
            self.silent = self._faded >= length
        for output in self._outputs:
            outdata[:, output] = wave

    def _next(self, frames: int) -> Samples:
        """The next samples to be played, silence after the last."""
        wave = np.zeros(frames, np.float32)
        if self.silent:
            return wave
        at = 0
        while at < frames and self._waiting:
            block = self._waiting[0]
            part = block[self._begun : self._begun + frames - at]
            wave[at : at + len(part)] = part
            at += len(part)
            self._begun += len(part)
            if self._begun == len(block):
                self._waiting.popleft()
                self._begun = 0
        self._played += at
        if at < frames and self._played < self._sound.length and not self._fading:
            self._lost("the program did not keep up, and the output had a gap")
        return wave
