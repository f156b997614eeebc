"""One reading as it is written down at the bench, before it joins the table of its study."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from functools import lru_cache
from typing import Literal

from ohmsworth.units import parse_quantity

#: Current forward, reversed, switched off, or not stated; as written in readings.csv.
Sign = Literal["+", "-", "0", ""]


@dataclass(frozen=True, slots=True)
class Typed:
    """A quantity with the digits that somebody typed or a meter sent: they show the resolution too.

    Parameters
    ----------
    text
        A plain decimal number with a point, such as "0.2510".
    unit
        Its unit, one that `ohmsworth.units` knows.
    dimension
        What it is a quantity of: "voltage", "current", "resistance" or "temperature".
    """

    text: str
    unit: str
    dimension: str

    @property
    def value(self) -> float:
        """In SI.

        Raises
        ------
        QuantityFault
            When the text is no number, or the unit is not one of the dimension.
        """
        return _value(self.text, self.unit, self.dimension)


@lru_cache(maxsize=50_000)
def _value(text: str, unit: str, dimension: str) -> float:
    """Read once what stands in every judgement of a long study."""
    return parse_quantity(f"{text} {unit}", dimension, "point")


@dataclass(frozen=True, slots=True)
class Entry:
    """One reading: either `voltage` with `current`, or `resistance`.

    Parameters
    ----------
    specimen, condition, contact, mating
        What was measured; `contact` and `mating` are empty where they are not told apart.
    polarity
        The sign of the current.
    voltage, current, resistance, temperature
        As typed; None where not read.
    time
        When it was read, with its zone.
    operator
        Who held the probes.
    note
        Whatever else was seen.
    step
        Step of the bench sheet that it answers; None for a reading outside of the sheet.
    others
        Further columns by heading: plug, socket, the study's own factors.
    """

    specimen: str
    condition: str
    contact: str = ""
    mating: str = ""
    polarity: Sign = ""
    voltage: Typed | None = None
    current: Typed | None = None
    resistance: Typed | None = None
    temperature: Typed | None = None
    time: datetime | None = None
    operator: str = ""
    note: str = ""
    step: int | None = None
    others: Mapping[str, str] = field(default_factory=dict)

    @property
    def cell(self) -> tuple[str, str, str, str]:
        """What entries of one mating share."""
        return self.specimen, self.condition, self.contact, self.mating
