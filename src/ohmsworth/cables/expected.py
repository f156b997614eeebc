"""What a wire of a cable should read from end to end, and between which bounds it must lie, from the build alone."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ohmsworth.cables.build import Build, Wire
from ohmsworth.materials.conductors import COPPER_ALPHA20, temperature_factor


@dataclass(frozen=True, slots=True)
class Expected:
    """Ohm of a path.

    Parameters
    ----------
    usual
        Wire as it usually is, contacts as they usually are.
    low, high
        Bounds that no good cable leaves: every tolerance at its end at once.
    wire, contacts
        How `usual` divides.
    uncertainty
        Standard uncertainty of `usual`, every tolerance taken as a rectangle (GUM 4.3.7).
    """

    usual: float
    low: float
    high: float
    wire: float
    contacts: float
    uncertainty: float


def expected_resistance(
    build: Build, wire: Wire, temperature: float, temperature_tolerance: float = 0.0
) -> Expected:
    """What `wire` should read between its two contacts, mated.

    R = r L (1 + α20 (T − 20 °C)) + both contacts. The bounds take length, wire, temperature and contacts at their ends: the low
    one without any contact resistance, the high one with both contacts at their limits.

    Parameters
    ----------
    temperature, temperature_tolerance
        Kelvin of the cable, and by how much it may be off either way.

    Notes
    -----
    Source: "IACS".
    """
    ends = [build.end(place.end) for place in (wire.start, wire.stop)]
    copper = wire.kind.per_metre * build.length * temperature_factor(temperature)
    usual = sum(end.contact_resistance for end in ends)
    most = sum(end.contact_limit for end in ends)
    slope = COPPER_ALPHA20 / temperature_factor(temperature)
    shares = (wire.kind.tolerance, build.length_tolerance / build.length, slope * temperature_tolerance)
    low, high = (copper * math.prod(1 + way * share for share in shares) for way in (-1, 1))
    halves = [*(copper * share for share in shares), (most - usual)]
    uncertainty = math.sqrt(sum(half**2 for half in halves) / 3)
    return Expected(copper + usual, low, high + most, copper, usual, uncertainty)


@dataclass(frozen=True, slots=True)
class ExpectedCapacitance:
    """Farad of a wire against everything else of its cable joined: as usual, and between which bounds a good cable lies."""

    usual: float
    low: float
    high: float


def expected_capacitance(build: Build, wire: Wire) -> ExpectedCapacitance | None:
    """What `wire` should have against the rest of the cable; None where nobody said what a metre of it has.

    C = c L, with length and wire at the ends of their tolerances. What connectors add is not in it.
    """
    each = wire.kind.capacitance
    if each is None:
        return None
    shares = (wire.kind.capacitance_tolerance, build.length_tolerance / build.length)
    low, high = (each * build.length * math.prod(1 + way * share for share in shares) for way in (-1, 1))
    return ExpectedCapacitance(each * build.length, low, high)


def expected_loop(
    build: Build, wires: tuple[Wire, Wire], temperature: float, temperature_tolerance: float = 0.0
) -> Expected:
    """Both wires in a row, joined at the far end; length and temperature are the same for both and add up."""
    one, other = (expected_resistance(build, wire, temperature, temperature_tolerance) for wire in wires)
    return Expected(
        one.usual + other.usual,
        one.low + other.low,
        one.high + other.high,
        one.wire + other.wire,
        one.contacts + other.contacts,
        one.uncertainty + other.uncertainty,
    )
