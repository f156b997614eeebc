"""Conductors: what a metre of wire is worth in ohm."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import overload

import numpy as np
import numpy.typing as npt

from ohmsworth.errors import ArgumentFault

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

#: Diameters believed of one strand, in metre: 0.01 to 1 mm; and how many there may be.
THINNEST_STRAND, THICKEST_STRAND = 1e-5, 1e-3
MOST_STRANDS = 10_000
#: Share of a bundle's circle that its round strands fill (source "practice"; seven in a hexagon: 7/9).
BUNDLE_FILL = 0.75
#: Lay of more than 20 % is a slip.
LONGEST_LAY = 0.2


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
    diameter
        Metre over the bare copper of each wire, or None where only the area is known.
    wires
        Wires in parallel that lie apart, as in a star quad: each has its own skin effect.
    lay
        How much longer the wires are than the cable, as a fraction; the resistance holds it.
    """

    name: str
    area: float
    resistance_per_metre: float
    diameter: float | None = None
    wires: int = 1
    lay: float = 0.0

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

    R/l = ρ/A. This is what the copper alone would have; a conductor sold under a nominal area may have up to the
    IEC 60228 maximum (see `maximum_resistance`). From 0.5 to 120 mm², and by the size, that is for plain wires 4 to 12 % more
    where they are solid or stranded (classes 1 and 2), 10 to 16 % more where they are flexible (classes 5 and 6); for tinned
    ones 6 to 13 % more where they are stranded, 12 to 19 % more where they are flexible.

    Valid for 0.001 to 1000 mm². Sources: "IACS", "IEC60228".
    """
    if not SMALLEST_AREA <= area <= LARGEST_AREA:
        raise ArgumentFault("area", area, "0.001 mm² to 1000 mm², in square metre")
    return Conductor(name, area, COPPER_RESISTIVITY / area)


def conductor_of_gauge(gauge: int) -> Conductor:
    """Make the solid conductor of American wire gauge `gauge`. Sources: "ASTM-B258", "IACS"."""
    diameter = awg_diameter(gauge)
    name = f"{gauge} AWG" if gauge >= 0 else f"{1 - gauge}/0 AWG"
    return replace(conductor_of_area(math.pi / 4 * diameter**2, name), diameter=diameter)


def stranded(count: int, diameter: float) -> Conductor:
    """Make the conductor of `count` strands of `diameter` metre each; one strand is a solid wire.

    A = n π d²/4; overall diameter d √(n/0.75), for one strand d. The strands' own lay is left out: see
    `with_lay`.

    Valid for 1 to 10,000 strands of 0.01 to 1 mm. Sources: "IACS", "practice" (fill of the bundle).
    """
    if not 1 <= count <= MOST_STRANDS:
        raise ArgumentFault("count", count, f"1 to {MOST_STRANDS:,} strands")
    if not THINNEST_STRAND <= diameter <= THICKEST_STRAND:
        raise ArgumentFault("diameter", diameter, "0.01 mm to 1 mm, in metre")
    name = f"{count} × {diameter * 1e3:.6g} mm"
    overall = diameter if count == 1 else diameter * math.sqrt(count / BUNDLE_FILL)
    return replace(conductor_of_area(count * math.pi / 4 * diameter**2, name), diameter=overall)


def in_parallel(conductor: Conductor, wires: int) -> Conductor:
    """`wires` of `conductor` joined at both ends and lying apart, as the two wires of a star quad's leg."""
    if not (wires >= 2 and conductor.wires == 1):
        raise ArgumentFault("wires", wires, "two or more, of single wires")
    return replace(
        conductor,
        name=f"{wires} wires of {conductor.name}",
        area=wires * conductor.area,
        resistance_per_metre=conductor.resistance_per_metre / wires,
        wires=wires,
    )


def twist_factor(pitch: float, diameter: float) -> float:
    """Metres of wire in a metre of cable: √(1 + (πd/p)²), the 1/cos of the angle at which the wire lies.

    Parameters
    ----------
    pitch
        Metre of cable for one full turn, more than zero.
    diameter
        Metre, of the circle on which the wire's centre goes round: for a twisted pair the distance between the
        centres of its wires.

    Notes
    -----
    The length of a helix; nothing but geometry.
    """
    for name, value in (("pitch", pitch), ("diameter", diameter)):
        if not (math.isfinite(value) and value > 0):
            raise ArgumentFault(name, value, "positive metre")
    return math.hypot(1.0, math.pi * diameter / pitch)


def with_lay(conductor: Conductor, lay: float) -> Conductor:
    """Make `conductor` longer than the cable by the fraction `lay` (0.02 for 2 %): R × (1 + lay).

    Twisted cores and strands are a few per cent longer than their cable; 2 % is common practice for both
    together. A second lay multiplies the first. Valid for 0 to 0.2.
    """
    if not 0 <= lay <= LONGEST_LAY:
        raise ArgumentFault("lay", lay, f"0 to {LONGEST_LAY:g} (0.02 is 2 %)")
    total = (1 + conductor.lay) * (1 + lay) - 1
    bare = conductor.name.partition(" + ")[0]
    return replace(
        conductor,
        name=f"{bare} + {100 * total:.4g} % lay" if total else bare,
        resistance_per_metre=conductor.resistance_per_metre * (1 + lay),
        lay=total,
    )


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
