"""A distributed line as lumped sections, for simulators that know resistors, coils and capacitors."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ohmsworth.errors import ArgumentFault
from ohmsworth.report.netlist import GROUND, Card, Part

#: Sections to a wavelength at the highest frequency.
SECTIONS_A_WAVELENGTH = 20
MOST_SECTIONS = 2000


@dataclass(frozen=True, slots=True)
class LumpedLine:
    """A line in lumped sections.

    Parameters
    ----------
    cards
        Its elements.
    sections
        How many they make.
    highest_frequency
        Hertz, up to which the errors hold; below it they fall with abs(γ)², the square of frequency where a line loses little.
    propagation_error, impedance_error
        By how much, relative to them, the propagation constant and the characteristic impedance are missed at most.
    """

    cards: tuple[Card, ...]
    sections: int
    highest_frequency: float
    propagation_error: float
    impedance_error: float

    @property
    def remark(self) -> str:
        """What to know when reading the cards."""
        many = "1 section" if self.sections == 1 else f"{self.sections} sections"
        propagation, impedance = (
            f"{max(100 * e, 0.01):.2g} %" for e in (self.propagation_error, self.impedance_error)
        )
        return (
            f"a line in {many}: up to {self.highest_frequency:g} Hz its phase and loss are right to {propagation} and its "
            f"characteristic impedance to {impedance}; resistance does not rise with frequency here"
        )


def number_of_sections(
    series_r: float, series_l: float, shunt_c: float, shunt_g: float, length: float, highest_frequency: float
) -> int:
    """Sections of at most 1/20 wavelength at `highest_frequency`, as many as 20 abs(γ) l/2π, γ² = (R + jωL)(G + jωC).

    abs(γ) is at least 2π over the wavelength, so that a line that rather loses than turns is cut as finely.

    Raises
    ------
    ArgumentFault
        For values that make no line, and where it would take more than 2000.
    """
    values = {"series_r": series_r, "series_l": series_l, "shunt_c": shunt_c, "shunt_g": shunt_g}
    for name, value in values.items():
        if not (math.isfinite(value) and value >= 0):
            raise ArgumentFault(name, value, "zero or more")
    for name, value in (("length", length), ("highest_frequency", highest_frequency)):
        if not (math.isfinite(value) and value > 0):
            raise ArgumentFault(name, value, "a positive number")
    if series_r == series_l == 0:
        raise ArgumentFault("series_r", series_r, "a resistance or an inductance per metre")
    turn = _turn(series_r, series_l, shunt_c, shunt_g, length, highest_frequency)
    sections = max(1, math.ceil(turn * SECTIONS_A_WAVELENGTH / (2 * math.pi)))
    if sections > MOST_SECTIONS:
        wanted = f"a line of at most {MOST_SECTIONS // SECTIONS_A_WAVELENGTH} wavelengths"
        raise ArgumentFault("length", length, wanted)
    return sections


def lumped_sections(
    name: str,
    near: str,
    far: str,
    *,
    series_r: float,
    series_l: float,
    shunt_c: float,
    shunt_g: float,
    length: float,
    highest_frequency: float,
    back: str = GROUND,
) -> LumpedLine:
    """A line from node `near` to node `far`, whose currents return by node `back`, in π sections.

    Every section is R and L in line with half of its C and G across at either end. With θ = abs(γ) l/N of a section at the
    highest frequency (at most 2π/20) the propagation constant is right to 2 asin(θ/2)/θ − 1 (0.42 % at most, about
    θ²/24) and the characteristic impedance to 1/√(1 − θ²/4) − 1 (1.3 % at most, about θ²/8): the bounds follow from
    cosh γ'l = 1 + θ²/2 of a π section, whatever the phase of θ. A long line turns further, so that 0.42 % of ten
    wavelengths are 15 degrees. Source: "lumped-line".

    Parameters
    ----------
    name
        Begins the names of elements and inner nodes.
    series_r, series_l
        Ohm and henry per metre, of both conductors together; as constant as the card of a resistor is, so that
        `series_r` is to be taken at the frequency that matters.
    shunt_c, shunt_g
        Farad and siemens per metre.
    length
        Metre.
    highest_frequency
        Hertz.

    Raises
    ------
    ArgumentFault
        As `number_of_sections` does.
    """
    per_metre = (series_r, series_l, shunt_c, shunt_g)
    sections = number_of_sections(*per_metre, length, highest_frequency)
    resistance, inductance, capacitance, conductance = (value * length / sections for value in per_metre)
    places = [near, *(f"{name} {k}" for k in range(1, sections)), far]
    cards: list[Card] = []
    for k, place in enumerate(places):
        share = 0.5 if k in (0, sections) else 1.0
        cards += _across(f"{name} {k}", place, back, capacitance * share, conductance * share)
        if k < sections:
            cards += _in_line(f"{name} {k + 1}", place, places[k + 1], resistance, inductance)
    theta = _turn(*per_metre, length, highest_frequency) / sections
    propagation = 2 * math.asin(theta / 2) / theta - 1 if theta else 0.0
    return LumpedLine(
        tuple(cards), sections, highest_frequency, propagation, 1 / math.sqrt(1 - theta**2 / 4) - 1
    )


def _turn(
    series_r: float, series_l: float, shunt_c: float, shunt_g: float, length: float, frequency: float
) -> float:
    """abs(γ) times the length."""
    omega = 2 * math.pi * frequency
    return length * math.sqrt(math.hypot(series_r, omega * series_l) * math.hypot(shunt_g, omega * shunt_c))


def _in_line(name: str, first: str, second: str, resistance: float, inductance: float) -> list[Card]:
    middle = f"{name} middle" if resistance and inductance else (second if resistance else first)
    resistor: list[Card] = [Part("R", name, first, middle, resistance)] if resistance else []
    return resistor + ([Part("L", name, middle, second, inductance)] if inductance else [])


def _across(name: str, place: str, back: str, capacitance: float, conductance: float) -> list[Card]:
    capacitor: list[Card] = [Part("C", name, place, back, capacitance)] if capacitance else []
    leak: list[Card] = [Part("R", f"{name} leak", place, back, 1 / conductance)] if conductance else []
    return capacitor + leak
