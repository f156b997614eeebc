"""What recording from here needs of whatever plays and records: the port to audio interfaces."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from contextlib import AbstractContextManager
from dataclasses import dataclass
from pathlib import Path
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
#: Takes a block of what was recorded, shape (samples, 2), full scale being 1.
Keep = Callable[[Array], None]


@dataclass(frozen=True, slots=True)
class AudioDevice:
    """An audio interface that plays and records at once.

    Parameters
    ----------
    name
        As the system calls it.
    system
        The sound system through which it is reached; one interface may be reached through several.
    inputs, outputs
        How many channels.
    rates
        Samples a second that it takes in both directions, of those that are usual.
    usual_rate
        The one that it starts with.
    places
        Where whoever opens it finds its input and its output.
    """

    name: str
    system: str
    inputs: int
    outputs: int
    rates: tuple[int, ...]
    usual_rate: int
    places: tuple[int, int]

    def __str__(self) -> str:
        return f"{self.name} ({self.system})"


@dataclass(frozen=True, slots=True)
class Channels:
    """Numbers, from 1, of the two inputs and of the outputs that play alike."""

    inputs: tuple[int, int] = (1, 2)
    outputs: tuple[int, ...] = (1, 2)


@dataclass(frozen=True, slots=True, eq=False)
class Sound:
    """Something to play.

    Parameters
    ----------
    rate
        Samples a second.
    length
        Samples of it.
    peak
        No sample is larger; one that is stops the playing before it sounds.
    silence
        Samples at its beginning in which nothing sounds: what is lost there is not missed.
    blocks
        One after the other, each of shape (samples,), full scale being 1.
    """

    rate: int
    length: int
    peak: float
    silence: int
    blocks: Iterable[Array]


@dataclass(frozen=True, slots=True)
class Dropout:
    """Something that was lost, `seconds` after the first sample."""

    seconds: float
    what: str


@dataclass(frozen=True, slots=True)
class Played:
    """How playing and recording went: samples of each input, and what was lost of them or of the output."""

    frames: int
    dropouts: tuple[Dropout, ...]


class AudioDevices(Protocol):
    """Plays and records; InputRefused says what is missing, or went wrong, and what to do."""

    def found(self) -> tuple[AudioDevice, ...]:
        """Every device with both directions; nothing is played."""
        ...

    def play_and_record(self, device: AudioDevice, sound: Sound, channels: Channels, keep: Keep) -> Played:
        """Play all of `sound` and hand over what is recorded meanwhile, block by block.

        Whatever ends it early, an exception of `keep` and Ctrl-C among it, fades the output first.
        """
        ...


#: Opens a new recording of so many samples a second and about so many seconds; it takes its place when all has gone well.
#: The last argument says whether it may take the place of one that is there.
StageRecording = Callable[[Path, int, float, bool], AbstractContextManager[Keep]]
