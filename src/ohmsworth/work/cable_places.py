"""Where along a cable its faults lie, and where to open it first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from ohmsworth.cables.distance import Distance
from ohmsworth.cables.located import SOURCES, locate
from ohmsworth.cables.request import CableRequest, Locate
from ohmsworth.errors import ArgumentFault, Fault, InputRefused
from ohmsworth.report.cable_answer import PlaceAnswer
from ohmsworth.report.cable_words import place_words


def located_loops(request: CableRequest, loops: Sequence[Locate]) -> tuple[PlaceAnswer, ...]:
    """Where wires touch whose loops stand among the rows; those whose readings cannot be are left out."""
    found = []
    for wish in loops:
        try:
            found.append(_place(request, wish, locate(request, wish)))
        except ArgumentFault:  # such as wires of less than nothing: their bounds tell of them
            continue
    return tuple(found)


def located(request: CableRequest) -> tuple[PlaceAnswer, ...]:
    """Every fault whose distance was measured, as the description tells.

    Raises
    ------
    InputRefused
        With those whose readings cannot be used together.
    """
    found, faults = [], []
    for number, wish in enumerate(request.locate, start=1):
        try:
            found.append(_place(request, wish, locate(request, wish)))
        except ArgumentFault as error:
            where = f"cable.toml, [[locate]] number {number}, key '{error.name}'"
            faults.append(
                Fault(where, "a reading that cannot be", str(error), "Check the readings and their units.")
            )
    if faults:
        raise InputRefused(tuple(faults))
    return tuple(found)


def sources_of_places(request: CableRequest) -> tuple[str, ...]:
    """Where the methods that were used are published."""
    return tuple(SOURCES[wish.method] for wish in request.locate if wish.method in SOURCES)


def _place(request: CableRequest, wish: Locate, distance: Distance) -> PlaceAnswer:
    low, high = distance.interval()
    ends = [end.name for end in request.build.ends]
    far = next((name for name in ends if name != wish.at), wish.at)
    joints = request.joints
    if wish.at != ends[0]:  # joints are told from the first end
        joints = tuple(sorted(request.build.length - metres for metres in joints))
    place = PlaceAnswer(
        method=wish.method,
        wires=wish.wires,
        near=wish.at,
        metres=distance.metres,
        standard_uncertainty=distance.uncertainty,
        low=low,
        high=high,
        beyond=distance.beyond,
        open_first=wish.at if distance.metres <= distance.length / 2 else far,
        joints=tuple(metres for metres in joints if low <= metres <= high),
        parts=distance.parts,
        words="",
    )
    return replace(place, words=place_words(place, request.build.length))
