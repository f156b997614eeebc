"""What loops and wires of a cable should read beside their resistance from end to end, from the description alone."""

from __future__ import annotations

from collections import defaultdict

from ohmsworth.cables.build import Wire
from ohmsworth.cables.expected import expected_capacitance, expected_loop
from ohmsworth.cables.request import CableRequest
from ohmsworth.report.cable_answer import CableAheadAnswer


def expected_loops(request: CableRequest) -> tuple[CableAheadAnswer, ...]:
    """The loop of the two cores of each pair, joined at the far end."""
    pairs: dict[str, list[Wire]] = defaultdict(list)
    for wire in request.build.wires:
        if wire.pair and wire.kind.role == "core":
            pairs[wire.pair].append(wire)
    told = []
    for wires in pairs.values():
        if len(wires) == 2:
            both = wires[0], wires[1]
            reads = expected_loop(request.build, both, request.temperature, request.temperature_tolerance)
            told.append(CableAheadAnswer((both[0].name, both[1].name), reads.usual, reads.low, reads.high))
    return tuple(told)


def expected_capacitances(request: CableRequest) -> tuple[CableAheadAnswer, ...]:
    """Of each wire whose kind says what a metre has."""
    told = []
    for wire in request.build.wires:
        has = expected_capacitance(request.build, wire)
        if has is not None:
            told.append(CableAheadAnswer((wire.name,), has.usual, has.low, has.high))
    return tuple(told)
