"""A run of two conductors from a source to a load, with contacts at both ends of each."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from ohmsworth.consequence.circuit import (
    CableConstants,
    Circuit,
    Contact,
    Forms,
    Line,
    Transfer,
    along,
    forms_of,
    value_along,
)
from ohmsworth.consequence.circuit.elements import Complex, Element
from ohmsworth.consequence.rule import Compute, Position, shares_of
from ohmsworth.consequence.use import Array, Setting, Use, number
from ohmsworth.consequence.uses.cables import core
from ohmsworth.errors import ArgumentFault

# fmt: off
#: How many contacts there are in each conductor.
CONTACT_SETTINGS = (
    Setting("contacts_near", "n1", "number", 1.0, "contacts in each conductor at the source end", "practice", 0.0, 100.0),
    Setting("contacts_far", "n2", "number", 1.0, "contacts in each conductor at the load end", "practice", 0.0, 100.0),
)
# fmt: on


@dataclass(frozen=True, slots=True)
class Run:
    """Both conductors by name: the one that goes out, and the one that comes back."""

    out: str
    back: str

    def contacts(self, *conductors: str) -> tuple[str, ...]:
        """Names of the contacts of `conductors`, of both when none is given."""
        return tuple(
            f"{name} {end}" for name in conductors or (self.out, self.back) for end in ("near", "far")
        )

    def parts(self, use: Use, cable: CableConstants, ends: tuple[str, str, str, str]) -> tuple[Element, ...]:
        """Contacts and cable between the nodes `ends`: out and back at the source, out and back at the load."""
        near, far = number(use, "contacts_near"), number(use, "contacts_far")
        first, last = ((f"{end} {self.out}", f"{end} {self.back}") for end in ("cable", "end"))
        return (
            Contact(f"{self.out} near", ends[0], first[0], count=near),
            Contact(f"{self.back} near", ends[1], first[1], count=near),
            Line(first, last, cable, number(use, "length")),
            Contact(f"{self.out} far", last[0], ends[2], count=far),
            Contact(f"{self.back} far", last[1], ends[3], count=far),
        )


def check_run(use: Use) -> None:
    """Refuse a run without contacts, or with a conductor that is none."""
    if contacts_in_one(use) < 1:
        raise ArgumentFault(
            "contacts_far", use.settings["contacts_far"], "at least one contact at either end"
        )
    core(use)


def contacts_in_one(use: Use) -> float:
    """How many contacts there are in each conductor, both ends together."""
    return number(use, "contacts_near") + number(use, "contacts_far")


def single_contact(use: Use, conductor: str) -> Position:
    """The first contact of `conductor`, alone even where there are several at its end."""
    end = "near" if number(use, "contacts_near") else "far"
    return Position("one contact, all others ideal", (f"{conductor} {end}",))


@dataclass(frozen=True, slots=True, eq=False)
class Solved:
    """A quantity of a circuit at m frequencies, solved once for every position."""

    circuit: Circuit
    transfer: Transfer
    forms: Forms

    def at(self, position: Position, show: Callable[[Complex, Complex], Array]) -> Compute:
        """What a curve shows when every contact at `position` has a resistance, shape (...) to (..., m)."""
        return self._along(shares_of(self.circuit, position), show)

    def at_single(self, position: Position, show: Callable[[Complex, Complex], Array]) -> Compute:
        """The same when one contact alone has it, however many there are at its end."""
        names = self.circuit.contacts()
        return self._along(np.array([float(name in position.contacts) for name in names]), show)

    def _along(self, shares: Array, show: Callable[[Complex, Complex], Array]) -> Compute:
        polynomials = along(self.forms, shares)
        return lambda ohm: show(value_along(polynomials, ohm), self.transfer.ideal)


def solved(circuit: Circuit, transfer: Transfer) -> Solved:
    """`transfer` of `circuit`, ready for every position."""
    return Solved(circuit, transfer, forms_of(transfer))


def size(y: Complex, ideal: Complex) -> Array:
    """A quantity's magnitude, for a curve to show."""
    del ideal
    return np.asarray(np.abs(y))


def only(values: Compute) -> Compute:
    """What `values` has at its only frequency."""
    return lambda ohm: np.asarray(values(ohm)[..., 0])
