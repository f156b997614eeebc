"""What a study asks of a lot: how good it has to be, what may go wrong, and how the lots before it did."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Method = Literal["attributes", "variables"]
METHODS: tuple[Method, ...] = ("attributes", "variables")
SAMPLING = ("single", "double")
#: Guard bands by policy; the default is the confidence of the study's own verdicts.
BY_CONFIDENCE = "confidence"
GUARDS = (BY_CONFIDENCE, "none", "1.645 u", "U")
DEFAULT_RISKS = (0.05, 0.10)
MOST_PIECES = 1_000_000


@dataclass(frozen=True, slots=True)
class LotRequest:
    """The table ``[lot]`` of a study.

    Parameters
    ----------
    shares
        Acceptable and rejectable share of pieces over the limit.
    risks
        Producer's risk, that a lot with the acceptable share is rejected; consumer's, that one with the rejectable share
        is accepted.
    size
        Pieces in the lot; None for a supply without end.
    method
        Count the pieces over the limit, or judge by mean and standard deviation.
    double
        Whether counting may stop after a first sample.
    record
        Whether each lot before this one was accepted, oldest first.
    guard
        One of GUARDS, or the global consumer's risk for single pieces that the guard band is to hold.
    condition
        Condition in readings.csv that is the lot; None when there is one only.
    name, number
        What the lot consists of, and what tells it from others; "" where nobody says.
    drawn
        How the sample was drawn, in the owner's words; "" where nobody says.
    """

    shares: tuple[float, float]
    risks: tuple[float, float] = DEFAULT_RISKS
    size: int | None = None
    method: Method = "attributes"
    double: bool = False
    record: tuple[bool, ...] = ()
    guard: str | float = BY_CONFIDENCE
    condition: str | None = None
    name: str = ""
    number: str = ""
    drawn: str = ""
