"""What a link at one end may read at most: contacts that are joined there read next to nothing between them."""

from __future__ import annotations

import math
from collections.abc import Mapping

from ohmsworth.cables.build import Build, Place
from ohmsworth.cables.expected import expected_resistance
from ohmsworth.cables.meshed import between_edges
from ohmsworth.cables.nets import joined

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
    limits = {}
    for number, link in enumerate(build.links):
        contacts = 2 * build.end(link[0].end).contact_limit
        most, sound = contacts + MOST_OF_LINK, contacts + SOUND_LINK
        around = _around(build, number, low)
        limits[link] = min(most, (sound + around) / 2) if around > sound else most
    return limits


def _around(build: Build, number: int, low: Mapping[str, float]) -> float:
    """Ohm of the way from one contact of a link to the other if it were missing; infinite where there is none."""
    others = [link for k, link in enumerate(build.links) if k != number]
    node_of = {place: k for k, node in enumerate(joined(build.places, others)) for place in node}
    start, stop = (node_of[place] for place in build.links[number])
    if start == stop:
        return math.inf  # stated twice: nothing would show
    edges = [(wire.name, node_of[wire.start], node_of[wire.stop]) for wire in build.wires]
    parts = joined(sorted(set(node_of.values())), [(one, other) for _, one, other in edges])
    part = next(part for part in parts if start in part)
    if stop not in part:
        return math.inf
    inside = [edge for edge in edges if edge[1] in part]
    # A way of next to no conductance beside them, so that what lies between its ends is told.
    asked = ("", start, stop)
    return between_edges([*inside, asked], list(part), {**low, "": 1e9})[""]
