"""A circuit solved once, as its contacts see it: all that any contact resistances will need later."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from ohmsworth.consequence.circuit.elements import GROUND, Circuit, CurrentSource, VoltageSource
from ohmsworth.consequence.circuit.eliminate import eliminate
from ohmsworth.consequence.circuit.places import Equations
from ohmsworth.errors import ArgumentFault, UnknownName

Array = npt.NDArray[np.float64]
Complex = npt.NDArray[np.complex128]

#: Frequencies from which on it is quicker to solve all of them in one order than each in its own.
_MANY = 48


@dataclass(frozen=True, slots=True)
class Volts:
    """What is asked for: the volts of node `a` against node `b`."""

    a: str
    b: str = GROUND


@dataclass(frozen=True, slots=True)
class Amperes:
    """What is asked for: the current through a contact or voltage source, from its node a to its node b."""

    name: str


Asked = Volts | Amperes


@dataclass(frozen=True, slots=True, eq=False)
class Transfer:
    """One quantity of a driven circuit as a function of the resistances of its K contacts, at m frequencies.

    With r the resistances, the currents of the contacts are i = (1 + G r)⁻¹ i0 and the quantity is y = y0 − T r i.

    Parameters
    ----------
    contacts
        Their names, in the order of the last axes.
    ideal
        y0, shape (m,): with ideal contacts.
    through
        i0 ampere, shape (m, K): what passes through ideal contacts.
    carried
        T, shape (m, K): what the quantity loses by a volt across each contact.
    seen
        G siemens, shape (m, K, K): what the current of each contact loses by a volt across each.
    """

    contacts: tuple[str, ...]
    ideal: Complex
    through: Complex
    carried: Complex
    seen: Complex


def transfers(
    circuit: Circuit, frequency: npt.ArrayLike, drive: Mapping[str, complex], asked: Iterable[Asked]
) -> tuple[Transfer, ...]:
    """Solve `circuit` once for every quantity `asked`.

    Parameters
    ----------
    circuit
        Parts between nodes, at least one source.
    frequency
        Hertz, m values, 0 or more.
    drive
        Volts or amperes of the sources by name; those not named are silent.
    asked
        Volts between nodes, amperes through contacts or sources.

    Raises
    ------
    ArgumentFault
        For a node that hangs in the air, contacts that short-circuit each other, and frequencies below 0.
    UnknownName
        For a source, node or contact that the circuit does not have.

    Notes
    -----
    By node potentials and branch currents; an ideal contact is exactly 0 ohm, and 0 Hz is exactly that.
    """
    equations = Equations(circuit, _checked(frequency))
    _drive(circuit, equations, drive)
    contacts = circuit.contacts()
    rows = [equations.branch[name] for name in contacts]
    for k, row in enumerate(rows, 1):
        # A volt across a contact: Va − Vb = 1 in place of 0.
        equations.add(row, ~k, 1.0)
    quantities = [_terms(equations, one) for one in asked]
    wanted = list(dict.fromkeys((*rows, *(place for terms in quantities for place in terms))))
    solved = _solved(equations, 1 + len(rows), wanted)
    through, seen = solved[:, : len(rows), 0], -solved[:, : len(rows), 1:]
    found = [
        _total(solved, {wanted.index(place): sign for place, sign in terms.items()}) for terms in quantities
    ]
    return tuple(Transfer(contacts, one[:, 0], through, -one[:, 1:], seen) for one in found)


def _checked(frequency: npt.ArrayLike) -> Array:
    f = np.atleast_1d(np.asarray(frequency, dtype=float))
    if f.ndim != 1 or not (np.all(np.isfinite(f)) and np.all(f >= 0)):
        raise ArgumentFault("frequency", frequency, "one dimension of hertz, 0 or more")
    return f


def _drive(circuit: Circuit, equations: Equations, drive: Mapping[str, complex]) -> None:
    """Put the sources on the first right-hand side."""
    for name in drive:
        if name not in circuit.sources():
            raise UnknownName("source", name, circuit.sources())
    for source in circuit.elements:
        if isinstance(source, VoltageSource):
            equations.add(equations.branch[source.name], ~0, drive.get(source.name, 0.0))
        elif isinstance(source, CurrentSource):
            for node, sign in ((source.a, 1), (source.b, -1)):
                equations.add(equations.place(node), ~0, sign * drive.get(source.name, 0.0))


def _terms(equations: Equations, asked: Asked) -> dict[int, float]:
    """The unknowns that a quantity is the sum of, with their signs."""
    if isinstance(asked, Amperes):
        if asked.name not in equations.branch:
            raise UnknownName("contact or voltage source", asked.name, tuple(equations.branch))
        return {equations.branch[asked.name]: 1.0}
    ends = ((equations.place(asked.a), 1.0), (equations.place(asked.b), -1.0))
    return {place: sign for place, sign in ends if place is not None} if asked.a != asked.b else {}


def _total(solved: Complex, terms: Mapping[int, float]) -> Complex:
    """A sum of unknowns, shape (m, 1 + K)."""
    total = np.zeros(solved.shape[::2], dtype=np.complex128)
    for k, sign in terms.items():
        total += sign * solved[:, k]
    return total


def _solved(equations: Equations, sides: int, wanted: Sequence[int]) -> Complex:
    """The `wanted` unknowns at every frequency, shape (m, wanted, sides)."""
    count = len(equations.frequency)
    found = eliminate(equations.rows, sides, wanted, count) if count >= _MANY else None
    return _factored(equations.matrix(sides), sides)[:, wanted] if found is None else found


def _factored(whole: Complex, sides: int) -> Complex:
    """Solve one frequency after the other, each unknown's row scaled to its largest entry, shape (m, n, sides)."""
    wanted = "a circuit in which every node is held by something and no two ideal contacts or sources short each other"
    matrix, side = whole[:, :, :-sides], whole[:, :, : -1 - sides : -1]
    # The larger of both parts is scale enough, and cheaper than the magnitude.
    scale = np.maximum(np.abs(matrix.real), np.abs(matrix.imag)).max(axis=2, initial=0.0)
    if not np.all(scale > 0):
        raise ArgumentFault("circuit", "a node that nothing is joined to", wanted)
    try:
        solved = np.linalg.solve(matrix / scale[:, :, None], side / scale[:, :, None])
    except np.linalg.LinAlgError:
        raise ArgumentFault("circuit", "equations without one solution", wanted) from None
    if not np.all(np.isfinite(solved)):
        raise ArgumentFault("circuit", "equations without a finite solution", wanted)
    return np.asarray(solved)
