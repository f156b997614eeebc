"""What is wrong with the wiring of a cable: opens, touches, crossed and reversed wires, told as a person would."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

from ohmsworth.cables.build import Build, Place, Wire
from ohmsworth.cables.nets import expected_nets, joined

#: The name of the contact that is a connector's metal shell.
SHELL = "shell"

FaultKind = Literal["open", "touch", "crossed", "reversed pair", "moved", "screen on shell", "screen open"]


@dataclass(frozen=True, slots=True)
class WiringFault:
    """One thing that is wrong.

    Parameters
    ----------
    kind
        "open" (a wire does not reach), "screen open", "touch" (nets that must not be joined are), "screen on shell", "crossed"
        (two wires exchanged at one end), "reversed pair" (the same within a pair), "moved" (more than two wires exchanged in a
        ring, or a wire on a contact that should be empty).
    wires
        Names of the wires concerned.
    places
        Contacts concerned.
    """

    kind: FaultKind
    wires: tuple[str, ...]
    places: tuple[Place, ...]


def wiring_faults(build: Build, paths: Iterable[tuple[Place, Place]]) -> tuple[WiringFault, ...]:
    """Everything that differs between the build and the `paths` that were found between its contacts.

    Parameters
    ----------
    build
        As it should be.
    paths
        Pairs of contacts between which a path was found; what follows from others may be left out.
    """
    places = build.places
    wanted, found = expected_nets(build), joined(places, paths)
    in_wanted = {place: number for number, net in enumerate(wanted) for place in net}
    in_found = {place: number for number, net in enumerate(found) for place in net}
    broken = [wire for wire in build.wires if in_found[wire.start] != in_found[wire.stop]]
    exchanged, rest = _exchanged(broken, in_found)
    done = {other for fault in exchanged for place in fault.places for other in wanted[in_wanted[place]]}
    faults = [*exchanged, *(_open(wire) for wire in rest)]
    for net in found:
        parts: dict[int, list[Place]] = {}
        for place in net:
            parts.setdefault(in_wanted[place], []).append(place)
        if len(parts) > 1 and not set(net) <= done:
            faults.append(_touch(build, tuple(tuple(part) for part in parts.values())))
    return tuple(faults)


def _open(wire: Wire) -> WiringFault:
    kind: FaultKind = "screen open" if wire.kind.role == "screen" else "open"
    return WiringFault(kind, (wire.name,), (wire.start, wire.stop))


def _exchanged(broken: Sequence[Wire], in_found: dict[Place, int]) -> tuple[list[WiringFault], list[Wire]]:
    """Wires whose far ends sit on each other's contacts, ring by ring; and those that are plainly open."""
    starts = {in_found[wire.start]: wire for wire in broken}
    stops = {in_found[wire.stop]: wire for wire in broken}
    if len(starts) < len(broken) or len(stops) < len(broken):
        return [], list(broken)  # a touch between them: told as that
    faults, left, seen = [], [], set[str]()
    for wire in broken:
        if wire.name in seen:
            continue
        ring, at = [wire], wire
        while (follower := starts.get(in_found[at.stop])) is not None and follower is not wire:
            if follower in ring:
                break
            ring.append(follower)
            at = follower
        closed = starts.get(in_found[ring[-1].stop]) is wire and len(ring) > 1
        if not closed:
            left.append(wire)
            continue
        seen |= {one.name for one in ring}
        faults.append(_ring(sorted(ring, key=broken.index)))
    return faults, left


def _ring(ring: Sequence[Wire]) -> WiringFault:
    pairs = {wire.pair for wire in ring}
    kind: FaultKind = "crossed" if len(ring) == 2 else "moved"
    if len(ring) == 2 and len(pairs) == 1 and "" not in pairs:
        kind = "reversed pair"
    places = tuple(place for wire in ring for place in (wire.start, wire.stop))
    return WiringFault(kind, tuple(wire.name for wire in ring), places)


def _touch(build: Build, parts: Sequence[tuple[Place, ...]]) -> WiringFault:
    """Nets that are joined and must not be."""
    places = tuple(part[0] for part in parts)
    all_places = {place for part in parts for place in part}
    wires = tuple(wire for wire in build.wires if {wire.start, wire.stop} & all_places)
    shell = any(place.contact == SHELL for part in parts for place in part)
    screen = any(wire.kind.role == "screen" for wire in wires)
    kind: FaultKind = "screen on shell" if shell and screen and len(parts) == 2 else "touch"
    return WiringFault(kind, tuple(wire.name for wire in wires), places)
