"""What a build alone says of every measurement: worked out once, however often something is measured."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from ohmsworth.cables.build import Place
from ohmsworth.cables.expected import Expected
from ohmsworth.cables.links import link_limits
from ohmsworth.cables.meshed import expected_readings
from ohmsworth.cables.nets import expected_nets
from ohmsworth.cables.request import CableRequest


@dataclass(frozen=True, slots=True)
class Ahead:
    """What does not change with a measurement.

    Parameters
    ----------
    readings
        By the name of a wire: what it should read, and whether other ways lead beside it.
    nets
        What is to be joined with what.
    links
        Of each link, the ohm that a sound one shows at most.
    """

    readings: Mapping[str, tuple[Expected, bool]]
    nets: tuple[tuple[Place, ...], ...]
    links: Mapping[tuple[Place, Place], float]


def look_ahead(request: CableRequest) -> Ahead:
    """What the build of `request` says."""
    build = request.build
    warm = request.temperature, request.temperature_tolerance
    return Ahead(expected_readings(build, *warm), expected_nets(build), link_limits(build, *warm))
