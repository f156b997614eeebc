"""Conductors: what a metre of wire is worth in ohm."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from typing import overload

import numpy as np
import numpy.typing as npt

from ohmsworth.errors import ArgumentFault, QuantityFault, UnknownName, shorten
from ohmsworth.units import parse_quantity, tidy

#: Resistivity of 100 % IACS copper at 20 °C, in ohm metre (58 MS/m; source "IACS").
COPPER_RESISTIVITY = 1 / 58e6
#: Temperature coefficient of copper's resistance, referred to 20 °C, in 1/K (source "IACS").
COPPER_ALPHA20 = 0.00393
#: 20 °C, the temperature that wire tables refer to, in kelvin.
REFERENCE_TEMPERATURE = 293.15
#: Temperatures for which the straight line of resistance against temperature is used: −50 to 150 °C.
COLDEST, HOTTEST = 223.15, 423.15

#: Gauge numbers of the American wire gauge; 4/0 is −3.
THICKEST_GAUGE, THINNEST_GAUGE = -3, 56
#: Areas believed of a conductor, in square metre: 0.001 to 1000 mm².
SMALLEST_AREA, LARGEST_AREA = 1e-9, 1e-3

# IEC 60228 class 5 (flexible), ohm/km at most at 20 °C, by nominal area in mm²: plain, tinned.
_CLASS5 = {
    0.5: (39.0, 40.1),
    0.75: (26.0, 26.7),
    1.0: (19.5, 20.0),
    1.5: (13.3, 13.7),
    2.5: (7.98, 8.21),
    4.0: (4.95, 5.09),
    6.0: (3.30, 3.39),
}
_NUMBER = r"[0-9]{1,2}(?:/0)?|0{2,4}"
_GAUGE = re.compile(rf"AWG\s*#?\s*(?P<after>{_NUMBER})|(?P<before>{_NUMBER})\s*AWG", re.IGNORECASE)
_KINDS_OF_TEXT = ("24 AWG", "4/0 AWG", "0.22 mm²")


@dataclass(frozen=True, slots=True)
class Conductor:
    """A copper conductor.

    Parameters
    ----------
    name
        As the trade writes it: ``"24 AWG"``, ``"0.22 mm²"``.
    area
        Nominal cross-section in square metre.
    resistance_per_metre
        Ohm per metre at 20 °C of one conductor (not the loop).
    """

    name: str
    area: float
    resistance_per_metre: float

    def __post_init__(self) -> None:
        for name, value in (("area", self.area), ("resistance_per_metre", self.resistance_per_metre)):
            if not (math.isfinite(value) and value > 0):
                raise ArgumentFault(name, value, "a positive number")


def awg_diameter(gauge: int) -> float:
    """Diameter in metre of a solid wire of American wire gauge `gauge`.

    d = 0.127 mm × 92^((36 − n)/39), n = −3 for 4/0, −2 for 3/0, −1 for 2/0.

    Valid for −3 ≤ n ≤ 56. Source: "ASTM-B258".
    """
    if not THICKEST_GAUGE <= gauge <= THINNEST_GAUGE:
        raise ArgumentFault("gauge", gauge, f"{THICKEST_GAUGE} (4/0) to {THINNEST_GAUGE}")
    return float(0.127e-3 * 92 ** ((36 - gauge) / 39))


def conductor_of_area(area: float, name: str) -> Conductor:
    """Make the conductor of 100 % IACS copper with cross-section `area` in square metre.

    R/l = ρ/A. This is what the copper alone would have; a stranded conductor sold under a nominal area may
    have up to the IEC 60228 maximum (see `maximum_class5`), some 13 % more. Valid for 0.001 to 1000 mm².
    Source: "IACS".
    """
    if not SMALLEST_AREA <= area <= LARGEST_AREA:
        raise ArgumentFault("area", area, "0.001 mm² to 1000 mm², in square metre")
    return Conductor(name, area, COPPER_RESISTIVITY / area)


def conductor_from_text(text: str) -> Conductor:
    """Read ``"24 AWG"``, ``"AWG 24"``, ``"4/0 AWG"``, ``"0.22 mm²"`` or ``"0,5 mm2"``.

    A cross-section in mm² is taken as nominal area of 100 % IACS copper.

    Examples
    --------
    >>> round(1e3 * conductor_from_text("24 AWG").resistance_per_metre, 1)
    84.2
    >>> conductor_from_text("0,22 mm2").name
    '0.22 mm²'

    Raises
    ------
    UnknownName
        When the text is neither a gauge nor a cross-section.
    QuantityFault
        When it is one of them but with a number that cannot be.
    """
    clean = tidy(text)
    if "awg" in clean.lower():
        return _conductor_of_gauge(_gauge_from_text(clean), text)
    if not re.match(r"[0-9.,+-]", clean):
        raise UnknownName("conductor", text, _KINDS_OF_TEXT)
    area = parse_quantity(clean, "area")
    if not SMALLEST_AREA <= area <= LARGEST_AREA:
        raise QuantityFault(shorten(text), "0.001 mm² to 1000 mm²", "Check the decimal mark and the unit.")
    return conductor_of_area(area, f"{area * 1e6:.6g} mm²")


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


def _conductor_of_gauge(gauge: int, text: str) -> Conductor:
    if not THICKEST_GAUGE <= gauge <= THINNEST_GAUGE:
        raise QuantityFault(
            shorten(text), f"a wire gauge from 4/0 to {THINNEST_GAUGE}", "Check the number, or give mm²."
        )
    label = f"{gauge} AWG" if gauge >= 0 else f"{1 - gauge}/0 AWG"
    return conductor_of_area(math.pi / 4 * awg_diameter(gauge) ** 2, label)


def maximum_class5(area: float, tinned: bool = False) -> float:
    """Largest resistance in ohm per metre at 20 °C that IEC 60228 class 5 allows a nominal `area`.

    Parameters
    ----------
    area
        Nominal cross-section in square metre: 0.5, 0.75, 1, 1.5, 2.5, 4 or 6 mm².
    tinned
        True for metal-coated wires.

    Notes
    -----
    An upper limit for the buyer, not the resistance to expect. Source: "IEC60228".
    """
    for listed, limits in _CLASS5.items():
        if math.isclose(listed * 1e-6, area, rel_tol=1e-9):
            return limits[tinned] * 1e-3
    raise ArgumentFault("area", area, f"a listed size in m²: {', '.join(f'{a:g}' for a in _CLASS5)} mm²")


def temperature_factor(temperature: float) -> float:
    """Resistance of copper at `temperature` (kelvin) over that at 20 °C.

    1 + α20 (T − 293.15 K). Valid from −50 to 150 °C. Source: "IACS".
    """
    if not COLDEST <= temperature <= HOTTEST:
        raise ArgumentFault("temperature", temperature, f"{COLDEST} K to {HOTTEST} K (−50 to 150 °C)")
    return 1 + COPPER_ALPHA20 * (temperature - REFERENCE_TEMPERATURE)


def resistance_per_metre(conductor: Conductor, temperature: float) -> float:
    """Ohm per metre of one `conductor` at `temperature` (kelvin, −50 to 150 °C). Source: "IACS"."""
    return conductor.resistance_per_metre * temperature_factor(temperature)


@overload
def equivalent_length(resistance: float, conductor: Conductor, temperature: float) -> float: ...
@overload
def equivalent_length(
    resistance: npt.NDArray[np.float64], conductor: Conductor, temperature: float
) -> npt.NDArray[np.float64]: ...
def equivalent_length(
    resistance: float | npt.NDArray[np.float64], conductor: Conductor, temperature: float
) -> float | npt.NDArray[np.float64]:
    """Metres of one `conductor` that have the same resistance.

    l = R / (R/l at `temperature`), with the nominal resistance per metre.

    Parameters
    ----------
    resistance
        Ohm, finite, any shape. Negative readings give negative lengths, so that scatter around zero is not
        biased.
    conductor
        The wire to compare with.
    temperature
        Kelvin, −50 to 150 °C.
    """
    if not np.all(np.isfinite(resistance)):
        raise ArgumentFault("resistance", resistance, "finite ohm")
    return resistance / resistance_per_metre(conductor, temperature)
