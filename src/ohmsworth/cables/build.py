"""A cable as it is built: its ends, their contacts, and which wire goes from where to where."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from ohmsworth.errors import ArgumentFault

#: What a wire is for: a core, one of a pair that carries a signal, or what lies around the others.
Role = Literal["core", "screen"]


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """One contact of one end."""

    end: str
    contact: str

    def __str__(self) -> str:
        return f"{self.end}:{self.contact}"


@dataclass(frozen=True, slots=True)
class End:
    """An end of the cable.

    Parameters
    ----------
    name
        Such as ``"A"`` or ``"stage"``.
    contacts
        Of its connector, in their order; "shell" among them where its shell is one.
    connector
        In words.
    contact_resistance, contact_limit
        Ohm of one mated contact with its termination: what is usual, and what is allowed at most; 0 for bare wire.
    """

    name: str
    contacts: tuple[str, ...]
    connector: str = ""
    contact_resistance: float = 0.0
    contact_limit: float = 0.0

    def __post_init__(self) -> None:
        if len(set(self.contacts)) != len(self.contacts) or not self.contacts:
            raise ArgumentFault("contacts", self.contacts, "names that differ, at least one")
        if not 0 <= self.contact_resistance <= self.contact_limit:
            raise ArgumentFault("contact_resistance", self.contact_resistance, "0 to the contact's limit")


@dataclass(frozen=True, slots=True)
class WireKind:
    """Wire of one kind.

    Parameters
    ----------
    name
        In words, such as ``"0.22 mm²"``.
    per_metre
        Ohm a metre of cable at 20 °C, as it usually is; lay included.
    tolerance
        By how much a maker's wire may differ from that either way, as a fraction.
    role
        Core or screen.
    capacitance, capacitance_tolerance
        Farad a metre of one wire against everything else of the cable joined, None where nobody said; and by how much it may be
        off either way, as a fraction.
    """

    name: str
    per_metre: float
    tolerance: float
    role: Role = "core"
    capacitance: float | None = None
    capacitance_tolerance: float = 0.0

    def __post_init__(self) -> None:
        if not self.per_metre > 0:
            raise ArgumentFault("per_metre", self.per_metre, "more than zero ohm a metre")
        if not 0 <= self.tolerance < 1:
            raise ArgumentFault("tolerance", self.tolerance, "0 up to 1, as a fraction")


@dataclass(frozen=True, slots=True)
class Wire:
    """A conductor of the cable from one contact to another.

    `pair` names the wires that carry one signal together; `colour` is that of its insulation, in words.
    """

    name: str
    start: Place
    stop: Place
    kind: WireKind
    pair: str = ""
    colour: str = ""


@dataclass(frozen=True, slots=True)
class Build:
    """A cable of two ends or more.

    Parameters
    ----------
    name
        What the shop calls it.
    ends
        At least two.
    wires
        Each between contacts of two ends.
    links
        Contacts of one end that are joined there, such as a screen's contact and the shell.
    length, length_tolerance
        Metre, and by how much it may be longer or shorter, metre.
    """

    name: str
    ends: tuple[End, ...]
    wires: tuple[Wire, ...]
    length: float
    length_tolerance: float = 0.0
    links: tuple[tuple[Place, Place], ...] = ()

    def __post_init__(self) -> None:
        if not self.length > 0:
            raise ArgumentFault("length", self.length, "more than zero metre")
        if not 0 <= self.length_tolerance < self.length:
            raise ArgumentFault("length_tolerance", self.length_tolerance, "0 up to the length")
        names = [wire.name for wire in self.wires]
        if len(set(names)) != len(names):
            raise ArgumentFault("wires", names, "names that differ")
        known = set(self.places)
        for place in (one for wire in self.wires for one in (wire.start, wire.stop)):
            if place not in known:
                raise ArgumentFault("wires", str(place), "a contact of one of the ends")
        for link in self.links:
            if not set(link) <= known or link[0].end != link[1].end:
                raise ArgumentFault("links", [str(one) for one in link], "two contacts of one end")

    @property
    def places(self) -> tuple[Place, ...]:
        """Every contact of every end, in their order."""
        return tuple(Place(end.name, contact) for end in self.ends for contact in end.contacts)

    def end(self, name: str) -> End:
        """The end of that name; KeyError without one."""
        return {end.name: end for end in self.ends}[name]
