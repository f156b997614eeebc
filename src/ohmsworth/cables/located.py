"""Which distance the readings of a fault give, by the method that they were made with."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from ohmsworth.cables import distance
from ohmsworth.cables.distance import Distance, Quantity
from ohmsworth.cables.request import CableRequest, Locate
from ohmsworth.materials.conductors import COPPER_ALPHA20, temperature_factor

_LOOP, _LIKE = "loop from both ends", "loop from both ends and a sound pair"
_BRIDGE, _RESISTOR = "bridge loop", "bridge loop with a resistor"
_BOTH, _WHOLE = "capacitance from both ends", "capacitance and a whole wire"
#: Method -> what is read for it, each with its dimension.
METHODS: Mapping[str, Mapping[str, str]] = {
    _LOOP: {"near": "resistance", "far": "resistance"},
    _LIKE: {"near": "resistance", "far": "resistance", "whole": "resistance"},
    _BRIDGE: {"ratio": "plain ratio", "loop": "resistance"},
    _RESISTOR: {"arms": "plain ratio", "to_loop": "resistance", "to_fault": "resistance"},
    _BOTH: {"near": "capacitance", "far": "capacitance"},
    _WHOLE: {"broken": "capacitance", "whole": "capacitance"},
}
#: Methods that lean on what a metre of the wire has.
BY_WIRE = (_LOOP, _BRIDGE, _RESISTOR)
#: Methods that are about two wires which touch, by their loop.
OF_A_LOOP = (_LOOP, _LIKE)
#: Where each is published.
SOURCES: Mapping[str, str] = {
    _BRIDGE: "Hawkins-loop",
    _RESISTOR: "textbook-loop",
    _BOTH: "open-by-capacitance",
    _WHOLE: "open-by-capacitance",
}


def locate(request: CableRequest, wish: Locate) -> Distance:
    """How far from the near end the fault of `wish` lies.

    Raises
    ------
    ArgumentFault
        For readings that cannot be.
    """
    build = request.build
    length = Quantity(build.length, build.length_tolerance / math.sqrt(3))
    read = dict(wish.readings)
    if request.meter is not None and wish.method in OF_A_LOOP:
        read = {name: _without_leads(one, request.meter.leads, name == "whole") for name, one in read.items()}
    if wish.method == _LOOP:
        return distance.by_loop_from_both_ends(**read, per_metre=per_metre(request, wish), length=length)
    if wish.method == _LIKE:
        return distance.by_loop_from_both_ends_alone(**read, length=length)
    if wish.method == _BRIDGE:
        return distance.by_bridge_and_loop(**read, per_metre=per_metre(request, wish), length=length)
    if wish.method == _RESISTOR:
        return distance.by_bridge_and_resistor(**read, per_metre=per_metre(request, wish), length=length)
    if wish.method == _BOTH:
        return distance.by_capacitance_from_both_ends(**read, length=length)
    return distance.by_capacitance_of_a_like_wire(**read, length=length)


def per_metre(request: CableRequest, wish: Locate) -> Quantity:
    """Ohm a metre of the faulty wire at the cable's temperature; tolerances are rectangles (GUM 4.3.7)."""
    kind = next(wire.kind for wire in request.build.wires if wire.name == wish.wires[0])
    factor = temperature_factor(request.temperature)
    relative = math.hypot(kind.tolerance, COPPER_ALPHA20 / factor * request.temperature_tolerance)
    value = kind.per_metre * factor
    return Quantity(value, value * relative / math.sqrt(3))


def _without_leads(one: Quantity, leads: Quantity, counts: bool) -> Quantity:
    """A two-wire reading without the leads; the same leads at both ends cancel, so that their uncertainty `counts` in one."""
    spread = math.hypot(one.uncertainty, leads.uncertainty) if counts else one.uncertainty
    return replace(one, value=one.value - leads.value, uncertainty=spread)
