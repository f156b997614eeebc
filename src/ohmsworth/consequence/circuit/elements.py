"""What a circuit is made of: parts between named nodes, contacts among them."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from ohmsworth.consequence.circuit.cable import CableConstants
from ohmsworth.errors import ArgumentFault

Array = npt.NDArray[np.float64]
Complex = npt.NDArray[np.complex128]

#: The node that voltages are told against.
GROUND = "0"


@dataclass(frozen=True, slots=True)
class Resistor:
    """`ohm` between nodes `a` and `b`: 0 joins them."""

    a: str
    b: str
    ohm: float


@dataclass(frozen=True, slots=True)
class Inductor:
    """`henry` between nodes `a` and `b`."""

    a: str
    b: str
    henry: float


@dataclass(frozen=True, slots=True)
class Capacitor:
    """`farad` between nodes `a` and `b`."""

    a: str
    b: str
    farad: float


@dataclass(frozen=True, slots=True)
class Impedance:
    """Anything between nodes `a` and `b` whose impedance in ohm is a function of frequency in hertz, same shape."""

    a: str
    b: str
    of: Callable[[Array], Complex]


@dataclass(frozen=True, slots=True)
class Contact:
    """A contact between nodes `a` and `b`, named so that a resistance can be given to it later.

    Parameters
    ----------
    ohm
        What stands in series with it: 0 for an ideal contact.
    count
        How many contacts it stands for, one after the other: what is told for one resistance of each reckons with it.
    """

    name: str
    a: str
    b: str
    ohm: float = 0.0
    count: float = 1.0


@dataclass(frozen=True, slots=True)
class Line:
    """`length` metres of a cable from the nodes `near` to the nodes `far`, one of each for every conductor."""

    near: tuple[str, ...]
    far: tuple[str, ...]
    cable: CableConstants
    length: float


@dataclass(frozen=True, slots=True)
class Block:
    """A two-port given by its chain matrix: a measured cable, a filter.

    Parameters
    ----------
    near, far
        Two nodes at each port, the second one the return. No current passes from port to port but by the matrix.
    chain
        Hertz of shape (m,) to chain matrices [[A, B], [C, D]] of shape (m, 2, 2).
    """

    near: tuple[str, str]
    far: tuple[str, str]
    chain: Callable[[Array], Complex]


@dataclass(frozen=True, slots=True)
class Transformer:
    """An ideal transformer: volts between the nodes `first` are `ratio` times those between `second`."""

    first: tuple[str, str]
    second: tuple[str, str]
    ratio: float


@dataclass(frozen=True, slots=True)
class VoltageSource:
    """A source between `a` (+) and `b` (−) without resistance, silent unless a computation drives it by name."""

    name: str
    a: str
    b: str = GROUND


@dataclass(frozen=True, slots=True)
class CurrentSource:
    """A source that drives its current out of `a` and takes it in at `b`, silent unless driven by name."""

    name: str
    a: str
    b: str = GROUND


Element = (
    Resistor
    | Inductor
    | Capacitor
    | Impedance
    | Contact
    | Line
    | Block
    | Transformer
    | VoltageSource
    | CurrentSource
)


@dataclass(frozen=True, slots=True)
class Circuit:
    """Parts joined by the names of their nodes.

    Raises
    ------
    ArgumentFault
        For two parts of one name, a part with a value that cannot be, a line whose ends do not fit its cable, or no ground.
    """

    elements: tuple[Element, ...]

    def __post_init__(self) -> None:
        names = [e.name for e in self.elements if isinstance(e, Contact | VoltageSource | CurrentSource)]
        for name in names:
            if names.count(name) > 1:
                raise ArgumentFault("elements", name, "a name of its own for every contact and source")
        for element in self.elements:
            _check(element)
        if GROUND not in self.nodes():
            raise ArgumentFault(
                "elements", self.nodes(), f"a node {GROUND!r}, which voltages are told against"
            )

    def nodes(self) -> tuple[str, ...]:
        """Every node once, in the order of the parts."""
        return tuple(dict.fromkeys(node for e in self.elements for node in nodes_of(e)))

    def contacts(self) -> tuple[str, ...]:
        """Names of the contacts, in the order of the parts."""
        return tuple(e.name for e in self.elements if isinstance(e, Contact))

    def counts(self) -> Array:
        """How many contacts each of them stands for, in the same order."""
        return np.array([e.count for e in self.elements if isinstance(e, Contact)])

    def sources(self) -> tuple[str, ...]:
        """Names of the sources, in the order of the parts."""
        return tuple(e.name for e in self.elements if isinstance(e, VoltageSource | CurrentSource))


def nodes_of(element: Element) -> Iterator[str]:
    """The nodes of one part."""
    if isinstance(element, Line | Block):
        yield from (*element.near, *element.far)
    elif isinstance(element, Transformer):
        yield from (*element.first, *element.second)
    else:
        yield from (element.a, element.b)


def _check(element: Element) -> None:
    for name in ("ohm", "henry", "farad", "length", "count"):
        value = getattr(element, name, 0.0)
        if not (math.isfinite(value) and value >= 0):
            raise ArgumentFault(name, value, f"0 or more in {element}")
    if isinstance(element, Line):
        ends = {len(element.near), len(element.far)}
        if ends != {element.cable.conductors}:
            raise ArgumentFault(
                "near", element.near, f"{element.cable.conductors} nodes at each end of the cable"
            )
    if isinstance(element, Transformer) and not (math.isfinite(element.ratio) and element.ratio != 0):
        raise ArgumentFault("ratio", element.ratio, "a ratio that is not 0")
