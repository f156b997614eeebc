"""A recording as the analysis asks for it: never all of it at once."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Recording:
    """Two inputs recorded side by side.

    Parameters
    ----------
    name
        What it is called, for messages.
    rate
        Samples a second, as the file says.
    frames
        Samples of each input.
    bits
        Of an integer sample; None for floating point.
    read
        ``read(start, stop, size)`` yields blocks of at most `size` samples from `start` up to `stop`, each of shape
        (samples, 2), full scale being 1. It may be called any number of times.
    """

    name: str
    rate: int
    frames: int
    bits: int | None
    read: Callable[[int, int, int], Iterator[Array]]

    def whole(self, start: int, stop: int) -> Array:
        """A short stretch at once, shape (samples, 2)."""
        parts = list(self.read(start, stop, stop - start))
        return np.concatenate(parts) if parts else np.empty((0, 2))


def recorded(name: str, rate: int, waves: Array, bits: int | None = None) -> Recording:
    """A recording that is in memory already, `waves` of shape (samples, 2)."""

    def read(start: int, stop: int, size: int) -> Iterator[Array]:
        for at in range(start, stop, size):
            yield waves[at : min(at + size, stop)]

    return Recording(name, rate, len(waves), bits, read)
