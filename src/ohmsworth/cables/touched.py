"""Two wires that touch, and where: from what was read between them at either end, and along each of them."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Mapping, Sequence

from ohmsworth.cables.build import Build, Place, Wire
from ohmsworth.cables.distance import Quantity
from ohmsworth.cables.located import OF_A_SOUND_PAIR
from ohmsworth.cables.request import CableMeter, Locate

TwoWires = tuple[Wire, Wire]


def two_that_touch(
    build: Build,
    nets: Sequence[tuple[Place, ...]],
    pairs: Sequence[tuple[int, int]],
    whole: Mapping[str, float],
) -> tuple[TwoWires, ...]:
    """Wires of which the loop from both ends tells where they touch.

    Parameters
    ----------
    nets, pairs
        What belongs together, and the numbers of those that touch.
    whole
        Ohm of each wire that reaches, by its name.

    Notes
    -----
    Each of both is alone in its net, reaches from end to end, runs between the same two ends, and touches nothing else: otherwise
    other ways lead beside the loop.
    """
    times = Counter(number for pair in pairs for number in pair)
    wires: dict[int, list[Wire]] = {}
    net_of = {place: number for number, net in enumerate(nets) for place in net}
    for wire in build.wires:
        wires.setdefault(net_of[wire.start], []).append(wire)
    found = []
    for pair in pairs:
        both = [wires.get(number, []) for number in pair]
        if any(len(one) != 1 for one in both) or any(times[number] > 1 for number in pair):
            continue
        one, other = both[0][0], both[1][0]
        if (
            one.name in whole
            and other.name in whole
            and {one.start.end, one.stop.end} == {other.start.end, other.stop.end}
        ):
            found.append((one, other))
    return tuple(found)


def at_end(wire: Wire, end: str) -> Place:
    """The contact of a wire at that end."""
    return wire.start if wire.start.end == end else wire.stop


def loop_places(wires: TwoWires) -> tuple[tuple[Place, Place], tuple[Place, Place]]:
    """Between which contacts the loop is measured at the near and at the far end."""
    one = wires[0]
    near, far = (tuple(at_end(wire, end) for wire in wires) for end in (one.start.end, one.stop.end))
    return (near[0], near[1]), (far[0], far[1])


def loop_of(
    wires: TwoWires, near: float, far: float, whole: Mapping[str, float], meter: CableMeter
) -> Locate:
    """What was read of two wires that touch: both loops as the meter showed them, and the wires' own resistance.

    Parameters
    ----------
    near, far
        Ohm that the meter showed between them at the near and at the far end.
    whole
        Ohm of each wire by its name, leads taken off.
    """
    leads = meter.leads.value
    own = [whole[wire.name] + leads for wire in wires]
    spread = math.hypot(*(meter.without_leads(ohm) for ohm in own))
    readings = {
        "near": Quantity(near, meter.without_leads(near)),
        "far": Quantity(far, meter.without_leads(far)),
        "whole": Quantity(sum(own) - leads, math.hypot(spread, meter.leads.uncertainty)),
    }
    return Locate(OF_A_SOUND_PAIR, tuple(wire.name for wire in wires), wires[0].start.end, readings)
