"""What was typed into the fields of a card: what is kept of it, what it means, and all that is wrong with it.

Texts are kept as they were typed, so that a digit is never made up; what they mean is read from them whenever it is needed.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from ohmsworth.errors import Fault, QuantityFault, nearest_name, shorten
from ohmsworth.readings.meters import accuracy_from_text
from ohmsworth.units import parse_quantity, show_typed, tidy
from ohmsworth.work.cards.asks import BELIEVED, Ask
from ohmsworth.work.cards.ranges import read_ranges
from ohmsworth.work.marks import one_line

_DAY = re.compile(r"(\d{4})-(\d{2})-(\d{2})", re.ASCII)
#: Days outside of this are a slip.
YEARS = (1950, 2150)
#: Largest number that a card can have.
LARGEST_CARD = 2**63 - 1


@dataclass(frozen=True, slots=True)
class Read:
    """What was typed: `kept` goes into the log, `values` into the card; `faults` name the fields by their labels."""

    kept: dict[str, Any] = field(default_factory=dict)
    values: dict[str, Any] = field(default_factory=dict)
    faults: tuple[Fault, ...] = ()


def read_typed(asks: Sequence[Ask], given: Mapping[str, Any]) -> Read:
    """Read the fields `asks` out of what was `given`: texts by key, numbers of cards, ranges as a list of such texts."""
    kept: dict[str, Any] = {}
    values: dict[str, Any] = {}
    faults: list[Fault] = []
    for ask in asks:
        if ask.form == "ranges":
            kept[ask.key], values[ask.key] = read_ranges(
                given.get(ask.key), measured_dimension(given), faults
            )
            continue
        text = clean_text(given.get(ask.key), ask.form == "lines")
        kept[ask.key] = text
        if not text:
            values[ask.key] = None if ask.form in ("day", "quantity", "card") else ""
            if ask.needed:
                faults.append(Fault(ask.label, "nothing", _wanted(ask), "Fill it in."))
            continue
        try:
            kept[ask.key], values[ask.key] = _READERS[ask.form](ask, text)
        except QuantityFault as error:
            values[ask.key] = None
            faults.append(Fault(ask.label, error.found, error.expected, error.mend))
    return Read(kept, values, tuple(faults))


def clean_text(value: Any, several_lines: bool = False) -> str:
    """A typed text without outer blanks and unprintable characters; a whole number as its digits; "" for anything else."""
    if isinstance(value, int) and not isinstance(value, bool):
        return str(value) if abs(value) <= LARGEST_CARD else ""
    if not isinstance(value, str):
        return ""
    if several_lines:
        return "\n".join(one_line(line) for line in value.splitlines()).strip()
    return one_line(value)


def measured_dimension(given: Mapping[str, Any]) -> str:
    """The dimension of a meter's ranges: the last word of what it measures."""
    return clean_text(given.get("measures")).rpartition(" ")[2]


def _wanted(ask: Ask) -> str:
    if ask.form == "choice":
        return " or ".join(ask.options)
    return {"day": "a day", "quantity": f"a {ask.dimension}", "card": f"a {ask.of}"}.get(ask.form, "a text")


def _line(ask: Ask, text: str) -> tuple[Any, Any]:
    if len(text) > ask.most:
        raise QuantityFault(
            f"a text of {len(text)} characters", f"at most {ask.most}", "Shorten it, or write a note."
        )
    return text, text


def _day(_: Ask, text: str) -> tuple[Any, Any]:
    match = _DAY.fullmatch(text)
    try:
        day = date(*map(int, match.groups())) if match else None
    except ValueError:
        day = None
    if day is None or not YEARS[0] <= day.year < YEARS[1]:
        raise QuantityFault(shorten(text), "a day such as 2026-03-31", "Write year, month and day.")
    return text, day


def _quantity(ask: Ask, text: str) -> tuple[Any, Any]:
    value = parse_quantity(text, ask.dimension)
    if not BELIEVED[0] <= value <= BELIEVED[1]:
        low, high = (show_typed(end, ask.dimension) for end in BELIEVED)
        raise QuantityFault(shorten(text), f"{low} to {high}", "Check value and unit.")
    return tidy(text), value


def _choice(ask: Ask, text: str) -> tuple[Any, Any]:
    if text not in ask.options:
        near = nearest_name(text, ask.options)
        raise QuantityFault(
            shorten(text), " or ".join(ask.options), f"Did you mean {near}?" if near else "Choose one."
        )
    return text, text


def _card(ask: Ask, text: str) -> tuple[Any, Any]:
    if not (text.isascii() and text.isdigit() and len(text) < 20 and 0 < int(text) <= LARGEST_CARD):
        raise QuantityFault(shorten(text), f"a {ask.of}", "Choose one of the list.")
    return int(text), int(text)


def _accuracy(_: Ask, text: str) -> tuple[Any, Any]:
    accuracy_from_text(tidy(text))
    return tidy(text), tidy(text)


_READERS: dict[str, Callable[[Ask, str], tuple[Any, Any]]] = {
    "line": _line,
    "lines": _line,
    "day": _day,
    "quantity": _quantity,
    "choice": _choice,
    "card": _card,
    "accuracy": _accuracy,
}
