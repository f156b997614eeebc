"""Conductors as people write them: gauges, cross-sections, strands, wires in parallel, lay."""

from __future__ import annotations

import re

from ohmsworth.errors import ArgumentFault, QuantityFault, UnknownName, shorten
from ohmsworth.materials.conductors import (
    LARGEST_AREA,
    LONGEST_LAY,
    MOST_STRANDS,
    SMALLEST_AREA,
    THICKEST_GAUGE,
    THICKEST_STRAND,
    THINNEST_GAUGE,
    THINNEST_STRAND,
    Conductor,
    conductor_of_area,
    conductor_of_gauge,
    in_parallel,
    stranded,
    with_lay,
)
from ohmsworth.units import parse_number, parse_quantity, tidy

_NUMBER = r"[0-9]{1,2}(?:/0)?|0{2,4}"
_GAUGE = re.compile(rf"AWG\s*#?\s*(?P<after>{_NUMBER})|(?P<before>{_NUMBER})\s*AWG", re.IGNORECASE)
# A stroke stands before a diameter only: 4/0 AWG is a gauge.
_TIMES = re.compile(
    r"(?P<count>[0-9]{1,6})\s*(?:[x×*]|/(?=\s*[0-9.,]+\s*[mµ]m))\s*(?P<each>.+)", re.IGNORECASE
)
_PARALLEL = re.compile(r"(?P<wires>[0-9]{1,3})\s*wires\s+of\s+(?P<each>.+)", re.IGNORECASE)
_LAY = re.compile(r"(?P<wire>.+?)\s*\+\s*(?P<lay>[0-9.,]+)\s*%(?:\s*lay)?", re.IGNORECASE)
_KINDS_OF_TEXT = ("24 AWG", "4/0 AWG", "0.22 mm²", "28 × 0.10 mm")
#: Numbers of strands that are more likely the cores of a cable.
_CORES = range(2, 7)
_MOST_PARALLEL = 100


def conductor_from_text(text: str) -> Conductor:
    """Read one conductor, such as ``"24 AWG"`` or ``"0.22 mm²"``.

    - ``"24 AWG"``, ``"AWG 24"``, ``"4/0 AWG"``: a solid wire of that gauge;
    - ``"0.22 mm²"``, ``"0,5 mm2"``: a nominal area, taken as so much 100 % IACS copper;
    - ``"28 × 0.10 mm"``, ``"28/0.10 mm"``: strands and the diameter of each; ``"1 × 0.8 mm"`` is a solid wire;
    - ``"2 wires of 0.20 mm²"``: wires in parallel that lie apart;
    - any of them with ``"+ 2 % lay"``: that much longer than the cable.

    Examples
    --------
    >>> round(1e3 * conductor_from_text("24 AWG").resistance_per_metre, 1)
    84.2
    >>> conductor_from_text("0,22 mm2").name
    '0.22 mm²'
    >>> round(1e6 * conductor_from_text("28 x 0.10 mm + 2 %").area, 3)
    0.22

    Raises
    ------
    UnknownName
        When the text is none of these.
    QuantityFault
        When it is one of them but with a number that cannot be, or one that means the cores of a cable.
    """
    clean = tidy(text)
    match = _LAY.fullmatch(clean)
    if match is None:
        return _parallel(clean, text)
    lay = parse_number(match["lay"]) / 100
    if not 0 <= lay <= LONGEST_LAY:
        raise QuantityFault(shorten(text), f"a lay of 0 to {100 * LONGEST_LAY:g} %", "Check the percentage.")
    return with_lay(_parallel(match["wire"], text), lay)


def _parallel(clean: str, text: str) -> Conductor:
    match = _PARALLEL.fullmatch(clean)
    if match is None:
        return _single(clean, text)
    wires = int(match["wires"])
    if not 2 <= wires <= _MOST_PARALLEL:
        raise QuantityFault(shorten(text), f"2 to {_MOST_PARALLEL} wires in parallel", "Check the number.")
    return in_parallel(_single(match["each"], text), wires)


def _single(clean: str, text: str) -> Conductor:
    match = _TIMES.fullmatch(clean)
    if match is not None:
        return _strands(int(match["count"]), match["each"], text)
    if "awg" in clean.lower():
        return _of_gauge(clean, text)
    if not re.match(r"[0-9.,+-]", clean):
        raise UnknownName("conductor", text, _KINDS_OF_TEXT)
    area = parse_quantity(clean, "area")
    if not SMALLEST_AREA <= area <= LARGEST_AREA:
        raise QuantityFault(shorten(text), "0.001 mm² to 1000 mm²", "Check the decimal mark and the unit.")
    return conductor_of_area(area, f"{area * 1e6:.6g} mm²")


def _strands(count: int, each: str, text: str) -> Conductor:
    """Strands by their diameter; what a cable's name says of its cores is no conductor."""
    if not re.fullmatch(r"[0-9.,]+\s*[mµ]m", each) or count in _CORES:
        raise QuantityFault(
            shorten(text),
            "one conductor: its cross-section or gauge, or seven or more strands with the diameter of each",
            "For 2 × 2.5 mm² write 2.5 mm²; for strands 28 × 0.10 mm; for wires in parallel 2 wires of 0.20 mm².",
        )
    diameter = parse_quantity(each, "length")
    try:
        conductor = stranded(count, diameter)
    except ArgumentFault:
        expected = (
            f"1 to {MOST_STRANDS:,} strands of {THINNEST_STRAND * 1e3:g} to {THICKEST_STRAND * 1e3:g} mm, "
            "1000 mm² at most"
        )
        raise QuantityFault(shorten(text), expected, "Check number and diameter.") from None
    return conductor


def _of_gauge(clean: str, text: str) -> Conductor:
    gauge = _gauge_from_text(clean)
    if not THICKEST_GAUGE <= gauge <= THINNEST_GAUGE:
        raise QuantityFault(
            shorten(text), f"a wire gauge from 4/0 to {THINNEST_GAUGE}", "Check the number, or give mm²."
        )
    return conductor_of_gauge(gauge)


def _gauge_from_text(clean: str) -> int:
    match = _GAUGE.fullmatch(clean)
    if match is None:
        raise QuantityFault(shorten(clean), "a wire gauge such as 24 AWG or 4/0 AWG", "Write number and AWG.")
    digits = match["after"] or match["before"]
    if digits.endswith("/0"):
        return 1 - int(digits[:-2])  # 1/0, 2/0, ... are the numbers 0, −1, ...
    if set(digits) == {"0"}:
        return 1 - len(digits)
    return int(digits)
