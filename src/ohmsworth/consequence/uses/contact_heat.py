"""What current does to a contact itself: heat, and how hot its spots get."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from ohmsworth.consequence.rule import Compute, Position, Rule
from ohmsworth.consequence.use import Array, Setting, Use, number, text
from ohmsworth.materials import HIGHEST_SPOT_VOLTAGE, PLATINGS, metal, spot_temperature

# fmt: off
PLATING = Setting("plating", "M", "text", "tin", "surface of the contacts", "practice", choices=PLATINGS)
LIMIT_HEAT = Setting("limit_heat", "Pc", "power", 0.25, "heat in one contact that matters", "practice", 1e-6, 1e3)
#: Settings of every use whose contacts are told by their heat.
HEAT_SETTINGS = (PLATING, LIMIT_HEAT)
# fmt: on


@dataclass(frozen=True, slots=True)
class Load:
    """When a contact is loaded, and what is said of it.

    Parameters
    ----------
    when
        "at 16 A", to follow on "heat in one contact".
    crest
        Peak over effective value of the current. A spot warms and cools within microseconds, far faster than the current
        of audio or mains changes, so that its temperature is told at the peak; the contact as a whole averages.
    ending
        Follows on the sentence of each threshold.
    heat_reason
        Why the limit of heat is what it is by default.
    """

    when: str
    crest: float
    heat_reason: str
    ending: str = ""


def contact_rules(use: Use, current: Compute, position: Position, load: Load) -> tuple[Rule, ...]:
    """Heat in a contact, voltage across it, and how much hotter than the contact its spots are.

    Parameters
    ----------
    use
        With HEAT_SETTINGS and a temperature.
    current
        Ohm of the contact to effective ampere through it.
    position
        The contact meant.
    load
        When, and in which words.
    """
    plating = text(use, "plating")
    ambient = number(use, "temperature")

    def voltage(ohm: Array) -> Array:
        return np.asarray(load.crest * current(ohm) * ohm)

    return (
        _heat(number(use, "limit_heat"), lambda ohm: np.asarray(current(ohm) ** 2 * ohm), position, load),
        _softening(plating, voltage, position, load),
        _spots(lambda ohm: spot_rise(voltage(ohm), plating, ambient), position, load),
    )


def _heat(limit: float, compute: Compute, position: Position, load: Load) -> Rule:
    return Rule(
        key="contact_heat",
        words=f"heat in one contact {load.when}",
        unit="W",
        frequency=None,
        position=position,
        worse="higher",
        compute=compute,
        threshold=limit,
        passing=f"heat in one contact {load.when} reaches {limit:g} W{load.ending}",
        reason=load.heat_reason,
        source="practice",
    )


def _softening(plating: str, voltage: Compute, position: Position, load: Load) -> Rule:
    limit = metal(plating).softening_voltage
    return Rule(
        key="contact_voltage",
        words=f"{'peak ' if load.crest > 1 else ''}voltage across one contact {load.when}",
        unit="V",
        frequency=None,
        position=position,
        worse="higher",
        compute=voltage,
        threshold=limit,
        passing=f"voltage across one contact {load.when} reaches the {limit:g} V at which spots of {plating} soften"
        f"{load.ending}",
        reason="from there on the spots that carry the current soften and sink in: the contact does not come back to what it was",
        source="Holm",
    )


def _spots(compute: Compute, position: Position, load: Load) -> Rule:
    return Rule(
        key="spot_rise",
        words=f"how much hotter than the contact its spots are, at most, {load.when}",
        unit="K",
        frequency=None,
        position=position,
        worse="higher",
        compute=compute,
        threshold=None,
        passing="",
        reason="for information: the voltage at which spots soften decides",
        source="Holm",
    )


def spot_rise(voltage: npt.ArrayLike, plating: str, ambient: float) -> Array:
    """How much hotter in kelvin than the bulk of the contact its hottest spot is: √(T0² + V²/4L) − T0, up to melting.

    Parameters
    ----------
    voltage
        Volts across the contact, any shape.
    plating
        Name of the metal.
    ambient
        Kelvin of the bulk T0.

    Notes
    -----
    At most: a part of the voltage that stands across the bulk of pin and socket does not heat the spots. A spot that melts
    grows until it is no hotter than its melting point, and is told so. See `ohmsworth.materials.spot_temperature`.
    Source: "Holm".
    """
    believed = np.minimum(np.abs(np.asarray(voltage, dtype=float)), HIGHEST_SPOT_VOLTAGE)
    hottest = np.minimum(spot_temperature(believed, ambient), metal(plating).melting_point)
    return np.asarray(hottest - ambient)
