"""How loud the inputs hear the level check, and what to do with the gains."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from ohmsworth.work.audio_ports import Array

#: Told while something is recorded: seconds so far, and the peak of each input since it was told last.
OnLevel = Callable[[float, tuple[float, float]], None]
#: Seconds between two times.
STEP = 0.25
#: Peaks of the louder input, in decibels of full scale, between which the gains are right; where to turn them to.
QUIETEST, LOUDEST, AIM = -12.0, -6.0, -9.0
#: A peak that passes for clipped; how far down to turn then, since nobody knows how much it clips; a level with no signal in it.
CLIPPED, DOWN, DEAD = 0.999, 12, -60.0
#: Voltages so many times apart that the wrong input being the louder one tells of wrong plugs, not of a contact unlike expected.
APART = 3.0


@dataclass(frozen=True, slots=True)
class Levels:
    """What the inputs heard, full scale being 1: the peak while it lasted (the middle one of many), and the highest of all."""

    lasting: tuple[float, float]
    highest: tuple[float, float]


class LevelMeter:
    """Peaks of what is recorded, piece by piece.

    Parameters
    ----------
    rate
        Samples a second.
    on_level
        Told every `STEP` seconds.
    """

    def __init__(self, rate: int, on_level: OnLevel) -> None:
        self._rate, self._on_level = rate, on_level
        self._step = round(STEP * rate)
        self._samples = self._in_step = 0
        self._peak = np.zeros(2)
        self._peaks: list[tuple[float, float]] = []

    def take(self, block: Array) -> None:
        """Take a block of shape (samples, 2)."""
        at = 0
        while at < len(block):
            part = block[at : at + self._step - self._in_step]
            self._peak = np.maximum(self._peak, np.abs(part).max(axis=0))
            at += len(part)
            self._in_step += len(part)
            self._samples += len(part)
            if self._in_step == self._step:
                first, second = (float(peak) for peak in self._peak)
                self._peaks.append((first, second))
                self._peak, self._in_step = np.zeros(2), 0
                self._on_level(self._samples / self._rate, (first, second))

    def levels(self) -> Levels:
        """Of everything until now."""
        last = (float(self._peak[0]), float(self._peak[1]))
        peaks = np.array([*self._peaks, last] if self._in_step or not self._peaks else self._peaks)
        lasting, highest = np.median(peaks, axis=0), peaks.max(axis=0)
        return Levels((float(lasting[0]), float(lasting[1])), (float(highest[0]), float(highest[1])))


@dataclass(frozen=True, slots=True)
class Connected:
    """What hangs at the two inputs: their numbers, what each hears, and the volts that are expected there."""

    numbers: tuple[int, int]
    parts: tuple[str, str]
    volts: tuple[float, float]

    def __getitem__(self, place: int) -> str:
        return f"input {self.numbers[place]} ({self.parts[place]})"

    def hears(self, place: int) -> bool:
        """Whether that input should hear the tones: nothing is to be heard of a short, nor at the shunt of an open row."""
        return self.volts[place] > 0


@dataclass(frozen=True, slots=True)
class LevelVerdict:
    """Whether to record at these levels; whether it would be in vain; and what to say."""

    good: bool
    in_vain: bool
    sentences: tuple[str, ...]


def decibels(peak: float) -> float:
    """``20 log10(peak)``; full scale is 0 dB.

    Examples
    --------
    >>> round(decibels(0.5), 2), decibels(0.0)
    (-6.02, -inf)
    """
    return float(20 * np.log10(peak)) if peak > 0 else -np.inf


def show_level(peak: float) -> str:
    """A level as it is told at a bench.

    Examples
    --------
    >>> show_level(0.5), show_level(0.0)
    ('−6.0 dB', 'silence')
    """
    return f"{decibels(peak):.1f} dB".replace("-", "−") if peak > 0 else "silence"


def level_verdict(levels: Levels, connected: Connected, may_turn: bool) -> LevelVerdict:
    """What a level check tells.

    Parameters
    ----------
    levels
        What was heard of it.
    connected
        What hangs where.
    may_turn
        Whether the gains may still be turned: before the first take only.
    """
    told = (
        f"{connected[0].capitalize()} peaks at {show_level(levels.lasting[0])}, "
        f"{connected[1]} at {show_level(levels.lasting[1])} (full scale: 0 dB)."
    )
    silent = [place for place in (0, 1) if levels.highest[place] == 0]
    if silent:
        return LevelVerdict(False, True, (told, *(_silent(connected[place]) for place in silent)))
    clipped = [place for place in (0, 1) if levels.highest[place] >= CLIPPED]
    if clipped:
        return LevelVerdict(False, True, (told, _clips([connected[place] for place in clipped], may_turn)))
    louder = int(levels.lasting[1] > levels.lasting[0])
    level = decibels(levels.lasting[louder])
    if level < DEAD:
        mend = "Is the output turned up and connected, and each plug where it belongs?"
        return LevelVerdict(False, True, (told, f"Neither input hears the tone. {mend}"))
    wrong = plugs_exchanged(levels, connected)
    if wrong:
        return LevelVerdict(False, False, (told, wrong))
    if not may_turn:
        words = "Leave the gains as they are: they were set for all takes."
        return LevelVerdict(True, False, (told, words))
    if QUIETEST <= level <= LOUDEST:
        words = "That is right. See that both gains are the same, then do not touch them until the last take is made."
        return LevelVerdict(True, False, (told, words))
    return LevelVerdict(False, False, (told, _turn(connected, louder, AIM - level)))


def _turn(connected: Connected, louder: int, by: float) -> str:
    way = "up" if by > 0 else "down"
    other = f"input {connected.numbers[1 - louder]}"
    return (
        f"Turn the gain of input {connected.numbers[louder]} {way} by {abs(by):.0f} dB, and set {other} to the very same gain. "
        "Where there is no more gain, a level below is better than two gains that differ."
    )


def _silent(which: str) -> str:
    return (
        f"From {which} come nothing but zeros: is it the right interface and the right input? On some systems a terminal "
        "needs leave to use microphones before it hears anything."
    )


def _clips(which: list[str], may_turn: bool) -> str:
    told = f"{' and '.join(which).capitalize()} {'clip' if len(which) > 1 else 'clips'}."
    if may_turn:
        return f"{told} Turn both gains down by {DOWN} dB or so, to the very same gain."
    return (
        f"{told} With other gains the takes do not belong together: turn both gains down by {DOWN} dB or so, and make every "
        "take again, beginning with the first."
    )


def plugs_exchanged(levels: Levels, connected: Connected) -> str:
    """That the input which should be far louder is the weaker one; nothing where it is not."""
    expected = int(connected.volts[1] > connected.volts[0])
    if connected.volts[expected] < APART * connected.volts[1 - expected]:
        return ""
    if levels.lasting[expected] >= levels.lasting[1 - expected]:
        return ""
    loud, other = connected[expected].capitalize(), connected[1 - expected]
    if not connected.hears(1 - expected):
        return (
            f"{loud} should hear the tone and {other} hardly any of it; it is the other way round. {_PLUGS}"
        )
    times = connected.volts[expected] / connected.volts[1 - expected]
    told = f"{loud} should hear about {times:.2g} times as much as {other}, and hears less."
    return f"{told} {_PLUGS[:-1]}, and the contact closed?"


_PLUGS = "Are the plugs in the right inputs, and the gains the same?"
