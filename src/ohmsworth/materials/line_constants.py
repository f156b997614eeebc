"""Inductance and capacitance of a metre of cable, and what datasheets give in their place.

Everywhere in this project an `inductance` of a cable is the *external* one, of the loop and of the space between
its conductors. The inside of the wires is added over frequency: see `ohmsworth.materials.skin`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from ohmsworth.errors import ArgumentFault
from ohmsworth.materials.conductors import REFERENCE_TEMPERATURE, Conductor
from ohmsworth.materials.skin import conductor_impedance
from ohmsworth.units import show, show_stated

#: Speed of light in metre per second, exact in the SI. Source: "CODATA".
SPEED_OF_LIGHT = 299_792_458.0
#: Frequency in hertz at which datasheets state an inductance. Source: "practice".
BRIDGE_FREQUENCY = 1e3


@dataclass(frozen=True, slots=True)
class LineConstants:
    """What one metre of two conductors has.

    Parameters
    ----------
    inductance
        External, of the loop, in henry per metre.
    capacitance
        Between the two, in farad per metre.
    """

    inductance: float
    capacitance: float


@dataclass(frozen=True, slots=True)
class PairConstants:
    """What one metre of two like cores in a screen has.

    Parameters
    ----------
    inductance
        External, of the loop of both cores, in henry per metre.
    core_core, core_screen
        The capacitor between the cores and the one from each core to the screen, in farad per metre, as elements
        of the equivalent circuit.
    """

    inductance: float
    core_core: float
    core_screen: float


def characteristic_impedance(inductance_per_metre: float, capacitance_per_metre: float) -> float:
    """Z0 = √(L/C) in ohm, of a line without losses. For a pair C is Cc + Cs/2."""
    _check_positive(inductance_per_metre=inductance_per_metre, capacitance_per_metre=capacitance_per_metre)
    return math.sqrt(inductance_per_metre / capacitance_per_metre)


def velocity_factor_of(inductance_per_metre: float, capacitance_per_metre: float) -> float:
    """Velocity 1/√(LC) as a fraction of that of light."""
    _check_positive(inductance_per_metre=inductance_per_metre, capacitance_per_metre=capacitance_per_metre)
    return 1 / (math.sqrt(inductance_per_metre * capacitance_per_metre) * SPEED_OF_LIGHT)


def constants_of_impedance(impedance: float, velocity_factor: float) -> LineConstants:
    """L = Z0/v and C = 1/(Z0 v), v = `velocity_factor` × the speed of light.

    Parameters
    ----------
    impedance
        Characteristic impedance in ohm, at frequencies where the skin effect is complete.
    velocity_factor
        More than 0, at most 1.

    Examples
    --------
    >>> line = constants_of_impedance(75.0, 0.66)
    >>> round(1e12 * line.capacitance, 1), round(1e9 * line.inductance)
    (67.4, 379)
    """
    _check_positive(impedance=impedance)
    if not 0 < velocity_factor <= 1:
        raise ArgumentFault("velocity_factor", velocity_factor, "more than 0, at most 1 (0.66 is 66 %)")
    velocity = velocity_factor * SPEED_OF_LIGHT
    return LineConstants(impedance / velocity, 1 / (impedance * velocity))


def inductance_of_impedance(impedance: float, capacitance_per_metre: float) -> float:
    """L = Z0² C in henry per metre.

    Raises
    ------
    ArgumentFault
        When the two would make the cable faster than light.
    """
    _check_positive(impedance=impedance, capacitance_per_metre=capacitance_per_metre)
    if impedance * capacitance_per_metre * SPEED_OF_LIGHT < 1:
        least = show_stated(1 / (impedance * SPEED_OF_LIGHT), "F/m")
        wanted = f"at least {least} with {impedance:g} ohm: less would be faster than light"
        raise ArgumentFault("capacitance_per_metre", capacitance_per_metre, wanted)
    return impedance**2 * capacitance_per_metre


def external_inductance(
    measured_inductance: float, conductors: Sequence[Conductor], frequency: float = BRIDGE_FREQUENCY
) -> float:
    """Take the inside of the wires from a loop inductance measured at low frequency.

    L = measured − Σ Im(z)/ω, z the internal impedance of each conductor of the loop at 20 °C; near µ0/8π = 50 nH/m
    for each round wire.

    Parameters
    ----------
    measured_inductance
        Of the loop, henry per metre of cable.
    conductors
        The wires of the loop: both of a pair; of a coaxial cable the inner one alone (its screen is thin).
    frequency
        Hertz, of the measurement.

    Raises
    ------
    ArgumentFault
        When nothing would be left.
    """
    _check_positive(measured_inductance=measured_inductance, frequency=frequency)
    omega = 2 * math.pi * frequency
    inside = sum(
        conductor_impedance(each, REFERENCE_TEMPERATURE, frequency).item().imag / omega for each in conductors
    )
    if measured_inductance <= inside:
        wanted = f"more than {show(inside, 'H/m')}, which the wires have inside"
        raise ArgumentFault("measured_inductance", measured_inductance, wanted)
    return measured_inductance - inside


def elements_of_measured(measured_core_core: float, measured_core_rest: float) -> tuple[float, float]:
    """Elements (Cc, Cs) of the equivalent circuit of a screened pair from its two measured capacitances.

    Cs = 2(rest − core), Cc = 2 core − rest.

    Parameters
    ----------
    measured_core_core
        Measured between the cores with the screen left open: Cc + Cs/2, farad per metre.
    measured_core_rest
        Measured from one core to the other core and the screen together: Cc + Cs, farad per metre.

    Raises
    ------
    ArgumentFault
        When no pair can have both: `measured_core_rest` lies from one to two times `measured_core_core`.

    Examples
    --------
    >>> [round(1e12 * value, 3) for value in elements_of_measured(60e-12, 110e-12)]
    [10.0, 100.0]
    """
    core, rest = measured_core_core, measured_core_rest
    _check_positive(measured_core_core=core, measured_core_rest=rest)
    # Figures of a datasheet are round: one that misses an end by the last digit of a float is at that end.
    if not core * (1 - 1e-9) <= rest <= 2 * core * (1 + 1e-9):
        ends = f"{show_stated(core, 'F/m')} to {show_stated(2 * core, 'F/m')}"
        wanted = f"{ends}: one to two times the capacitance from core to core with the screen open"
        raise ArgumentFault("measured_core_rest", rest, wanted)
    return max(2 * core - rest, 0.0), max(2 * (rest - core), 0.0)


def measured_of_elements(core_core: float, core_screen: float) -> tuple[float, float]:
    """The two capacitances measured on a screened pair: (Cc + Cs/2, Cc + Cs). Inverse of `elements_of_measured`."""
    for name, value in (("core_core", core_core), ("core_screen", core_screen)):
        if not (math.isfinite(value) and value >= 0):
            raise ArgumentFault(name, value, "zero or more farad per metre")
    return core_core + core_screen / 2, core_core + core_screen


def _check_positive(**values: float) -> None:
    for name, value in values.items():
        if not (math.isfinite(value) and value > 0):
            raise ArgumentFault(name, value, "more than zero")
