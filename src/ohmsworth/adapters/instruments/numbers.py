"""An answer of a meter to a quantity, with the digits that were sent.

IEEE 488.2 knows three forms of decimal numbers in an answer: NR1 (whole), NR2 (with a point) and NR3 (with an exponent).
SCPI-99 volume 1, 7.2.1.4 and 7.2.1.5 (from memory): 9.9E37 stands for an overload, 9.91E37 for not a number.
"""

from __future__ import annotations

import re
from decimal import Decimal

from ohmsworth.errors import Fault, QuantityFault, shorten
from ohmsworth.readings.entry import Typed
from ohmsworth.units import UNITS, parse_quantity, tidy
from ohmsworth.work.instruments import BadAnswer, MeterProfile, Overloaded

OVERLOAD, NOT_A_NUMBER = Decimal("9.9E37"), Decimal("9.91E37")
#: NR1, NR2 and NR3; no more digits than any meter has.
_NUMBER = re.compile(r"[+-]?(?:[0-9]{1,30}(?:\.[0-9]{0,30})?|\.[0-9]{1,30})(?:[eE] ?[+-]?[0-9]{1,3})?")
#: Digits that `ohmsworth.units` reads on either side of the point.
_SIDE = 18
_LONGEST = 38
_WORDS = re.compile(r"[+-]?(?:n?inf|infinity)", re.IGNORECASE)
_PREFIXES = (("", 0), ("k", 3), ("M", 6), ("G", 9), ("n", -9), ("µ", -6), ("m", -3))


def typed_number(text: str, unit: str, dimension: str, where: str) -> Typed:
    """The number `text` in `unit` written out plainly, no digit lost and none added.

    A prefix is chosen only where the plain number would need zeros that were not sent, or more places than can be typed.

    Raises
    ------
    BadAnswer
        When it is no single number, or of a size that nothing on a bench has.
    Overloaded
        For 9.9E37 and whatever is beyond.

    Examples
    --------
    >>> typed_number("+2.3510E-04", "V", "voltage", "voltmeter").text
    '0.00023510'
    """
    clean = text.strip()
    if _WORDS.fullmatch(clean):
        raise overloaded(clean, where)
    if not _NUMBER.fullmatch(clean):
        raise _bad(where, clean, f"one number, in {unit}")
    number = Decimal(clean.replace(" ", ""))
    if abs(number) == NOT_A_NUMBER:
        raise _bad(where, "9.91E37, with which a meter says that it has no number", f"one number, in {unit}")
    if abs(number) >= OVERLOAD:
        raise overloaded(clean, where)
    found = _plain(number, unit, dimension)
    if found is None:
        raise _bad(where, clean, "a number of a size that can be measured")
    try:
        parse_quantity(f"{found.text} {found.unit}", dimension, "point")
    except QuantityFault as error:
        raise _bad(where, clean, error.expected) from error
    return found


def typed_answer(profile: MeterProfile, line: str, where: str) -> Typed:
    """The quantity in a meter's line, by its profile; raises BadAnswer and Overloaded."""
    clean = line.strip()
    if any(word.casefold() in clean.casefold() for word in profile.overload):
        raise overloaded(clean, where)
    before, after = profile.before.strip(), profile.after.strip()
    if not (clean.startswith(before) and clean.endswith(after) and len(clean) >= len(before) + len(after)):
        raise _bad(where, clean, f"a line such as {shorten(f'{before} 1.234 {after}'.strip())}")
    inner = clean.removeprefix(before).removesuffix(after).strip()
    number, unit = _split(inner, where) if profile.unit_sent else (inner, profile.unit)
    return typed_number(number, unit_of(unit, profile.quantity, where), profile.quantity, where)


def overloaded(found: str, where: str) -> Overloaded:
    """What to raise for a meter that says that it is overloaded."""
    mend = "Check that the contact is closed and the probes sit; then choose a larger range, or less current."
    return Overloaded(Fault(where, f"an overload ({shorten(found)})", "a reading inside of the range", mend))


def unit_of(symbol: str, dimension: str, where: str) -> str:
    """The unit as `ohmsworth.units` knows it; raises BadAnswer for one of another dimension."""
    clean = tidy(symbol)
    try:
        parse_quantity(f"1 {clean}", dimension)
    except QuantityFault as error:
        raise BadAnswer(
            Fault(where, error.found, error.expected, "Set the meter to the right function.")
        ) from error
    return clean


def _split(inner: str, where: str) -> tuple[str, str]:
    match = _NUMBER.match(inner)
    if match is None:
        raise _bad(where, inner, "a number with its unit behind it")
    return match.group(), inner[match.end() :]


def _plain(number: Decimal, unit: str, dimension: str) -> Typed | None:
    """Written in `unit`, or with the first prefix that needs neither zeros nor too many places; None where none does."""
    for prefix, power in _PREFIXES:
        name = prefix + unit
        if name not in UNITS or UNITS[name].dimension != dimension:
            continue
        text = _text(number.scaleb(-power))
        if text is not None:
            return Typed(text, name, dimension)
    # Whole thousands of a unit that takes no larger prefix: zeros are all that can be written.
    text = format(number, "f")
    return Typed(text, unit, dimension) if len(text) <= _SIDE else None


def _text(number: Decimal) -> str | None:
    _, _, exponent = number.as_tuple()
    if not isinstance(exponent, int) or exponent > 0 or -exponent > _SIDE:
        return None
    text = format(number, "f")
    whole = text.lstrip("-").partition(".")[0]
    return text if len(whole) <= _SIDE and len(text) <= _LONGEST else None


def _bad(where: str, found: str, expected: str) -> BadAnswer:
    mend = "Nothing was taken down. Read again; if it stays so, compare the profile with the meter's manual."
    return BadAnswer(Fault(where, shorten(found) if found else "an empty line", expected, mend))
