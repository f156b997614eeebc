"""What a build alone says of every measurement: worked out once, however often something is measured."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from ohmsworth.cables.build import Place
from ohmsworth.cables.expected import Expected
from ohmsworth.cables.links import link_limits
from ohmsworth.cables.meshed import expected_readings, hidden_wires
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
    hidden
        Wires that may be broken and yet read as they should, for others lead beside them.
    links
        Of each link, the ohm that a sound one shows at most.
    """

    readings: Mapping[str, tuple[Expected, bool]]
    nets: tuple[tuple[Place, ...], ...]
    hidden: tuple[str, ...]
    links: Mapping[tuple[Place, Place], float]


def look_ahead(request: CableRequest) -> Ahead:
    """What the build of `request` says."""
    build = request.build
    warm = request.temperature, request.temperature_tolerance
    readings = expected_readings(build, *warm)
    hidden = hidden_wires(build, readings, *warm)
    return Ahead(readings, expected_nets(build), hidden, link_limits(build, *warm))
