"""What a link at one end may read at most: contacts that are joined there read next to nothing between them."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import numpy as np

from ohmsworth.cables.build import Build, Place, Wire
from ohmsworth.cables.expected import expected_resistance
from ohmsworth.cables.nets import expected_nets, joined

#: A link of a few centimetres of wire or braid has less than this, ohm (source "practice").
SOUND_LINK = 0.02
#: From here on, beside its contacts, a link is no link any more, ohm (source "practice").
MOST_OF_LINK = 0.5

Link = tuple[Place, Place]


def link_limits(build: Build, temperature: float, temperature_tolerance: float = 0.0) -> dict[Link, float]:
    """Ohm that a meter may show across each link of `build` at most.

    It is read through two contacts. Where another way leads round it, by wires to the other end and back, a missing link reads
    as much as that way: the limit then lies halfway between it and a sound link, where there is room between both.

    Parameters
    ----------
    temperature, temperature_tolerance
        Kelvin of the cable, and by how much it may be off either way.
    """
    low = {
        wire.name: expected_resistance(build, wire, temperature, temperature_tolerance).low
        for wire in build.wires
    }
    net_of = {place: k for k, net in enumerate(expected_nets(build)) for place in net} if build.links else {}
    wires: dict[int, list[Wire]] = {}
    for wire in build.wires if build.links else ():
        wires.setdefault(net_of[wire.start], []).append(wire)
    node_of = {place: k for k, node in enumerate(joined(build.places, build.links)) for place in node}
    limits = {}
    for number, link in enumerate(build.links):
        contacts = 2 * build.end(link[0].end).contact_limit
        most, sound = contacts + MOST_OF_LINK, contacts + SOUND_LINK
        beyond = _beyond(build.links, number)
        around = 0.0
        if link[0] not in beyond:
            around = _around(wires.get(net_of[link[0]], []), node_of, beyond, link, low)
        limits[link] = min(most, (sound + around) / 2) if around > sound else most
    return limits


def _beyond(links: Sequence[Link], number: int) -> frozenset[Place]:
    """What would still be linked with the second contact of a link if it were missing."""
    beside: dict[Place, list[Place]] = {}
    for k, (one, other) in enumerate(links):
        if k != number:
            beside.setdefault(one, []).append(other)
            beside.setdefault(other, []).append(one)
    seen, ahead = {links[number][1]}, [links[number][1]]
    while ahead:
        for place in beside.get(ahead.pop(), ()):
            if place not in seen:
                seen.add(place)
                ahead.append(place)
    return frozenset(seen)


def _around(
    wires: Sequence[Wire],
    node_of: Mapping[Place, int],
    beyond: frozenset[Place],
    link: Link,
    ohm: Mapping[str, float],
) -> float:
    """Ohm by `wires` from one contact of a link to the other if it were missing; infinite where no way leads."""
    apart = -1  # the node of what is beyond it
    conductance: dict[tuple[int, int], float] = {}
    for wire in wires:
        one, other = sorted(apart if place in beyond else node_of[place] for place in (wire.start, wire.stop))
        conductance[one, other] = conductance.get((one, other), 0.0) + 1 / ohm[wire.name]
    start = node_of[link[0]]
    nodes = next(
        part
        for part in joined(
            sorted({start, apart, *(node for pair in conductance for node in pair)}), conductance
        )
        if apart in part
    )
    if start not in nodes:
        return math.inf
    place = {node: k for k, node in enumerate(nodes)}
    admittance = np.zeros((len(nodes), len(nodes)))
    for (one, other), siemens in conductance.items():
        if one in place and one != other:
            a, b = place[one], place[other]
            admittance[[a, b], [a, b]] += siemens
            admittance[[a, b], [b, a]] -= siemens
    kept = [k for k in range(len(nodes)) if k != place[apart]]
    driven = (np.array(kept) == place[start]).astype(float)
    return float(np.linalg.solve(admittance[np.ix_(kept, kept)], driven) @ driven)
