"""A range instead of a number, where the literature gives no better."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ohmsworth.errors import ArgumentFault


@dataclass(frozen=True, slots=True)
class Span:
    """From `low` to `high`: both ends occur, and nothing is said of which is the likelier.

    Parameters
    ----------
    low
        Finite.
    high
        At least `low`; infinity where no upper value is known.
    """

    low: float
    high: float

    def __post_init__(self) -> None:
        if not math.isfinite(self.low):
            raise ArgumentFault("low", self.low, "a finite number")
        if not self.high >= self.low:
            raise ArgumentFault("high", self.high, f"at least {self.low:g}")

    def times(self, factor: float) -> Span:
        """Both ends times a positive `factor`."""
        return Span(self.low * factor, self.high * factor)


def positive(name: str, value: float, unit: str) -> None:
    """Refuse a `value` of the argument `name` that is not a finite number above zero.

    Raises
    ------
    ArgumentFault
        Asking for a positive number of `unit`.
    """
    if not (math.isfinite(value) and value > 0):
        raise ArgumentFault(name, value, f"positive {unit}")
