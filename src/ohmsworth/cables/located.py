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
#: The one of them that needs no wire table.
OF_A_SOUND_PAIR = _LIKE
#: Where each is published.
SOURCES: Mapping[str, str] = {
    _BRIDGE: "Hawkins-loop",
    _RESISTOR: "textbook-loop",
    _BOTH: "open-by-capacitance",
    _WHOLE: "open-by-capacitance",
}


def locate(request: CableRequest, wish: Locate) -> Distance:
    """How far from the near end the fault of `wish` lies.

    What the contacts usually have is taken off where they do not cancel; what they may have stands in the uncertainty.

    Raises
    ------
    ArgumentFault
        For readings that cannot be.
    """
    build = request.build
    length = Quantity(build.length, build.length_tolerance / math.sqrt(3))
    read = dict(wish.readings)
    if wish.method in OF_A_LOOP:
        read = _of_wire_alone(request, wish, read)
    if wish.method == _LOOP:
        return distance.by_loop_from_both_ends(**read, per_metre=per_metre(request, wish), length=length)
    if wish.method == _LIKE:
        return distance.by_loop_from_both_ends_alone(**read, length=length)
    if wish.method in (_BRIDGE, _RESISTOR):
        metre = per_metre(request, wish)
        by = distance.by_bridge_and_loop if wish.method == _BRIDGE else distance.by_bridge_and_resistor
        return distance.past(by(**read, per_metre=metre, length=length), _contact(request, wish.at, 1), metre)
    if wish.method == _BOTH:
        return distance.by_capacitance_from_both_ends(**read, length=length)
    return distance.by_capacitance_of_a_like_wire(**read, length=length)


def per_metre(request: CableRequest, wish: Locate) -> Quantity:
    """Ohm a metre of the faulty wire at the cable's temperature; tolerances are rectangles (GUM 4.3.7).

    Of a loop it is the mean of its two wires: those of one kind are off together, those of two each by itself.
    """
    kind_of = {wire.name: wire.kind for wire in request.build.wires}
    kinds = [kind_of[name] for name in (wish.wires[:2] if wish.method in OF_A_LOOP else wish.wires[:1])]
    factor = temperature_factor(request.temperature)
    value = factor * sum(kind.per_metre for kind in kinds) / len(kinds)
    off = {kind.name: 0.0 for kind in kinds}
    for kind in kinds:
        off[kind.name] += factor * kind.per_metre * kind.tolerance / len(kinds)
    warm = value * COPPER_ALPHA20 / factor * request.temperature_tolerance
    return Quantity(value, math.hypot(*off.values(), warm) / math.sqrt(3))


def _of_wire_alone(request: CableRequest, wish: Locate, read: Mapping[str, Quantity]) -> dict[str, Quantity]:
    """Loops without the leads and without what two contacts of an end usually have; of a whole loop those of both ends."""
    ends = dict.fromkeys(
        place.end
        for wire in request.build.wires
        if wire.name in wish.wires[:2]
        for place in (wire.start, wire.stop)
    )
    near = _contact(request, wish.at, 2)
    far = next((_contact(request, end, 2) for end in ends if end != wish.at), near)
    both = Quantity(near.value + far.value, math.hypot(near.uncertainty, far.uncertainty))
    if request.meter is not None:
        leads = request.meter.leads
        read = {name: _without_leads(one, leads, name == "whole") for name, one in read.items()}
    contacts = {"near": near, "far": far, "whole": both}
    return {
        name: Quantity(
            one.value - contacts[name].value, math.hypot(one.uncertainty, contacts[name].uncertainty)
        )
        for name, one in read.items()
    }


def _contact(request: CableRequest, end: str, number: int) -> Quantity:
    """So many contacts of an end in a row: what they usually have, and a rectangle up to their limit (GUM 4.3.7)."""
    one = request.build.end(end)
    spread = (one.contact_limit - one.contact_resistance) / math.sqrt(3)
    return Quantity(number * one.contact_resistance, math.sqrt(number) * spread)


def _without_leads(one: Quantity, leads: Quantity, counts: bool) -> Quantity:
    """A two-wire reading without the leads; the same leads at both ends cancel, so that their uncertainty `counts` in one."""
    spread = math.hypot(one.uncertainty, leads.uncertainty) if counts else one.uncertainty
    return replace(one, value=one.value - leads.value, uncertainty=spread)
