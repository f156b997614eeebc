"""What parts of a circuit join: nodes that hang in the air, sources that are shorted, contacts side by side."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np

from ohmsworth.consequence.circuit.elements import (
    GROUND,
    Array,
    Block,
    Capacitor,
    Circuit,
    Contact,
    CurrentSource,
    Element,
    Line,
    Resistor,
    Transformer,
    VoltageSource,
)
from ohmsworth.errors import ArgumentFault

_LIMITED = "something with impedance in every loop of sources and ideal contacts"


class _Groups:
    """Nodes in groups that grow together."""

    def __init__(self) -> None:
        self._leader: dict[str, str] = {}

    def of(self, node: str) -> str:
        """The node that stands for the group of `node`."""
        while (leader := self._leader.get(node, node)) != node:
            node = leader
        return node

    def join(self, a: str, b: str) -> bool:
        """Make one group of both; False where they were one already."""
        first, second = self.of(a), self.of(b)
        self._leader[first] = second
        return first != second


def check_held(circuit: Circuit, frequency: Array) -> None:
    """Refuse nodes whose potential nothing settles.

    Their equations have no solution, but rounding may give them one.
    """
    groups, still = _Groups(), bool(np.any(frequency == 0))
    for element in circuit.elements:
        for a, b in _held(element, still):
            groups.join(a, b)
    loose = [node for node in circuit.nodes() if groups.of(node) != groups.of(GROUND)]
    if loose:
        found = f"nodes that nothing joins to {GROUND!r}{' at 0 Hz' if still else ''}: {', '.join(loose)}"
        wanted = (
            f"a way from every node to {GROUND!r}, if only through a large resistor: the windings of a transformer and the ports "
            "of a block are not joined to each other, and at 0 Hz no capacitor joins anything"
        )
        raise ArgumentFault("circuit", found, wanted)


def _held(element: Element, still: bool) -> Iterable[tuple[str, str]]:
    """Pairs of nodes between which the potential is settled by `element`, at 0 Hz too where `still`."""
    if isinstance(element, CurrentSource):
        return ()
    if isinstance(element, Transformer):
        return (element.first, element.second)
    if isinstance(element, Block):
        return (element.near, element.far)
    if isinstance(element, Line):
        return _line_pairs(element, still)
    if isinstance(element, Capacitor) and (still or element.farad == 0):
        return ()
    return ((element.a, element.b),)


def _line_pairs(line: Line, still: bool) -> Iterator[tuple[str, str]]:
    yield from zip(line.near, line.far, strict=True)
    if still or line.length == 0:
        return
    for i, j in np.argwhere(np.triu(line.cable.capacitance) > 0):
        yield line.near[i], line.near[j] if i != j else GROUND


def closing_contacts(circuit: Circuit) -> tuple[str, ...]:
    """Contacts that close a loop of nothing but ideal contacts, as the second of two side by side does.

    Raises
    ------
    ArgumentFault
        For a loop of ideal contacts with a source in it, which nothing limits the current of.
    """
    shorts, with_sources = _Groups(), _Groups()
    for source in circuit.elements:
        if isinstance(source, VoltageSource) and not with_sources.join(source.a, source.b):
            raise ArgumentFault("circuit", f"source {source.name!r} across other sources", _LIMITED)
    found: list[str] = []
    for part in sorted(_shorts(circuit), key=lambda part: isinstance(part, Contact)):
        open_so_far, limited = shorts.join(part.a, part.b), with_sources.join(part.a, part.b)
        name = (
            f"contact {part.name!r}"
            if isinstance(part, Contact)
            else f"a resistor of 0 from {part.a} to {part.b}"
        )
        if open_so_far and not limited:
            raise ArgumentFault(
                "circuit", f"{name}, which short-circuits a source while it is ideal", _LIMITED
            )
        if not open_so_far and isinstance(part, Contact):
            found.append(part.name)
    return tuple(found)


def _shorts(circuit: Circuit) -> Iterator[Resistor | Contact]:
    for part in circuit.elements:
        if isinstance(part, Resistor | Contact) and part.ohm == 0:
            yield part
