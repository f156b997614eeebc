"""From a use's settings to the cable in its circuit, and the settings that every use with such a cable shares."""

from __future__ import annotations

from ohmsworth.consequence.circuit import CableConstants, cable_of, plain_resistance
from ohmsworth.consequence.circuit.cable import PerMetre
from ohmsworth.consequence.use import Setting, Use, number, text
from ohmsworth.errors import ArgumentFault, OhmsworthError
from ohmsworth.materials import (
    COPPER_RESISTIVITY,
    Conductor,
    conductor_from_text,
    conductor_impedance,
    resistance_per_metre,
    screen_impedance,
    temperature_factor,
)

# One line a setting reads better than one line a value.
# fmt: off
LENGTH = Setting("length", "l", "length", 20.0, "length of the cable", "practice", 0.0, 10e3)
CONDUCTOR = Setting("conductor", "A", "text", "0.22 mm²", "conductor of each core: mm² or AWG", "practice")
CORE_CORE = Setting("core_core", "Cc", "capacitance per length", 100e-12,
                    "capacitance from core to core, as an element of the equivalent circuit", "practice", 0.0, 1e-6)
CORE_SCREEN = Setting("core_screen", "Cs", "capacitance per length", 200e-12,
                      "capacitance from each core to the screen, as an element of the equivalent circuit", "practice", 0.0, 1e-6)
CAPACITANCE = Setting("capacitance", "C", "capacitance per length", 100e-12,
                      "capacitance between the two conductors", "practice", 0.0, 1e-6)
INDUCTANCE = Setting("inductance", "L", "inductance per length", 0.6e-6,
                     "inductance of the loop, of the space between the conductors: their inside is added over frequency",
                     "practice", 0.0, 1e-3)
SCREEN_RESISTANCE = Setting("screen_resistance", "Rs", "resistance per length", 0.02,
                            "resistance of the screen", "practice", 0.0, 1e3)
SCREEN_DIAMETER = Setting("screen_diameter", "D", "length", 0.0,
                          "inner diameter of the screen, for its skin effect; 0 leaves that out", "practice", 0.0, 0.1)
LOSS_TANGENT = Setting("loss_tangent", "tan δ", "ratio", 0.0, "loss tangent of the insulation", "practice", 0.0, 1.0)
TEMPERATURE = Setting("temperature", "T", "temperature", 293.15, "temperature of the cable", "practice", 223.15, 423.15)
# fmt: on

#: Settings of a pair in a screen, of a coaxial cable, and of two cores.
PAIR_SETTINGS = (LENGTH, CONDUCTOR, CORE_CORE, CORE_SCREEN, INDUCTANCE, SCREEN_RESISTANCE, LOSS_TANGENT)
COAX_SETTINGS = (LENGTH, CONDUCTOR, CAPACITANCE, INDUCTANCE, SCREEN_RESISTANCE, SCREEN_DIAMETER, LOSS_TANGENT)
TWO_CORE_SETTINGS = (LENGTH, CONDUCTOR, CAPACITANCE, INDUCTANCE, LOSS_TANGENT)


def core(use: Use) -> Conductor:
    """The conductor of each core.

    Raises
    ------
    ArgumentFault
        When the text names none.
    """
    try:
        return conductor_from_text(text(use, "conductor"))
    except OhmsworthError as fault:
        wanted = f'a conductor such as "0.22 mm²" or "24 AWG" ({fault})'
        raise ArgumentFault("conductor", use.settings["conductor"], wanted) from fault


def core_resistance(use: Use) -> float:
    """Ohm per metre of one core at the cable's temperature, direct current."""
    return resistance_per_metre(core(use), number(use, "temperature"))


def screen_resistance(use: Use) -> float:
    """Ohm per metre of the screen at the cable's temperature, direct current."""
    return number(use, "screen_resistance") * temperature_factor(number(use, "temperature"))


def screened_pair(use: Use) -> CableConstants:
    """Two like cores in a screen, as conductors +, − and screen."""
    own = number(use, "inductance") / 2
    cc, cs = number(use, "core_core"), number(use, "core_screen")
    wire = _wire(use)
    return cable_of(
        (wire, wire, plain_resistance(screen_resistance(use))),
        (own, own, 0.0),
        [[0, cc, cs], [cc, 0, cs], [cs, cs, 0]],
        number(use, "loss_tangent"),
    )


def pair_alone(use: Use) -> CableConstants:
    """The two cores of a screened pair as a signal between them meets them, of which the screen carries nothing.

    From core to core there are Cc and, by way of the screen, both Cs in series.
    """
    own, wire = number(use, "inductance") / 2, _wire(use)
    c = number(use, "core_core") + number(use, "core_screen") / 2
    return cable_of((wire, wire), (own, own), [[0, c], [c, 0]], number(use, "loss_tangent"))


def coaxial(use: Use, common: float = 0.0) -> CableConstants:
    """A core and its screen; `common` henry per metre of both together, where current returns outside."""
    c = number(use, "capacitance")
    return cable_of(
        (_wire(use), _screen(use)),
        (number(use, "inductance"), 0.0),
        [[0, c], [c, 0]],
        number(use, "loss_tangent"),
        common,
    )


def two_core(use: Use) -> CableConstants:
    """Two like cores beside each other."""
    c, own, wire = number(use, "capacitance"), number(use, "inductance") / 2, _wire(use)
    return cable_of((wire, wire), (own, own), [[0, c], [c, 0]], number(use, "loss_tangent"))


def three_core(use: Use) -> CableConstants:
    """Three like cores around each other, with the same loop and capacitance between any two."""
    c, own, wire = number(use, "capacitance"), number(use, "inductance") / 2, _wire(use)
    between = [[0, c, c], [c, 0, c], [c, c, 0]]
    return cable_of((wire, wire, wire), (own, own, own), between, number(use, "loss_tangent"))


def _wire(use: Use) -> PerMetre:
    conductor, temperature = core(use), number(use, "temperature")
    return lambda frequency: conductor_impedance(conductor, temperature, frequency)


def _screen(use: Use) -> PerMetre:
    ohm, diameter = screen_resistance(use), number(use, "screen_diameter")
    if diameter == 0 or ohm == 0:
        return plain_resistance(ohm)
    resistivity = COPPER_RESISTIVITY * temperature_factor(number(use, "temperature"))
    return lambda frequency: screen_impedance(ohm, diameter / 2, frequency, resistivity)
