"""Built cables that do not exist: as they are described, as they truly are, and what a meter shows of them.

    ohm of a wire = per_metre · length · (1 + grown) · (1 + 0.004·z_kind) · (1 + 0.0005·z_wire) + both its contacts

z are independent standard normal: one a kind and cable, for the wire of a cable comes from one drum; one a wire. Each contact is
what the design says, give or take a fifth. `grown` is what a drum or a plug has drifted by on the day.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from ohmsworth.cables.fewest import separating

#: Of a cable to the next and of a wire to its fellow, as fractions; of a contact to the next, as a fraction of the usual one.
_DRUM, _WIRE, _CONTACT = 0.004, 5e-4, 0.2
#: The ends of every cable here.
NEAR, FAR = "A", "B"
OPEN = "open"


@dataclass(frozen=True, slots=True)
class WireKind:
    """A kind of wire: its keys in a cable.toml, and what it truly has at the season's beginning, ohm a metre."""

    said: str
    per_metre: float


@dataclass(frozen=True, slots=True)
class LikeWires:
    """Wires of one kind: named together, on the contacts of `places` at both ends, written as `contacts`."""

    name: str
    contacts: str
    places: tuple[str, ...]
    kind: str
    said: str = ""


@dataclass(frozen=True, slots=True)
class Design:
    """A cable that the shop builds again and again.

    Parameters
    ----------
    name, length
        What it is called, and metres.
    connectors
        At its near and its far end.
    contacts
        All contacts of an end, as a cable.toml writes them.
    kinds, wires
        What it is made of.
    contact, contact_limit
        A mated contact with its termination, as usual and at most, ohm.
    count
        One count of the meter, ohm.
    bulk
        What its wires are bought as, on a reel; "" where they are bought one by one.
    """

    name: str
    length: float
    connectors: tuple[str, str]
    contacts: str
    kinds: Mapping[str, WireKind]
    wires: tuple[LikeWires, ...]
    contact: float = 4e-3
    contact_limit: float = 15e-3
    count: float = 1e-3
    bulk: str = ""

    @property
    def places(self) -> tuple[str, ...]:
        """The contacts at which wires end, in the order of the wires."""
        return tuple(place for run in self.wires for place in run.places)

    def described(self, serial: str, meter: str = "", first: str = "") -> str:
        """The text of its cable.toml; `meter` are further keys of the meter, `first` is what stands before everything."""
        ends = "\n".join(
            f'[ends.{end}]\nconnector = "{connector}"\ncontacts = ["{self.contacts}"]\n'
            f'contact_resistance = "{self.contact * 1e3:g} mΩ"\ncontact_limit = "{self.contact_limit * 1e3:g} mΩ"'
            for end, connector in zip((NEAR, FAR), self.connectors, strict=True)
        )
        kinds = "\n".join(f"[kinds.{name}]\n{kind.said}" for name, kind in self.kinds.items())
        wires = "\n".join(
            f'[[wires]]\nname = "{run.name}"\nfrom = "{NEAR}:{run.contacts}"\nto = "{FAR}:{run.contacts}"\n'
            f'kind = "{run.kind}"\n{run.said}'
            for run in self.wires
        )
        named = f'name = "{self.name}"\n' + (f'serial = "{serial}"\n' if serial else "")
        named += f'bulk = "{self.bulk}"\n' if self.bulk else ""
        return (
            f'{first}{named}length = "{self.length:g} m"\n\n{ends}\n\n{kinds}\n\n{wires}\n'
            f'[meter]\naccuracy = "0.1 % + 2 counts"\nresolution = "{self.count * 1e3:g} mΩ"\n{meter}'
        )


@dataclass(frozen=True, slots=True)
class TrueCable:
    """A cable as it truly is.

    Parameters
    ----------
    design
        What it was to be.
    ohm
        Of each wire with both its contacts, by the contact at its near end; infinite where it is broken.
    reaches
        The contact at which it ends, where that is another one.
    touches
        Near contacts that touch, and with how many ohm.
    """

    design: Design
    ohm: Mapping[str, float]
    reaches: Mapping[str, str] = field(default_factory=dict)
    touches: Mapping[tuple[str, str], float] = field(default_factory=dict)

    def shows(self, one: Sequence[str], other: Sequence[str]) -> str:
        """What the meter shows between contacts that are joined by hand on either side, in ohm; "open" for no path."""
        ways = [ohm for place in one for goal, ohm in self._reached(place).items() if goal in other]
        if not ways:
            return OPEN
        count = self.design.count
        return f"{round(min(ways) / count) * count:.{max(0, round(-np.log10(count)))}f}"

    def sheet(self) -> list[tuple[str, str, str]]:
        """The rows of a whole test: each wire from end to end, then the fewest groups that show that nothing touches."""
        places = self.design.places
        asked = [([f"{NEAR}:{place}"], [f"{FAR}:{place}"]) for place in places]
        asked += [
            ([f"{NEAR}:{places[n]}" for n in question.one], [f"{NEAR}:{places[n]}" for n in question.other])
            for question in separating(len(places))
        ]
        return [(" ".join(one), " ".join(other), self.shows(one, other)) for one, other in asked]

    def _reached(self, start: str) -> dict[str, float]:
        """Every contact that a path leads to, and its ohm; paths are few, so that none is found twice."""
        found, waiting = {start: 0.0}, deque([start])
        while waiting:
            here = waiting.popleft()
            for there, ohm in self._beside(here):
                if there not in found:
                    found[there] = found[here] + ohm
                    waiting.append(there)
        del found[start]
        return found

    def _beside(self, place: str) -> Iterable[tuple[str, float]]:
        end, _, contact = place.partition(":")
        if end == FAR:
            came = {there: here for here, there in self.reaches.items()}.get(contact, contact)
            if np.isfinite(self.ohm[came]):
                yield f"{NEAR}:{came}", self.ohm[came]
            return
        if np.isfinite(self.ohm[contact]):
            yield f"{FAR}:{self.reaches.get(contact, contact)}", self.ohm[contact]
        for pair, ohm in self.touches.items():
            if contact in pair:
                yield f"{NEAR}:{pair[pair[0] == contact]}", ohm


def build(
    design: Design,
    chance: np.random.Generator,
    grown: Mapping[str, float] | None = None,
    contact_grown: float = 0.0,
) -> TrueCable:
    """Build one without a flaw.

    Parameters
    ----------
    design
        Of which kind.
    chance
        Decides what it truly has.
    grown
        By which fraction the wire of each kind has more than at the season's beginning.
    contact_grown
        The same of the contacts.
    """
    ohm: dict[str, float] = {}
    for name, kind in design.kinds.items():
        drum = 1 + (grown or {}).get(name, 0.0)
        copper = kind.per_metre * design.length * drum * (1 + _DRUM * float(chance.standard_normal()))
        places = [place for run in design.wires if run.kind == name for place in run.places]
        wires = copper * (1 + _WIRE * chance.standard_normal(len(places)))
        usual = design.contact * (1 + contact_grown)
        contacts = usual * (1 + _CONTACT * chance.uniform(-1, 1, (len(places), 2))).sum(1)
        ohm |= dict(zip(places, (wires + contacts).tolist(), strict=True))
    return TrueCable(design, ohm)


def with_excess(cable: TrueCable, place: str, ohm: float) -> TrueCable:
    """The cable with so much too much in one wire: a bad crimp; infinite for a broken one."""
    return replace(cable, ohm={**cable.ohm, place: cable.ohm[place] + ohm})


def exchanged(cable: TrueCable, one: str, other: str) -> TrueCable:
    """The cable with two wires exchanged at the far end."""
    return replace(cable, reaches={one: other, other: one})


def touching(cable: TrueCable, one: str, other: str, ohm: float) -> TrueCable:
    """The cable with two near contacts that touch."""
    return replace(cable, touches={(one, other): ohm})


def as_test_csv(rows: Sequence[tuple[str, str, str]]) -> str:
    """Rows as the text of a test.csv, in ohm."""
    return "\n".join(["from,to,resistance [Ω]", *(",".join(row) for row in rows), ""])
