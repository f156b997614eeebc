"""Text to SI floats and back, at the edge only.

Numbers typed by people are read by a small whitelist, never by a general expression parser: general unit
libraries read ``2,61 mΩ`` as 261 mΩ and ``−18 mV`` (U+2212) as +18 mV without a word.
"""

from __future__ import annotations

import decimal as decimals
import math
import re
from dataclasses import dataclass
from typing import Literal

from ohmsworth.errors import QuantityFault, shorten

Decimal = Literal["point", "comma", "either"]

#: Smallest and largest size of a non-zero SI value that is believed; a slip lies behind anything else.
SMALLEST, LARGEST = 1e-15, 1e15
_TINIEST = 1e-30

# Micro sign and Greek mu, ohm sign and Greek omega, minus sign, no-break spaces: what keyboards and
# spreadsheets write for the same thing. Nothing wider (NFKC would turn "6² A" into 62 A).
_SAME = str.maketrans(
    {"\u2126": "Ω", "\u03bc": "µ", "\u2212": "-", "\u00a0": " ", "\u202f": " ", "\u2009": " "}
)
_NUMBER = re.compile(r"[+-]?(?:[0-9]{1,18}(?:[.,][0-9]{0,30})?|[.,][0-9]{1,30})(?:[eE][+-]?[0-9]{1,3})?")
_THOUSANDS = re.compile(r"[+-]?[1-9][0-9]{0,2},[0-9]{3}")

_PREFIXES = {"p": 1e-12, "n": 1e-9, "µ": 1e-6, "u": 1e-6, "m": 1e-3, "": 1.0, "k": 1e3, "M": 1e6, "G": 1e9}


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit: SI value = factor × number + offset."""

    dimension: str
    factor: float
    offset: float = 0.0


def _prefixed(symbols: tuple[str, ...], dimension: str, prefixes: str) -> dict[str, Unit]:
    return {
        prefix + symbol: Unit(dimension, _PREFIXES[prefix])
        for symbol in symbols
        for prefix in ["", *prefixes]
    }


UNITS: dict[str, Unit] = {
    **_prefixed(("Ω", "ohm", "Ohm"), "resistance", "nµumkMG"),
    **_prefixed(("V",), "voltage", "nµumk"),
    **_prefixed(("A",), "current", "nµum"),
    **_prefixed(("F",), "capacitance", "pnµum"),
    **_prefixed(("H",), "inductance", "nµum"),
    **_prefixed(("Hz",), "frequency", "kMG"),
    **_prefixed(("W",), "power", "µumk"),
    **_prefixed(("m",), "length", "µumk"),
    **_prefixed(("s",), "time", "nµum"),
    "F/m": Unit("capacitance per length", 1.0),
    "nF/m": Unit("capacitance per length", 1e-9),
    "pF/m": Unit("capacitance per length", 1e-12),
    "nF/km": Unit("capacitance per length", 1e-12),
    "pF/ft": Unit("capacitance per length", 1e-12 / 0.3048),
    "Ω/km": Unit("resistance per length", 1e-3),
    "Ω/m": Unit("resistance per length", 1.0),
    "mΩ/m": Unit("resistance per length", 1e-3),
    "Ω/1000 ft": Unit("resistance per length", 1 / 304.8),
    "H/m": Unit("inductance per length", 1.0),
    "µH/m": Unit("inductance per length", 1e-6),
    "nH/m": Unit("inductance per length", 1e-9),
    "mH/km": Unit("inductance per length", 1e-6),
    "µH/ft": Unit("inductance per length", 1e-6 / 0.3048),
    "cm": Unit("length", 1e-2),
    "ft": Unit("length", 0.3048),
    "in": Unit("length", 0.0254),
    "min": Unit("time", 60.0),
    "h": Unit("time", 3600.0),
    "mm²": Unit("area", 1e-6),
    "mm2": Unit("area", 1e-6),
    "%": Unit("ratio", 1e-2),
    "ppm": Unit("ratio", 1e-6),
    # A factor such as 0.66; a dimension of its own, so that 5 is never taken for 5 %.
    "": Unit("plain ratio", 1.0),
    "dB": Unit("level difference", 1.0),
    "K": Unit("temperature", 1.0),
    "°C": Unit("temperature", 1.0, 273.15),
    "ºC": Unit("temperature", 1.0, 273.15),
    "C": Unit("temperature", 1.0, 273.15),
    "degC": Unit("temperature", 1.0, 273.15),
    "°F": Unit("temperature", 5 / 9, 273.15 - 32 * 5 / 9),
    "V/√Hz": Unit("noise density", 1.0),
    "µV/√Hz": Unit("noise density", 1e-6),
    "nV/√Hz": Unit("noise density", 1e-9),
    "nV/rtHz": Unit("noise density", 1e-9),
    "V/K": Unit("voltage per kelvin", 1.0),
    "µV/K": Unit("voltage per kelvin", 1e-6),
}

#: An example of each dimension, for error messages.
EXAMPLES = {
    "resistance": "3 mΩ",
    "voltage": "1.25 mV",
    "current": "100 mA",
    "temperature": "21 °C",
    "length": "10 m",
    "area": "0.22 mm²",
    "frequency": "50 Hz",
    "capacitance": "2 nF",
    "capacitance per length": "100 pF/m",
    "resistance per length": "85 mΩ/m",
    "inductance": "3 µH",
    "inductance per length": "0.7 µH/m",
    "ratio": "0.5 %",
    "plain ratio": "0.66",
    "level difference": "1 dB",
    "time": "2 min",
    "power": "0.5 W",
    "noise density": "5 nV/√Hz",
    "voltage per kelvin": "3 µV/K",
}


def tidy(text: str) -> str:
    """`text` with the look-alike characters of UNITS made one, and outer blanks removed."""
    return text.translate(_SAME).strip()


def parse_number(text: str, decimal: Decimal = "either") -> float:
    """Read one plain decimal number.

    Parameters
    ----------
    text
        The number as typed: digits, at most one decimal mark, an optional sign and exponent.
    decimal
        ``"point"`` or ``"comma"`` where the file has shown which mark it uses; ``"either"`` accepts both
        but refuses ``1,234``, which could be either one and a bit or a thousand and more.

    Raises
    ------
    QuantityFault
        For anything else: words, several marks, thousands separators, infinities, absurd sizes.
    """
    clean = tidy(text)
    if not clean:
        raise QuantityFault("nothing", "a number", "Type the number.")
    if len(clean) > 40 or not _NUMBER.fullmatch(clean):
        raise QuantityFault(
            shorten(text),
            "a plain number such as 1.25",
            "Use digits and one decimal mark, no thousands marks.",
        )
    if decimal == "point" and "," in clean:
        raise QuantityFault(
            shorten(text), "a decimal point, as elsewhere in this file", "Use one decimal mark throughout."
        )
    if decimal == "comma" and "." in clean:
        raise QuantityFault(
            shorten(text), "a decimal comma, as elsewhere in this file", "Use one decimal mark throughout."
        )
    if decimal == "either" and _THOUSANDS.fullmatch(clean):
        raise QuantityFault(
            shorten(text),
            "a number that can be read in one way only",
            "Write 1.234 for one and a bit, or 1234 for a thousand and more.",
        )
    value = float(clean.replace(",", "."))
    if not math.isfinite(value):
        raise QuantityFault(shorten(text), "a finite number", "Check the exponent.")
    # Times a prefix it would come out as exactly zero, and zero passes for a reading.
    if abs(value) < _TINIEST and re.match("[^eE]*[1-9]", clean):
        raise QuantityFault(shorten(text), f"zero or more than {_TINIEST:g}", "Check the exponent.")
    return value


def may_be_thousands(number: str) -> bool:
    """Whether a comma in `number` may part thousands as well as decimals: ``1,234`` but not ``0,234`` or ``1,23``."""
    return _THOUSANDS.fullmatch(tidy(number)) is not None


def plain_digits(number: str, decimal: Decimal = "either") -> str:
    """The digits of a number as typed, with a point, without an exponent or a plus; trailing zeros stay.

    Raises
    ------
    QuantityFault
        As `parse_number`.

    Examples
    --------
    >>> plain_digits("+1.2340E-03"), plain_digits(",250"), plain_digits("−18")
    ('0.0012340', '0.250', '-18')
    """
    value = parse_number(number, decimal)
    text = format(decimals.Decimal(tidy(number).replace(",", ".")), "f")
    return text if value else text.lstrip("-")


def split_quantity(text: str, dimension: str) -> tuple[str, str]:
    """The number and the unit of ``"2,61 mΩ"``, as typed; the unit is "" where there is none.

    Raises
    ------
    QuantityFault
        When `text` does not begin with a number; `dimension` is for the message.
    """
    clean = tidy(text)
    match = _NUMBER.match(clean)
    if not match:
        raise QuantityFault(
            shorten(text) if clean else "nothing",
            f"a {dimension} such as {EXAMPLES[dimension]}",
            "Type number and unit.",
        )
    return match.group(), clean[match.end() :].strip()


def parse_unit(symbol: str, dimension: str) -> Unit:
    """Look up the unit `symbol` and hold it to `dimension`; a plain ratio has none, or a percentage's.

    Raises
    ------
    QuantityFault
        When the unit is missing, unknown or of another dimension.
    """
    clean = tidy(symbol)
    known = [name for name, unit in UNITS.items() if unit.dimension == dimension]
    wanted = f"a unit of {dimension} ({', '.join(known[:8])})"
    if dimension == "plain ratio":
        if clean in UNITS and UNITS[clean].dimension in ("ratio", "plain ratio"):
            return UNITS[clean]
        raise QuantityFault(
            f"the unit {shorten(clean)}", "a plain number, or one in %", "Leave the unit out."
        )
    if not clean:
        raise QuantityFault("no unit", wanted, f"Write the unit too, as in {EXAMPLES[dimension]}.")
    unit = UNITS.get(clean)
    if unit is None or unit.dimension != dimension:
        raise QuantityFault(f"the unit {shorten(clean)}", wanted, "Use one of these units.")
    return unit


def believable(value: float, text: str) -> float:
    """Return the SI `value`, or refuse a size that only a slip can explain."""
    if value != 0 and not SMALLEST <= abs(value) <= LARGEST:
        raise QuantityFault(
            shorten(text), f"a size between {SMALLEST:g} and {LARGEST:g}", "Check the exponent."
        )
    return value


def parse_quantity(text: str, dimension: str, decimal: Decimal = "either") -> float:
    """Read ``"3 mΩ"`` and the like into SI.

    Examples
    --------
    >>> parse_quantity("2,61 mΩ", "resistance")
    0.00261
    >>> parse_quantity("−18 mV", "voltage")
    -0.018
    """
    digits, symbol = split_quantity(text, dimension)
    unit = parse_unit(symbol, dimension)
    number = parse_number(digits, decimal)
    # Rounded to 15 digits so that 2.61 × 1e-3 is the float nearest 0.00261, as typed.
    value = believable(float(f"{number * unit.factor + unit.offset:.15g}"), text)
    if dimension == "temperature" and value < 0:
        raise QuantityFault(shorten(text), "a temperature above absolute zero", "Check number and unit.")
    return value


# ---------------------------------------------------------------- SI floats to text

_SCALES = ((1e9, "G"), (1e6, "M"), (1e3, "k"), (1.0, ""), (1e-3, "m"), (1e-6, "µ"), (1e-9, "n"), (1e-12, "p"))
#: Ends of an interval that are this many times apart are not read well in one unit.
_FAR_APART = 50
_UNPREFIXED = {"%", "ppm", "dB", "K", "°C", "mm²", "", "h", "min"}


def scale_for(value: float, unit: str) -> tuple[float, str]:
    """Factor and prefixed unit in which `value` reads as 1 to 1000."""
    size = abs(value)
    if unit in _UNPREFIXED or size == 0 or not math.isfinite(size):
        return 1.0, unit
    for factor, prefix in _SCALES:
        if size >= factor * 0.9995:
            return _no_mega_metre(factor, prefix, unit)
    return _SCALES[-1][0], _SCALES[-1][1] + unit


def _no_mega_metre(factor: float, prefix: str, unit: str) -> tuple[float, str]:
    return (1e3, "km") if unit == "m" and prefix in ("M", "G") else (factor, prefix + unit)


def _rounded(value: float, decimals: int) -> str:
    text = f"{round(value, decimals):.{max(decimals, 0)}f}"
    return text.replace("-", "−") if float(text) else text.lstrip("-")


def decimals_for(size: float, digits: int) -> int:
    """Decimals that leave `digits` significant digits of `size`."""
    if size == 0 or not math.isfinite(size):
        return digits
    return digits - 1 - math.floor(math.log10(float(f"{abs(size):.{digits - 1}e}")))


def show(value: float, unit: str, digits: int = 3) -> str:
    """`value` (SI) with a readable prefix and `digits` significant digits.

    Examples
    --------
    >>> show(0.0026149, "Ω")
    '2.61 mΩ'
    """
    scientific = f"{value:.{digits - 1}e}"
    rounded = float(scientific)
    if math.isfinite(rounded) and rounded != 0 and not SMALLEST <= abs(rounded) <= LARGEST:
        return f"{scientific.replace('-', '−')} {unit}".strip()
    factor, label = scale_for(rounded, unit)
    scaled = value / factor
    return f"{_rounded(scaled, decimals_for(scaled, digits))} {label}".strip()


def show_stated(value: float, unit: str) -> str:
    """A value that somebody stated, as they would write it: no digits that they did not give.

    Examples
    --------
    >>> show_stated(0.003, "Ω"), show_stated(0.0125, "V")
    ('3 mΩ', '12.5 mV')
    """
    factor, label = scale_for(value, unit)
    return f"{value / factor:.6g} {label}".strip().replace("-", "−")


def show_typed(value: float, dimension: str) -> str:
    """An SI value as somebody would type it: in a unit that `parse_quantity` takes for `dimension`, the usual one if it fits.

    Examples
    --------
    >>> show_typed(2.4, "inductance"), show_typed(0.6e-6, "inductance per length"), show_typed(1000.0, "current")
    ('2.4 H', '0.6 µH/m', '1000 A')
    """
    if dimension == "temperature":
        number, unit = value - UNITS["°C"].offset, "°C"
    else:
        unit = _typed_unit(abs(value), dimension)
        number = value / UNITS[unit].factor
    return f"{number:.6g} {unit}".strip().replace("-", "−")


def _typed_unit(size: float, dimension: str) -> str:
    usual = EXAMPLES[dimension].partition(" ")[2]
    if 0.1 <= size / UNITS[usual].factor < 1000 or dimension == "ratio":
        return usual
    plain = next(name for name, unit in UNITS.items() if unit.dimension == dimension and unit.factor == 1)
    if size == 0:
        return plain
    fitting = [
        name
        for _, prefix in _SCALES
        if (name := prefix + plain) in UNITS and UNITS[name].dimension == dimension
    ]
    return next((name for name in fitting if size >= UNITS[name].factor * 0.9995), fitting[-1])


def show_pm(value: float, uncertainty: float, unit: str) -> str:
    """`value ± uncertainty`, the uncertainty to two significant digits and the value to the same place.

    Examples
    --------
    >>> show_pm(0.00261493, 0.0000134, "Ω")
    '2.615 ± 0.013 mΩ'
    """
    factor, label = scale_for(uncertainty if uncertainty > abs(value) else value, unit)
    decimals = decimals_for(uncertainty / factor, 2)
    return (
        f"{_rounded(value / factor, decimals)} ± {_rounded(uncertainty / factor, decimals)} {label}".strip()
    )


def show_interval(low: float, high: float, unit: str) -> str:
    """``low to high`` in one unit, to two significant digits of the half-width.

    Ends that lie far apart have a unit each.

    Examples
    --------
    >>> show_interval(0.00241, 0.00288, "Ω"), show_interval(0.00241, 1.2, "Ω")
    ('2.41 to 2.88 mΩ', '2.4 mΩ to 1.2 Ω')
    """
    if math.isinf(low) or math.isinf(high):
        return _one_sided(low, high, unit)
    small, large = sorted((abs(low), abs(high)))
    if small > 0 and large >= _FAR_APART * small:
        return f"{show(low, unit, 2)} to {show(high, unit, 2)}"
    factor, label = scale_for(max(abs(low), abs(high)), unit)
    half = (high - low) / 2 / factor
    decimals = decimals_for(half, 2) if half > 0 else 3
    # A wide interval's smaller end still needs a digit that is not zero.
    if small > 0:
        decimals = max(decimals, decimals_for(small / factor, 1))
    return f"{_rounded(low / factor, decimals)} to {_rounded(high / factor, decimals)} {label}".strip()


def _one_sided(low: float, high: float, unit: str) -> str:
    if math.isfinite(low):
        return f"{show(low, unit, 2)} or more"
    return f"{show(high, unit, 2)} or less" if math.isfinite(high) else "any value"


def show_percent(probability: float) -> str:
    """A probability in percent, without claiming certainty.

    Examples
    --------
    >>> show_percent(0.9997), show_percent(0.42), show_percent(0.0001)
    ('more than 99.9 %', '42 %', 'less than 0.1 %')
    """
    if probability > 0.999:
        return "more than 99.9 %"
    if probability < 0.001:
        return "less than 0.1 %"
    digits = 1 if probability > 0.99 or probability < 0.1 else 0
    return f"{100 * probability:.{digits}f} %"
