"""Overlapping windows over the main part: each a Hann window, and all together level with two soft ends.

Neighbouring Hann windows that overlap by half add up to one, so the mean over the groups is a lock-in with a window that is
level but for its first and last ``hop``; hum beside a tone leaks into it as into a Hann window of that hop.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Complex = NDArray[np.complex128]
#: Hops that a main part is divided into where it is long enough; groups are one fewer.
FEWEST_HOPS, MOST_HOPS = 8, 24


@dataclass(frozen=True, slots=True)
class Windows:
    """Windows in whole periods: group g spans `hop` periods from ``g hop`` on, and the `hop` after them.

    Parameters
    ----------
    hop
        Periods from one group to the next.
    groups
        How many.
    """

    hop: int
    groups: int

    @property
    def periods(self) -> int:
        """Periods that are used, of those that there are."""
        return self.hop * (self.groups + 1)


def windows_for(periods: int) -> Windows:
    """The division of `periods` (two or more) that leaves the fewest of them over."""
    if periods <= FEWEST_HOPS:
        return Windows(1, max(periods - 1, 1))
    hops = range(FEWEST_HOPS, min(MOST_HOPS, periods) + 1)
    best = max(hops, key=lambda n: (periods // n * n, n))
    return Windows(periods // best, best - 1)


def hann_response(offset: Array) -> Complex:
    """What a Hann window makes of a tone `offset` cycles a window beside the one asked for; 1 at 0, about its middle.

    Notes
    -----
    ``sinc(x) / (1 − x²)``: the transform of the window in continuous time (Harris 1978), real about the middle.
    """
    x = np.asarray(offset, float)
    close = np.abs(np.abs(x) - 1) < 1e-6
    away = np.where(close, 0.0, x)
    return np.asarray(np.where(close, 0.5, np.sinc(away) / (1 - away**2)), complex)


def level_response(offset: Array, windows: Windows) -> Complex:
    """What the mean over the groups makes of a tone `offset` cycles a period beside the one asked for, from the first sample.

    Notes
    -----
    The windows' response, turned to the middle of each: a geometric series.
    """
    x = np.asarray(offset, float)
    step = np.exp(-2j * np.pi * x * windows.hop)
    whole = np.abs(step - 1) < 1e-9
    series = step * (1 - step**windows.groups) / np.where(whole, 1.0, 1 - step)
    turned = np.where(whole, windows.groups, series) / windows.groups
    return np.asarray(hann_response(x * 2 * windows.hop) * turned)
