"""Values to the words of a page."""

from __future__ import annotations

import re
from collections.abc import Callable
from contextvars import ContextVar
from datetime import date, datetime
from typing import Any

from ohmsworth.errors import Fault, QuantityFault
from ohmsworth.readings.entry import Entry
from ohmsworth.report.doubt_words import doubt_words
from ohmsworth.units import show, show_stated
from ohmsworth.work.own_times import time_of_file
from ohmsworth.work.records import NOBODY


def ohms(value: float, digits: int = 3) -> str:
    """A resistance (ohm) for reading."""
    return show(value, "Ω", digits)


def stated_ohms(value: float) -> str:
    """A resistance (ohm) as somebody stated it."""
    return show_stated(value, "Ω")


def moment(value: datetime) -> str:
    """Date and time on this machine's clock."""
    return f"{value.astimezone():%Y-%m-%d %H:%M}"


def clock_of_file(entry: Entry) -> str:
    """The time of day as the file said it that a reading came with; "" for seconds, and for none."""
    text = time_of_file(entry)
    return text if ":" in text else ""


def day(value: date | None) -> str:
    """A date, or a dash."""
    return f"{value:%Y-%m-%d}" if value else "–"


#: The decimal mark of the screen for which a page is being drawn.
SCREEN_MARK: ContextVar[str] = ContextVar("decimal mark", default="")


def as_written(text: str) -> str:
    """Figures that a person typed, with the decimal mark that the screen is set to."""
    return re.sub(r"(?<=\d)\.(?=\d)", ",", text) if SCREEN_MARK.get() == "comma" else text


def counted(number: int, one: str, several: str = "") -> str:
    """A number with its noun."""
    return f"{number} {one if number == 1 else several or one + 's'}"


def named(who: str) -> str:
    """Who did it; nothing where nobody said a name."""
    return "" if who == NOBODY else who


def sentence(text: str) -> str:
    """A text with its first letter large, and the rest as it is; a file at its beginning keeps the name that it has."""
    first = text.split(" ", 1)[0]
    return text if re.fullmatch(r"\S+\.\w{2,4}[,:]?", first) else text[:1].upper() + text[1:]


def fault_words(fault: Fault | QuantityFault) -> str:
    """A fault as it stands beside its field."""
    return f"Found {fault.found}; expected {fault.expected}. {fault.mend}"


FILTERS: dict[str, Callable[..., Any]] = {
    "ohms": ohms,
    "stated_ohms": stated_ohms,
    "moment": moment,
    "clock_of_file": clock_of_file,
    "day": day,
    "as_written": as_written,
    "counted": counted,
    "named": named,
    "sentence": sentence,
    "fault_words": fault_words,
    "doubt_words": doubt_words,
}
