"""Where each part of a circuit stands in the equations: node potentials first, then branch currents."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import numpy.typing as npt

from ohmsworth.consequence.circuit.cable import CablesAt
from ohmsworth.consequence.circuit.chain import chain_of
from ohmsworth.consequence.circuit.elements import (
    GROUND,
    Block,
    Capacitor,
    Circuit,
    Contact,
    CurrentSource,
    Element,
    Impedance,
    Inductor,
    Line,
    Resistor,
    Transformer,
    VoltageSource,
)
from ohmsworth.consequence.circuit.eliminate import Entry, Row
from ohmsworth.errors import ArgumentFault, UnknownName

Array = npt.NDArray[np.float64]
Complex = npt.NDArray[np.complex128]

#: Resistors below this many ohm are joined by their current, those above by their conductance: no digit is lost at either end.
_BY_CURRENT = 1.0


class Equations:
    """The equations of a circuit at m frequencies: in each of its `rows` what potentials and currents are multiplied by.

    Each kind of part writes its own rows; `branch` tells where the current through a named part stands. What drives an equation
    stands at ~s in its row, for right-hand side s. Contacts named in `apart` are open: their current is what their row is
    given, and not what their volts drive.
    """

    def __init__(self, circuit: Circuit, cables: CablesAt, apart: tuple[str, ...] = ()) -> None:
        self.apart = apart
        self.node = {name: i for i, name in enumerate(n for n in circuit.nodes() if n != GROUND)}
        self.branch: dict[str, int] = {}
        self.cables, self.frequency = cables, cables.frequency
        first = len(self.node)
        self.rows: list[Row] = [{} for _ in range(first + sum(map(_currents, circuit.elements)))]
        for element in circuit.elements:
            _WRITERS[type(element)](self, element, first, self.frequency)
            first += _currents(element)

    @property
    def size(self) -> int:
        """Unknowns at each frequency."""
        return len(self.rows)

    def matrix(self, sides: int) -> Complex:
        """The equations of each frequency as a matrix with its right-hand sides, the last one first, shape (m, n, n + sides)."""
        result = np.zeros((self.size, self.size + sides, len(self.frequency)), dtype=np.complex128)
        for i, row in enumerate(self.rows):
            for j, entry in row.items():
                result[i, j] = entry
        return np.ascontiguousarray(np.moveaxis(result, 2, 0))

    def place(self, node: str) -> int | None:
        """Where the potential of `node` stands; None for the ground."""
        if node == GROUND:
            return None
        try:
            return self.node[node]
        except KeyError:
            raise UnknownName("node", node, (GROUND, *self.node)) from None

    def add(self, row: int | None, column: int | None, value: Entry) -> None:
        """Add `value`, a number or one a frequency; nothing where either is the ground."""
        if row is None or column is None or (not isinstance(value, np.ndarray) and value == 0):
            return
        entries = self.rows[row]
        entries[column] = entries[column] + value if column in entries else value

    def admit(self, a: str, b: str, admittance: Entry) -> None:
        """A part that passes `admittance` times its volts."""
        i, j = self.place(a), self.place(b)
        for row, column in ((i, i), (j, j)):
            self.add(row, column, admittance)
        for row, column in ((i, j), (j, i)):
            self.add(row, column, -admittance)

    def carry(self, a: str, b: str, current: int, impedance: Entry) -> None:
        """A part whose `current` is an unknown: Va − Vb − Z I = 0."""
        i, j = self.place(a), self.place(b)
        for node, sign in ((i, 1), (j, -1)):
            self.add(node, current, sign)
            self.add(current, node, sign)
        self.add(current, current, -impedance)


def _currents(element: Element) -> int:
    """Branch currents that an element brings along."""
    if isinstance(element, Line):
        return len(element.near)
    if isinstance(element, Capacitor | CurrentSource):
        return 0
    if isinstance(element, Resistor):
        return int(element.ohm < _BY_CURRENT)
    return 1


def _resistor(equations: Equations, part: Resistor, current: int, _frequency: Array) -> None:
    if part.ohm < _BY_CURRENT:
        equations.carry(part.a, part.b, current, part.ohm)
    else:
        equations.admit(part.a, part.b, 1 / part.ohm)


def _inductor(equations: Equations, part: Inductor, current: int, frequency: Array) -> None:
    equations.carry(part.a, part.b, current, np.asarray(2j * np.pi * part.henry * frequency))


def _capacitor(equations: Equations, part: Capacitor, _current: int, frequency: Array) -> None:
    equations.admit(part.a, part.b, np.asarray(2j * np.pi * part.farad * frequency))


def _impedance(equations: Equations, part: Impedance, current: int, frequency: Array) -> None:
    impedance = np.asarray(part.of(frequency), dtype=np.complex128)
    if impedance.shape != frequency.shape or not np.all(np.isfinite(impedance)):
        raise ArgumentFault("of", impedance.shape, f"one finite impedance a frequency, {frequency.shape}")
    equations.carry(part.a, part.b, current, impedance)


def _contact(equations: Equations, part: Contact, current: int, _frequency: Array) -> None:
    equations.branch[part.name] = current
    if part.name not in equations.apart:
        equations.carry(part.a, part.b, current, part.ohm)
        return
    for node, sign in ((part.a, 1), (part.b, -1)):
        equations.add(equations.place(node), current, sign)
    equations.add(current, current, 1)


def _voltage_source(equations: Equations, part: VoltageSource, current: int, _frequency: Array) -> None:
    equations.carry(part.a, part.b, current, 0.0)
    equations.branch[part.name] = current


def _current_source(_equations: Equations, _part: CurrentSource, _current: int, _frequency: Array) -> None:
    """Nothing until it is driven."""


def _line(equations: Equations, part: Line, current: int, _frequency: Array) -> None:
    """Currents out at the far nodes are unknowns; those in at the near nodes follow by the lower half of the chain."""
    chain = chain_of(*equations.cables(part.cable), part.length)
    near, far = ([equations.place(node) for node in nodes] for nodes in (part.near, part.far))
    n = len(near)
    for i in range(n):
        equations.add(current + i, near[i], -1)
        equations.add(far[i], current + i, -1)
        for j in range(n):
            for row, half in ((current + i, i), (near[i], n + i)):
                equations.add(row, far[j], chain[:, half, j])
                equations.add(row, current + j, chain[:, half, n + j])


def _block(equations: Equations, part: Block, current: int, frequency: Array) -> None:
    """As a line of one mode: what goes in at a port's first node comes out at its second."""
    chain = np.asarray(part.chain(frequency), dtype=np.complex128)
    if chain.shape != (len(frequency), 2, 2) or not np.all(np.isfinite(chain)):
        raise ArgumentFault(
            "chain", chain.shape, f"a finite 2 × 2 chain matrix a frequency, {len(frequency)}"
        )
    (a, b), (c, d) = (tuple(equations.place(node) for node in port) for port in (part.near, part.far))
    for node, sign in ((a, -1), (b, 1)):
        equations.add(current, node, sign)
    for node, sign in ((c, -1), (d, 1)):
        equations.add(node, current, sign)
    for row, half, way in ((current, 0, 1), (a, 1, 1), (b, 1, -1)):
        equations.add(row, c, way * chain[:, half, 0])
        equations.add(row, d, -way * chain[:, half, 0])
        equations.add(row, current, way * chain[:, half, 1])


def _transformer(equations: Equations, part: Transformer, current: int, _frequency: Array) -> None:
    """V1 = n V2, and the current out of the second winding is n times that into the first."""
    for (a, b), weight in ((part.first, 1.0), (part.second, -part.ratio)):
        for node, sign in ((equations.place(a), 1), (equations.place(b), -1)):
            equations.add(node, current, sign * weight)
            equations.add(current, node, sign * weight)


_WRITERS: dict[type, Callable[..., None]] = {
    Resistor: _resistor,
    Inductor: _inductor,
    Capacitor: _capacitor,
    Impedance: _impedance,
    Contact: _contact,
    Line: _line,
    Block: _block,
    Transformer: _transformer,
    VoltageSource: _voltage_source,
    CurrentSource: _current_source,
}
