"""Whether a contact spot stays cold, softens or melts at the voltage across it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from ohmsworth.errors import ArgumentFault
from ohmsworth.materials.metals import HIGHEST_SPOT_VOLTAGE, Metal, metal, spot_temperature, spot_voltage
from ohmsworth.materials.span import Span, positive

#: cold: below the softening voltage; may melt: table and formula disagree whether.
State = Literal["cold", "softens", "may melt", "melts"]

#: Nickel stops being magnetic here and its resistance changes course: no spot temperature is told above. Kelvin.
#: Source: "metal-memory".
NICKEL_CURIE_POINT = 631.0
#: How far the formula's melting voltage may lie from the table's and still be called in agreement (gold: 5 %).
_AGREES = 0.06


@dataclass(frozen=True, slots=True)
class SpotState:
    """What the voltage across a contact does to its spots.

    Parameters
    ----------
    plating
        The metal of both members.
    voltage
        Volts across the contact, its size.
    state
        "cold", "softens", "may melt" or "melts".
    softening
        Volts. Source: "Holm".
    melting
        Volts: from the lower to the higher of table ("Holm") and formula.
    margin
        Volts that are left until the spots soften; below zero they do.
    temperature
        Kelvin of the hottest place, by the formula; None where the formula is not to be trusted or metal melts.
    words
        The same in a sentence.
    """

    plating: str
    voltage: float
    state: State
    softening: float
    melting: Span
    margin: float
    temperature: float | None
    words: str


def melting_span(plating: str, ambient: float = 293.15) -> Span:
    """Melting voltage by the table and by the voltage-temperature relation, the lower one first, in volt.

    Parameters
    ----------
    plating
        A metal of METALS.
    ambient
        Kelvin of the bulk, −100 to 200 °C; the table is for a room.

    Notes
    -----
    They agree within 3 % for silver and tin, 6 % for gold and copper. For nickel they do not: 0.65 V in the table,
    0.53 V by the formula. Sources: "Holm", "CODATA", "ITS-90".
    """
    one = metal(plating)
    formula = float(spot_voltage(one.melting_point, ambient))
    return Span(min(one.melting_voltage, formula), max(one.melting_voltage, formula))


def spot_state(plating: str, voltage: float, ambient: float = 293.15) -> SpotState:
    """Say what `voltage` does to the spots of a clean contact of `plating`.

    Parameters
    ----------
    plating
        A metal of METALS, for both members.
    voltage
        Volts across the contact, either sign; current times resistance.
    ambient
        Kelvin of the bulk, −100 to 200 °C.

    Notes
    -----
    For metal touching metal; a film takes a share of the voltage that heats no metal, so that a filmed contact is
    colder than told. Softening and melting voltages are those of pure bulk metal (source "Holm").

    Examples
    --------
    >>> spot_state("silver", 0.02).state, spot_state("tin", 0.1).state, spot_state("nickel", 0.6).state
    ('cold', 'softens', 'may melt')
    """
    if not math.isfinite(voltage):
        raise ArgumentFault("voltage", voltage, "finite volt")
    one, size = metal(plating), abs(voltage)
    melting = melting_span(one.name, ambient)
    state = _state(size, one.softening_voltage, melting)
    kelvin = _temperature(one, size, ambient, state)
    words = f"{_WORDS[state].format(one.name)}{_disagreement(one, melting)}"
    return SpotState(
        one.name, size, state, one.softening_voltage, melting, one.softening_voltage - size, kelvin, words
    )


def spot_state_of_current(
    plating: str, current: float, resistance: float, ambient: float = 293.15
) -> SpotState:
    """Say what `current` (ampere, either sign) does to the spots of a contact of `resistance` (ohm, positive).

    The voltage is their product; `resistance` is the contact's own, without the bulk of its parts, which makes the
    spots seem hotter than they are.
    """
    positive("resistance", resistance, "ohm")
    return spot_state(plating, current * resistance, ambient)


_WORDS = {
    "cold": "The spots of {} stay below the temperature at which it softens.",
    "softens": "The spots of {} soften and grow: the contact is not what it was before.",
    "may melt": "The spots of {} soften, and may melt.",
    "melts": "The spots of {} melt.",
}


def _state(size: float, softening: float, melting: Span) -> State:
    if size < softening:
        return "cold"
    if size < melting.low:
        return "softens"
    return "may melt" if size < melting.high else "melts"


def _temperature(one: Metal, size: float, ambient: float, state: State) -> float | None:
    if state in ("may melt", "melts") or size > HIGHEST_SPOT_VOLTAGE:
        return None
    kelvin = float(spot_temperature(size, ambient))
    return None if one.name == "nickel" and kelvin > NICKEL_CURIE_POINT else kelvin


def _disagreement(one: Metal, melting: Span) -> str:
    if melting.high <= melting.low * (1 + _AGREES):
        return ""
    return (
        f" Table and formula disagree on where {one.name} melts ({melting.low:.2f} and {melting.high:.2f} V): "
        "take the lower one for caution."
    )
