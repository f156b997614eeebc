"""A circuit solved once, as its contacts see it: all that any contact resistances will need later."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from ohmsworth.consequence.circuit.cable import CablesAt
from ohmsworth.consequence.circuit.elements import GROUND, Circuit, Contact, CurrentSource, VoltageSource
from ohmsworth.consequence.circuit.eliminate import eliminate
from ohmsworth.consequence.circuit.joined import check_held, closing_contacts
from ohmsworth.consequence.circuit.places import Equations
from ohmsworth.consequence.circuit.sections import sectioned
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

_WANTED = (
    "a circuit in which something limits the current in every loop: sources, resistors of 0, ideal transformers and, at 0 Hz, "
    "coils do not"
)

#: Of an ampere, what a current that contacts do not share takes of one that goes around them.
_ROUNDING = 1e-6


@dataclass(frozen=True, slots=True, eq=False)
class Loops:
    """What a transfer needs besides where contacts close loops of nothing but ideal ones, as those side by side do.

    With r the resistances, M = A + G r takes the currents of the contacts to i0, and the quantity is y = y0 − (B + T r) i. A
    contact that closes a loop is open where all others are ideal: its row holds its volts, and its columns of A and B what
    an ampere through it does.

    Parameters
    ----------
    closing
        Which contacts do, shape (K,).
    alone
        A, shape (m, K, K): 1 for all other contacts.
    lost
        B, shape (m, K): 0 for all other contacts.
    """

    closing: npt.NDArray[np.bool_]
    alone: Complex
    lost: Complex


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
    loops
        None where no contacts close a loop of nothing but ideal ones.
    """

    contacts: tuple[str, ...]
    ideal: Complex
    through: Complex
    carried: Complex
    seen: Complex
    loops: Loops | None = None


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
        For a node that hangs in the air, contacts that short-circuit a source, frequencies below 0, and the current through
        one of several contacts side by side, which is not settled while they are ideal.
    UnknownName
        For a source, node or contact that the circuit does not have.

    Notes
    -----
    By node potentials and branch currents; an ideal contact is exactly 0 ohm, and 0 Hz is exactly that. Contacts side by side
    share their current as resistances do, and equally when all are ideal.
    """
    asked, hertz = tuple(asked), _checked(frequency)
    check_held(circuit, hertz)
    closing = closing_contacts(circuit)
    cables = CablesAt(hertz)
    equations = Equations(sectioned(circuit, cables), cables, closing)
    _drive(circuit, equations, drive)
    contacts = circuit.contacts()
    for k, name in enumerate(contacts, 1):
        # A volt across a contact: Va − Vb = 1 in place of 0; an ampere through one that is open.
        equations.add(equations.branch[name], ~k, 1.0)
    found = _found(equations, 1 + len(contacts), (*_answers(circuit, closing), *asked))
    own, rows = found[:, : len(contacts)], np.moveaxis(found[:, len(contacts) :], 1, 0)
    if closing:
        return tuple(_looped(contacts, closing, own, row, one) for row, one in zip(rows, asked, strict=True))
    through, seen = own[:, :, 0], -own[:, :, 1:]
    return tuple(Transfer(contacts, row[:, 0], through, -row[:, 1:], seen) for row in rows)


def _answers(circuit: Circuit, closing: tuple[str, ...]) -> list[Asked]:
    """What each contact answers with: its current, or its volts where it is open."""
    parts = [part for part in circuit.elements if isinstance(part, Contact)]
    return [Volts(part.a, part.b) if part.name in closing else Amperes(part.name) for part in parts]


def _looped(
    contacts: tuple[str, ...], closing: tuple[str, ...], own: Complex, row: Complex, asked: Asked
) -> Transfer:
    """A transfer with loops, from what the contacts and one quantity answer to sources and contacts."""
    mask = np.array([name in closing for name in contacts])
    eye = np.eye(len(contacts))
    lost = np.where(mask, -row[:, 1:], 0)
    if isinstance(asked, Amperes) and np.abs(lost).max() > _ROUNDING:
        found = f"the current through {asked.name!r}, beside which other contacts are ideal too"
        wanted = "contacts with some ohm of their own, as 1e-6: how ideal ones share a current is not settled"
        raise ArgumentFault("asked", found, wanted)
    return Transfer(
        contacts,
        row[:, 0],
        own[:, :, 0],
        np.where(mask, 0, -row[:, 1:]),
        np.where(mask, eye, -own[:, :, 1:]),
        Loops(mask, np.where(mask, -own[:, :, 1:], eye), lost),
    )


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


def _found(equations: Equations, sides: int, asked: Sequence[Asked]) -> Complex:
    """All that is `asked` at every frequency, shape (m, asked, sides)."""
    terms = [_terms(equations, one) for one in asked]
    wanted = list(dict.fromkeys(place for each in terms for place in each))
    solved = _solved(equations, sides, wanted)
    result = np.zeros((len(asked), sides, len(solved)), dtype=np.complex128)
    for k, each in enumerate(terms):
        for place, sign in each.items():
            result[k] += sign * solved[:, wanted.index(place)].T
    return np.moveaxis(result, 2, 0)


def _terms(equations: Equations, asked: Asked) -> dict[int, float]:
    """The unknowns that a quantity is the sum of, with their signs."""
    if isinstance(asked, Amperes):
        if asked.name not in equations.branch:
            raise UnknownName("contact or voltage source", asked.name, tuple(equations.branch))
        return {equations.branch[asked.name]: 1.0}
    ends = ((equations.place(asked.a), 1.0), (equations.place(asked.b), -1.0))
    return {place: sign for place, sign in ends if place is not None} if asked.a != asked.b else {}


def _solved(equations: Equations, sides: int, wanted: Sequence[int]) -> Complex:
    """The `wanted` unknowns at every frequency, shape (m, wanted, sides)."""
    count = len(equations.frequency)
    found = eliminate(equations.rows, sides, wanted, count) if count >= _MANY else None
    return _factored(equations.matrix(sides), sides)[:, wanted] if found is None else found


def _factored(whole: Complex, sides: int) -> Complex:
    """Solve one frequency after the other, each unknown's row scaled to its largest entry, shape (m, n, sides)."""
    matrix, side = whole[:, :, :-sides], whole[:, :, : -1 - sides : -1]
    # The larger of both parts is scale enough, and cheaper than the magnitude.
    scale = np.maximum(np.abs(matrix.real), np.abs(matrix.imag)).max(axis=2, initial=0.0)
    if not np.all(scale > 0):
        raise ArgumentFault("circuit", "a node that nothing is joined to", _WANTED)
    try:
        solved = np.linalg.solve(matrix / scale[:, :, None], side / scale[:, :, None])
    except np.linalg.LinAlgError:
        raise ArgumentFault("circuit", "equations without one solution", _WANTED) from None
    if not np.all(np.isfinite(solved)):
        raise ArgumentFault("circuit", "equations without a finite solution", _WANTED)
    return np.asarray(solved)
