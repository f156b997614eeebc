"""What can be said of a cable, by whoever describes one: the entries, and what each family of cables needs."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType


@dataclass(frozen=True, slots=True)
class Entry:
    """One thing said of a cable.

    Parameters
    ----------
    key
        Its name in files.
    dimension
        A dimension of `ohmsworth.units`, ``"number"`` for a whole number, or ``"text"``.
    words
        Plain words for a person.
    lowest, highest
        Range believed, SI, both ends included.
    """

    key: str
    dimension: str
    words: str
    lowest: float = 0.0
    highest: float = 0.0


@dataclass(frozen=True, slots=True)
class Way:
    """One way to say what a metre of cable has.

    Parameters
    ----------
    words
        What kind of description it is.
    keys
        Entries that it needs.
    optional
        Entries that it also takes.
    """

    words: str
    keys: tuple[str, ...]
    optional: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Family:
    """Cables that are wired alike.

    Parameters
    ----------
    needed, optional
        Entries that every cable of the family has, and those that it may have, however it is described.
    ways
        The ways to describe its inductance and capacitance: each cable by one of them.
    """

    name: str
    words: str
    needed: tuple[str, ...]
    optional: tuple[str, ...]
    ways: tuple[Way, ...]


_PER_METRE = "capacitance per length"
_LIST = (
    Entry("conductor", "text", "one conductor: strands, cross-section or gauge; its resistance comes from this"),
    Entry("cores", "number", "2, or 4 for a star quad whose opposite cores are joined", 2, 4),
    Entry("conductor_diameter", "length", "over the bare copper of one conductor", 1e-5, 0.05),
    Entry("insulation_diameter", "length", "over the insulation of one core; cores touch", 1e-4, 0.1),
    Entry("screen_diameter", "length", "inside the screen; of a coaxial cable over its dielectric", 1e-4, 0.1),
    Entry("permittivity", "plain ratio", "relative, of what fills the space between the conductors", 1.0, 10.0),
    Entry("pitch", "length", "length of cable for one full twist of its cores", 2e-3, 2.0),
    Entry("capacitance", _PER_METRE, "between the two conductors", 1e-12, 1e-8),
    Entry("core_core", _PER_METRE, "capacitor between the cores in the equivalent circuit", 0.0, 1e-8),
    Entry("core_screen", _PER_METRE, "capacitor from each core to the screen in that circuit", 0.0, 1e-8),
    Entry("measured_core_core", _PER_METRE, "measured core to core, screen left open", 1e-12, 1e-8),
    Entry("measured_core_rest", _PER_METRE, "measured one core to the other and the screen", 1e-12, 1e-8),
    Entry("inductance", "inductance per length", "of the loop, without the inside of its wires", 1e-9, 1e-4),
    Entry("measured_inductance", "inductance per length", "of the loop, measured at 1 kHz", 1e-9, 1e-4),
    Entry("impedance", "resistance", "characteristic impedance", 5.0, 1000.0),
    Entry("velocity_factor", "plain ratio", "velocity as a fraction of that of light", 0.2, 1.0),
    Entry("screen_resistance", "resistance per length", "of the screen, direct current", 1e-5, 10.0),
    Entry("loss_tangent", "plain ratio", "of the dielectric", 0.0, 0.2),
)  # fmt: skip
#: Every entry by its key.
ENTRIES: Mapping[str, Entry] = MappingProxyType({entry.key: entry for entry in _LIST})

_SHAPE = ("insulation_diameter", "permittivity")
_LOSSES = ("screen_resistance", "loss_tangent")
_TWO_TERMINALS = (
    Way("constants", ("capacitance", "inductance")),
    Way("a bridge at 1 kHz", ("capacitance", "measured_inductance")),
    Way("capacitance and impedance", ("capacitance", "impedance")),
    Way("impedance and velocity", ("impedance", "velocity_factor")),
)
_FAMILIES = (
    Family(
        "pair",
        "two like cores in a screen, or a star quad",
        ("conductor",),
        ("cores", *_LOSSES),
        (
            Way("elements of the equivalent circuit", ("core_core", "core_screen", "inductance")),
            Way("a bridge at 1 kHz", ("measured_core_core", "measured_core_rest", "measured_inductance")),
            Way("capacitances and impedance", ("measured_core_core", "measured_core_rest", "impedance")),
            Way("impedance and velocity", ("impedance", "velocity_factor", "measured_core_rest")),
            Way("impedance and velocity, screen known", ("impedance", "velocity_factor", "core_screen")),
            Way("measures", ("screen_diameter", *_SHAPE), ("conductor_diameter", "pitch")),
        ),
    ),
    Family(
        "coax",
        "one conductor in a screen that is the way back",
        ("conductor", "screen_diameter"),
        _LOSSES,
        (*_TWO_TERMINALS, Way("measures", ("permittivity",), ("conductor_diameter",))),
    ),
    Family(
        "two-core",
        "two like conductors without a screen, or four with opposite ones joined",
        ("conductor",),
        ("cores", "loss_tangent"),
        (*_TWO_TERMINALS, Way("measures", _SHAPE, ("conductor_diameter", "pitch"))),
    ),
)
#: Families of cables by name.
FAMILIES: Mapping[str, Family] = MappingProxyType({family.name: family for family in _FAMILIES})


def keys_of(family: Family) -> tuple[str, ...]:
    """Every entry that a cable of `family` may have, in the order of ENTRIES."""
    ways = {key for way in family.ways for key in (*way.keys, *way.optional)}
    known = {*family.needed, *family.optional, *ways}
    return tuple(key for key in ENTRIES if key in known)
