"""What a cable needs beside its pieces: connectors, further parts, and how often each step of the work is done."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from ohmsworth.cables.fewest import separating
from ohmsworth.cables.nets import expected_nets
from ohmsworth.cables.request import CableRequest

#: Steps whose minutes a shop may state, in the order of the work.
TERMINATION, JOINT, CABLE, MEASUREMENT = "termination", "joint", "cable", "measurement"
STEPS = (TERMINATION, JOINT, CABLE, MEASUREMENT)


@dataclass(frozen=True, slots=True)
class Needs:
    """What all copies need together.

    Parameters
    ----------
    parts
        Number of each part by its name.
    steps
        How often each of STEPS is done: ends of wires and links that are terminated, wires that are joined at joints, cables,
        and measurements of the test.
    unnamed
        Ends whose connector is not stated, each with its cable: none is counted for them.
    """

    parts: Mapping[str, int]
    steps: Mapping[str, int]
    unnamed: tuple[tuple[str, str], ...]


def needs_of(requests: Iterable[CableRequest]) -> Needs:
    """What these cables need, all copies of each."""
    parts: Counter[str] = Counter()
    steps: Counter[str] = Counter()
    unnamed: list[tuple[str, str]] = []
    for request in requests:
        build, copies = request.build, request.supply.quantity
        for end in build.ends:
            if end.connector:
                parts[end.connector] += copies
            else:
                unnamed.append((build.name, end.name))
        for name, number in request.supply.further:
            parts[name] += copies * number
        ends = 2 * len(build.wires) + len(build.links)
        steps[TERMINATION] += copies * ends
        steps[JOINT] += copies * len(set(request.joints)) * len(build.wires)
        steps[CABLE] += copies
        steps[MEASUREMENT] += copies * measurements(request)
    return Needs(dict(parts), {step: steps[step] for step in STEPS}, tuple(unnamed))


def measurements(request: CableRequest) -> int:
    """Measurements of a whole test: each wire and link, and the fewest that show that nothing touches."""
    build = request.build
    return len(build.wires) + len(build.links) + len(separating(len(expected_nets(build))))
