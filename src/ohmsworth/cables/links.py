"""What a link at one end may read at most: contacts that are joined there read next to nothing between them."""

from __future__ import annotations

from ohmsworth.cables.build import Build, Place
from ohmsworth.cables.expected import expected_resistance
from ohmsworth.cables.meshed import way_around

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
        others = [one for k, one in enumerate(build.links) if k != number]
        around = way_around(build.places, build.wires, others, link, low)
        limits[link] = min(most, (sound + around) / 2) if around > sound else most
    return limits
