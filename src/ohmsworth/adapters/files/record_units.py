"""Figures of one column brought to one unit, exactly: decimal places move, no digit is made up or lost."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from decimal import Context, Decimal
from fractions import Fraction

from ohmsworth.readings.entry import Typed
from ohmsworth.units import UNITS, tidy

#: Enough for any figure that is typed, its unit changed by as much as units differ.
_EXACT = Context(prec=120)
#: Decimals more than were typed where a unit changes by a factor that no decimal number is.
_MORE = 4


def column_unit(figures: Sequence[Typed | None]) -> str:
    """The unit that most of `figures` were typed in, the first of them where two are level."""
    sizes = Counter(_size(one.unit) for one in figures if one is not None)
    usual = sizes.most_common(1)[0][0]
    return next(tidy(one.unit) for one in figures if one is not None and _size(one.unit) == usual)


def in_unit(figure: Typed, unit: str) -> str:
    """The text of `figure` in `unit`; as it was typed where it is of this unit already."""
    text = tidy(figure.text)
    if _size(figure.unit) == _size(unit):
        return text
    try:
        number = Decimal(text)
    except ArithmeticError:  # no number: the reader of the file will say where it stands
        return text
    return _converted(number, _size(figure.unit), _size(unit))


def _converted(number: Decimal, old: tuple[Fraction, Fraction], new: tuple[Fraction, Fraction]) -> str:
    """Number times its unit, in another one."""
    (factor, offset), (by, to) = old, new
    ratio = factor / by
    shift = _power_of_ten(ratio)
    if shift is not None and offset == to:
        return format(number.scaleb(shift, _EXACT), "f")
    value = Fraction(number) * ratio + (offset - to) / by
    decimals = max(0, -int(number.as_tuple().exponent))
    exact = next((n for n in range(decimals, decimals + 12) if (value * 10**n).denominator == 1), None)
    places = decimals + _MORE if exact is None else exact
    scaled = Decimal(round(value * 10**places))
    return format(scaled.scaleb(-places, _EXACT), "f")


def _size(unit: str) -> tuple[Fraction, Fraction]:
    """Factor and offset of a unit as the decimal numbers that they are meant to be."""
    found = UNITS[tidy(unit)]
    if found.dimension == "temperature" and found.factor != 1:
        return Fraction(5, 9), Fraction("273.15") - 32 * Fraction(5, 9)
    return Fraction(repr(found.factor)), Fraction(repr(found.offset))


def _power_of_ten(ratio: Fraction) -> int | None:
    """The exponent where `ratio` is a power of ten."""
    for exponent in range(-30, 31):
        if ratio == Fraction(10) ** exponent:
            return exponent
    return None
