"""The resistance from tones against the one that a direct current told, and what a difference may mean.

    d = R(tones) − R(direct current),    u² = u²(tones) + u²(direct current)

with Welch and Satterthwaite's degrees of freedom; explained when its 95 % interval has zero inside. Both values are taken as
independent. IEC 60512-2-1 has direct current govern where the two disagree. Sources: GUM, "IEC60512-2-1-ac".
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from ohmsworth.errors import ArgumentFault
from ohmsworth.materials.film_breakdown import DRY_VOLTAGE
from ohmsworth.resistance.impedance.estimated import Estimated, subtracted

#: What a difference may come from.
Cause = Literal["film broken", "spots grown", "film bridged", "warmed", "thermal EMF", "bulk", "moved"]
#: Each cause in words, and how to find out.
CAUSES: dict[Cause, str] = {
    "film broken": "The direct current put more than 20 mV across the contact and may have broken its film through: "
    "take the tones again and see whether they stay where they were.",
    "spots grown": "The direct current may have softened the contact spots, which then grew: "
    "read with a tenth of the current on a fresh mating.",
    "film bridged": "A film's capacitance may carry the tones past its resistance: take lower tones.",
    "warmed": "The direct current may have warmed the contact and its metal, copper by 0.4 % a kelvin: "
    "read with half the current and see whether the difference falls to a quarter.",
    "thermal EMF": "A thermal EMF adds to a direct current's voltage and not to a tone's: "
    "read with the current forward and reversed.",
    "bulk": "The two may not have had the same length of metal between their sense points: connect both at the same places.",
    "moved": "The contact may have moved between the two: take both again without touching it.",
}


@dataclass(frozen=True, slots=True)
class AgainstDirect:
    """Tones against direct current.

    Parameters
    ----------
    difference
        Tones minus direct current, in ohm.
    relative
        The same over the value of direct current.
    low, high
        95 % interval of the difference, in ohm.
    p_value
        Two-sided chance of as much without any difference.
    explained
        Whether the uncertainties explain it.
    causes
        What it may mean, likelier to be seen first; none where it is explained.
    """

    difference: Estimated
    relative: float
    low: float
    high: float
    p_value: float
    explained: bool
    causes: tuple[Cause, ...]


def against_direct(
    resistance: Estimated,
    direct: float,
    uncertainty: float,
    freedom: float = math.inf,
    voltage: float | None = None,
    reversed_too: bool = False,
) -> AgainstDirect:
    """Compare a resistance from tones with one from direct current.

    Parameters
    ----------
    resistance
        From tones, at low frequency, in ohm.
    direct, uncertainty, freedom
        From direct current: ohm, standard uncertainty in ohm, its degrees of freedom.
    voltage
        Largest volts across the contact with direct current; None where nobody knows.
    reversed_too
        Whether the direct current was reversed, which cancels a thermal EMF.

    Raises
    ------
    ArgumentFault
        When `direct` or its `uncertainty` is not above zero.
    """
    for name, value in (("direct", direct), ("uncertainty", uncertainty)):
        if not 0 < value < math.inf:
            raise ArgumentFault(name, value, "more than zero ohm")
    difference = subtracted(resistance, Estimated(direct, uncertainty, freedom, {}))
    low, high = difference.interval(0.95)
    explained = low <= 0 <= high
    causes = () if explained else _causes(difference.value > 0, voltage, reversed_too)
    return AgainstDirect(
        difference, difference.value / direct, low, high, difference.p_value(), explained, causes
    )


def _causes(tones_higher: bool, voltage: float | None, reversed_too: bool) -> tuple[Cause, ...]:
    wet = voltage is None or abs(voltage) > DRY_VOLTAGE
    current: tuple[Cause, ...] = ("film broken", "spots grown") if tones_higher else ("warmed",)
    film: tuple[Cause, ...] = () if tones_higher else ("film bridged",)
    emf: tuple[Cause, ...] = () if reversed_too else ("thermal EMF",)
    return (*film, *(current if wet else ()), *emf, "bulk", "moved")
