"""Contacts that are joined with each other: how they should be by a build, and how they are found."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Sequence
from typing import TypeVar

from ohmsworth.cables.build import Build, Place

Thing = TypeVar("Thing", bound=Hashable)


def joined(things: Sequence[Thing], pairs: Iterable[tuple[Thing, Thing]]) -> tuple[tuple[Thing, ...], ...]:
    """The groups of `things` that `pairs` join, directly or by way of others; in the order of `things`.

    Examples
    --------
    >>> joined("abcd", [("a", "c"), ("c", "d")])
    (('a', 'c', 'd'), ('b',))
    """
    above = {thing: thing for thing in things}

    def top(thing: Thing) -> Thing:
        while above[thing] != thing:
            above[thing] = above[above[thing]]
            thing = above[thing]
        return thing

    for one, other in pairs:
        above[top(other)] = top(one)
    groups: dict[Thing, list[Thing]] = {}
    for thing in things:
        groups.setdefault(top(thing), []).append(thing)
    return tuple(tuple(group) for group in groups.values())


def expected_nets(build: Build) -> tuple[tuple[Place, ...], ...]:
    """What is to be joined with what, contacts that stay alone among them."""
    wired = [(wire.start, wire.stop) for wire in build.wires]
    return joined(build.places, [*wired, *build.links])
