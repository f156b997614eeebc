"""Wires that others bridge: what is read between two contacts where more than one way leads from one to the other."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from ohmsworth.cables.build import Build
from ohmsworth.cables.expected import Expected, expected_resistance
from ohmsworth.cables.nets import expected_nets, joined


def expected_readings(
    build: Build, temperature: float, temperature_tolerance: float = 0.0
) -> dict[str, tuple[Expected, bool]]:
    """What a meter should read along each wire, by its name, and whether other ways lead beside it.

    Screens that are linked to the shell at both ends, or two wires on the same contacts, are read together. The resistance
    between two points of a net never falls where one of its parts rises (Rayleigh), so that the bounds of the parts give those
    of the reading.

    Parameters
    ----------
    temperature, temperature_tolerance
        Kelvin of the cable, and by how much it may be off either way.

    Notes
    -----
    Ohm's law and Kirchhoff's; a link has no resistance. Source: "IACS".
    """
    alone = {
        wire.name: expected_resistance(build, wire, temperature, temperature_tolerance)
        for wire in build.wires
    }
    found: dict[str, tuple[Expected, bool]] = {}
    net_of = {place: number for number, net in enumerate(expected_nets(build)) for place in net}
    node_of = {place: k for k, node in enumerate(joined(build.places, build.links)) for place in node}
    members: dict[int, list[tuple[str, int, int]]] = {}
    for wire in build.wires:
        edge = (wire.name, node_of[wire.start], node_of[wire.stop])
        members.setdefault(net_of[wire.start], []).append(edge)
    for edges in members.values():
        nodes = sorted({node for _, one, other in edges for node in (one, other)})
        if len(edges) == len(nodes) - 1:  # a tree: one way only
            found |= {name: (alone[name], False) for name, _, _ in edges}
        else:
            found |= _together(edges, nodes, alone)
    return {wire.name: found[wire.name] for wire in build.wires}


def hidden_wires(
    build: Build,
    readings: Mapping[str, tuple[Expected, bool]],
    temperature: float,
    temperature_tolerance: float = 0.0,
) -> tuple[str, ...]:
    """Wires that may be broken and yet read within their bounds: what leads beside them reads little more than both.

    A wire and all that leads beside it lie side by side, so that what is left without it has 1/(1/together − 1/alone).

    Parameters
    ----------
    readings
        As `expected_readings` gives them.
    temperature, temperature_tolerance
        Kelvin of the cable, and by how much it may be off either way.
    """
    hidden = []
    for wire in build.wires:
        reads, together = readings[wire.name]
        if together:
            alone = expected_resistance(build, wire, temperature, temperature_tolerance).low
            if 1 / reads.low - 1 / alone >= 1 / reads.high:
                hidden.append(wire.name)
    return tuple(hidden)


def _together(
    edges: list[tuple[str, int, int]], nodes: list[int], alone: Mapping[str, Expected]
) -> dict[str, tuple[Expected, bool]]:
    """Of a net with more ways than one."""
    usual, low, high = (
        _between(edges, nodes, {name: getattr(alone[name], field) for name, _, _ in edges})
        for field in ("usual", "low", "high")
    )
    found = {}
    for name, _, _ in edges:
        one = alone[name]
        share = usual[name] / one.usual
        together = replace(
            one, usual=usual[name], low=low[name], high=high[name], wire=share * one.wire,
            contacts=share * one.contacts, uncertainty=share * one.uncertainty,
        )  # fmt: skip
        found[name] = (together, share < 1 - 1e-9)
    return found


def _between(
    edges: list[tuple[str, int, int]], nodes: list[int], ohm: Mapping[str, float]
) -> dict[str, float]:
    """Ohm between the ends of each edge, all edges connected."""
    place = {node: k for k, node in enumerate(nodes)}
    admittance = np.zeros((len(nodes), len(nodes)))
    for name, one, other in edges:
        a, b, conductance = place[one], place[other], 1 / ohm[name]
        admittance[[a, b], [a, b]] += conductance
        admittance[[a, b], [b, a]] -= conductance
    inverse = np.linalg.pinv(admittance, hermitian=True)
    return {
        name: float(inverse[place[one], place[one]] + inverse[place[other], place[other]]
                    - 2 * inverse[place[one], place[other]])
        for name, one, other in edges
    }  # fmt: skip
