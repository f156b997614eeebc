"""Resistances and a spread as they are typed, for a question about circuits."""

from __future__ import annotations

import re

from ohmsworth.errors import Fault, QuantityFault, shorten
from ohmsworth.units import parse_quantity
from ohmsworth.work.meaning import LARGEST_SPREAD, MOST_ASKED

#: A contact resistance outside of this (ohm) is a slip of the unit.
BELIEVED = (1e-7, 1e9)
#: Between two resistances: a semicolon, a new line, a comma that is no decimal mark, a blank after a unit.
_BETWEEN = re.compile(r"[;\n]|,(?=\s|$)|(?<=[^\W\d]),|(?<=[^\W\d])\s+(?=[\d.+−-])")


def asked_ohms(text: str, where: str, faults: list[Fault]) -> tuple[float, ...]:
    """The resistances of a line of `text` in ohm, each once; what is wrong joins `faults`.

    Examples
    --------
    >>> asked_ohms("2.6 mΩ, 30 mΩ", "resistances", [])
    (0.0026, 0.03)
    >>> asked_ohms("2,6mΩ 30mΩ", "resistances", [])
    (0.0026, 0.03)
    """
    parts = [part.strip() for part in _BETWEEN.split(text) if part.strip()]
    ohms = tuple(dict.fromkeys(ohm for part in parts if (ohm := asked_ohm(part, where, faults)) is not None))
    if len(ohms) > MOST_ASKED:
        mend = "Ask about fewer at a time."
        faults.append(Fault(where, f"{len(ohms)} of them", f"at most {MOST_ASKED}", mend))
    return ohms


def asked_ohm(text: str, where: str, faults: list[Fault]) -> float | None:
    """One resistance in ohm; what is wrong joins `faults`, and None is given."""
    try:
        ohm = parse_quantity(text, "resistance")
    except QuantityFault as fault:
        found = f"{fault.found} in {shorten(text)}" if fault.found == "no unit" else fault.found
        faults.append(Fault(where, found, fault.expected, fault.mend))
        return None
    if not BELIEVED[0] <= ohm <= BELIEVED[1]:
        mend = (
            "Check the unit; an open contact is 1 GΩ at most." if ohm > 0 else "Give what a contact can have."
        )
        faults.append(Fault(where, shorten(text), "0.1 µΩ to 1 GΩ", mend))
        return None
    return ohm


def asked_spread(text: str, where: str, faults: list[Fault]) -> float | None:
    """The relative standard deviation by which contacts scatter; None where nothing is typed, or what is wrong."""
    if not text.strip():
        return None
    try:
        spread = parse_quantity(text, "ratio")
    except QuantityFault as fault:
        faults.append(Fault(where, fault.found, fault.expected, fault.mend))
        return None
    if not 0 < spread <= LARGEST_SPREAD:
        mend = "Give the relative standard deviation of the contacts, such as 20 %."
        expected = f"above 0 % and at most {100 * LARGEST_SPREAD:g} %"
        faults.append(Fault(where, shorten(text), expected, mend))
        return None
    return spread
