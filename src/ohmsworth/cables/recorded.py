"""A test that somebody else's equipment made, such as of the insulation: recorded as it was told, and never asked for."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class RecordedTest:
    """What was told of a test.

    Parameters
    ----------
    test
        What was tested: "insulation", "withstand voltage".
    between
        Between what; "" where nobody said.
    voltage
        Volt that the equipment put there; None where nobody said.
    resistance, at_least
        Ohm that were found, and that were asked; None where the test has none.
    held
        Whether it held, of a test that says only that.
    instrument, by, on
        With what, who and when; "" and None where nobody said.
    """

    test: str
    between: str = ""
    voltage: float | None = None
    resistance: float | None = None
    at_least: float | None = None
    held: bool | None = None
    instrument: str = ""
    by: str = ""
    on: date | None = None

    @property
    def passed(self) -> bool:
        """Whether it found what was asked; a resistance without anything asked says nothing against the cable."""
        enough = self.resistance is None or self.at_least is None or self.resistance >= self.at_least
        return enough and self.held is not False
