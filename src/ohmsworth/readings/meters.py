"""A meter's stated accuracy turned into standard uncertainty.

A maker states "± (a % of reading + n counts)": a rectangle of half-width ``gain·|x| + counts·resolution``
(GUM 4.3.7). Part of it is the meter's gain, which is the same for every reading on that meter and range, so
that it cancels when two readings are compared and counts in full against a limit. The rest (counts,
noise) is taken as new in every reading. The two parts together give back the whole rectangle exactly:

    u² = (g + c)² / 3 = g² / 3  +  ((g + c)² − g²) / 3
                        shared      independent
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from ohmsworth.errors import ArgumentFault, QuantityFault, shorten
from ohmsworth.units import parse_quantity

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class NamedMeter:
    """Which meter it is: `role` is "voltmeter", "ammeter" or "ohmmeter"; "" and None where nobody says.

    `calibrated` is the day of its last calibration.
    """

    role: str
    name: str = ""
    serial: str = ""
    calibrated: date | None = None


@dataclass(frozen=True, slots=True)
class Accuracy:
    """What a meter's maker (or its calibration) states.

    Parameters
    ----------
    gain
        Half-width as a fraction of the reading (0.005 for 0.5 % of reading).
    counts
        Half-width in counts of the last digit.
    resolution
        One count, in the unit of the reading (volt, ampere or ohm).
    standard
        A standard uncertainty (same unit) stated instead; it is taken as shared by all readings, since
        nothing says otherwise.
    """

    gain: float = 0.0
    counts: float = 0.0
    resolution: float = 0.0
    standard: float | None = None

    def __post_init__(self) -> None:
        for name in ("gain", "counts", "resolution"):
            if not 0 <= getattr(self, name) < np.inf:
                raise ArgumentFault(name, getattr(self, name), "zero or more")
        if self.standard is not None and not 0 < self.standard < np.inf:
            raise ArgumentFault("standard", self.standard, "more than zero")


_ACCURACY = re.compile(
    r"(?:±\s*)?\(?\s*([0-9.,]+)\s*%[^+]*(?:\+\s*([0-9]{1,6})\s*(?:counts?|digits?|dgt|d|cts?)?\s*)?\)?"
)


def accuracy_from_text(text: str) -> tuple[float, float]:
    """Read ``0.5 % + 3 counts``: the gain as a fraction of the reading, and the counts.

    Raises
    ------
    QuantityFault
        For anything else, and for more than 100 %.

    Examples
    --------
    >>> accuracy_from_text("± (0.5 % of reading + 3 counts)")
    (0.005, 3.0)
    """
    match = _ACCURACY.fullmatch(text)
    try:
        gain = parse_quantity(f"{match[1]} %", "ratio") if match else None
    except QuantityFault:
        gain = None
    if match is None or gain is None or gain > 1:
        raise QuantityFault(
            shorten(text), '"0.5 % + 3 counts"', "Write it as the meter's specification does."
        )
    return gain, float(match[2] or 0)


def half_width(accuracy: Accuracy, reading: Array) -> Array:
    """Half-width of the stated accuracy at each `reading` (GUM 4.3.7)."""
    counts = max(accuracy.counts, 0.5)  # a digit cannot be known better than half its own step
    return np.asarray(accuracy.gain * np.abs(reading) + counts * accuracy.resolution)


def shared_uncertainties(accuracy: Accuracy, reading: Array) -> dict[str, Array]:
    """Standard uncertainties common to all readings on the meter, at each `reading`.

    "gain" is the part of a rectangle; "calibration" the standard uncertainty that somebody stated, which is
    taken as normal.
    """
    parts: dict[str, Array] = {}
    if accuracy.gain > 0:
        parts["gain"] = np.asarray(accuracy.gain * np.abs(reading) / np.sqrt(3))
    if accuracy.standard is not None:
        parts["calibration"] = np.full(np.shape(reading), accuracy.standard)
    return parts


def independent_uncertainty(accuracy: Accuracy, reading: Array) -> Array:
    """Standard uncertainty that is new in every reading, at each `reading`."""
    whole = half_width(accuracy, reading)
    gain = accuracy.gain * np.abs(reading)
    return np.asarray(np.sqrt((whole**2 - gain**2) / 3))
