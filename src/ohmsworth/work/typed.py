"""What is typed on a number pad, or sent by a meter that types, as a quantity that keeps its digits."""

from __future__ import annotations

import re
from dataclasses import dataclass

from ohmsworth.errors import Fault, InputRefused, QuantityFault, shorten
from ohmsworth.readings.entry import Typed
from ohmsworth.units import (
    EXAMPLES,
    Decimal,
    may_be_thousands,
    parse_number,
    parse_unit,
    plain_digits,
    split_quantity,
    tidy,
)

#: How it begins to be said what a figure was read as.
READ_AS = "Read as"
#: Beyond these nobody reads a contact on a bench (SI).
_MOST = {"voltage": 1e3, "current": 1e4, "resistance": 1e12, "temperature": 700.0}
#: What meters send in place of a number: 9.9E37 when the range is exceeded, 9.91E37 for "not a number".
_OVERLOAD = 1e37
_OVERLOAD_WORDS = re.compile(
    r"[+-]?(?:o\.?l\.?|0\.?l|ovld|ovrld|overload|over|inf|infinity|nan)\b.*", re.IGNORECASE
)
#: Meters say DC with the unit; nothing else is read here.
_DIRECT = re.compile(r"(?<=[VA])\s*DC")


@dataclass(frozen=True, slots=True)
class AsRead:
    """How a field was read.

    Parameters
    ----------
    typed
        The quantity.
    said
        How it was read, in words, where it could have been read otherwise; "" where not.
    mark
        The decimal mark that the text shows for certain, to be remembered; None where it shows none.
    """

    typed: Typed
    said: str = ""
    mark: Decimal | None = None


def read_typed(text: str, field: str, dimension: str, unit: str, mark: Decimal = "either") -> AsRead:
    """Read one field.

    Parameters
    ----------
    text
        As typed or sent: number, sign, unit, either decimal mark, an exponent, the blanks and line ends of a meter.
    field
        Its name, for messages.
    dimension
        "voltage", "current", "resistance" or "temperature".
    unit
        The unit that the field remembers, for a number without one.
    mark
        The shop's decimal mark, as set or as shown by earlier entries; "either" where it is not known.

    Raises
    ------
    InputRefused
        For anything that is not one such quantity, or could be two.
    """
    try:
        return _read(_printable(text), dimension, unit, mark)
    except QuantityFault as fault:
        raise InputRefused((Fault(field, fault.found, fault.expected, fault.mend),)) from fault


def _printable(text: str) -> str:
    """Without the line ends and other control characters that come from a meter."""
    return tidy("".join(letter for letter in text[:200] if letter.isprintable() or letter.isspace()))


def _read(text: str, dimension: str, unit: str, mark: Decimal) -> AsRead:
    if _OVERLOAD_WORDS.fullmatch(text):
        raise _overload(text, dimension)
    number, symbol = split_quantity(text, dimension)
    decimal = _decimal(number, mark)
    if abs(parse_number(number, decimal)) >= _OVERLOAD:
        raise _overload(text, dimension)
    used = _DIRECT.sub("", symbol) if symbol else tidy(unit)
    parse_unit(used, dimension)
    typed = Typed(plain_digits(number, decimal), used, dimension)
    _check_size(typed, text, dimension)
    return AsRead(typed, _said(number, typed, mark), _shown_mark(number))


def _decimal(number: str, mark: Decimal) -> Decimal:
    """How this number is read: a point is always decimal; a comma that may part thousands not where points are written.

    Meters show three decimals more often than a person types a thousand and more, so that the comma is decimal where the mark
    is not known, and it is said.
    """
    if "," not in number:
        return "point"
    if not may_be_thousands(number) or mark != "point":
        return "comma"
    raise QuantityFault(
        shorten(number),
        "a number that can be read in one way only",
        f"Type {number.replace(',', '.')} for one and a bit, {number.replace(',', '')} for a thousand and more; "
        "or set the decimal mark of this screen, which is the point, to the comma under Settings.",
    )


def _overload(text: str, dimension: str) -> QuantityFault:
    return QuantityFault(
        f"{shorten(text)}, which is what a meter sends when its range is exceeded",
        f"a {dimension} such as {EXAMPLES[dimension]}",
        "Choose a higher range or look for an open lead; then read again.",
    )


def _check_size(typed: Typed, text: str, dimension: str) -> None:
    most = _MOST[dimension]
    if abs(typed.value) > most:
        raise QuantityFault(
            shorten(text), f"a {dimension} that a bench can have", "Check number, decimal mark and unit."
        )


def _said(number: str, typed: Typed, mark: Decimal) -> str:
    """Tell how a number was read that somebody could read otherwise."""
    exponent = "e" in number.lower()
    other_mark = (mark == "point" and "," in number) or (mark == "comma" and "." in number)
    if mark == "either" and "," in number and may_be_thousands(number):
        return f"{READ_AS} {typed.text.replace('-', '−')} {typed.unit}: the comma is the decimal mark."
    if exponent or other_mark or may_be_thousands(number):
        return f"{READ_AS} {typed.text.replace('-', '−')} {typed.unit}."
    return ""


def _shown_mark(number: str) -> Decimal | None:
    """An exponent is a meter's, and shows nothing of how the shop writes."""
    if "e" in number.lower():
        return None
    if "." in number:
        return "point"
    return "comma" if "," in number and not may_be_thousands(number) else None
