"""A cable's construction: what is said of it, turned into the values that a circuit takes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from ohmsworth.errors import ArgumentFault, OhmsworthError, UnknownName
from ohmsworth.materials.cable_entries import ENTRIES, FAMILIES, Family, Way, keys_of
from ohmsworth.materials.conductor_text import conductor_from_text
from ohmsworth.materials.conductors import Conductor, in_parallel, twist_factor, with_lay
from ohmsworth.materials.geometry import (
    coax,
    lengthened,
    open_quad,
    pair_in_screen,
    quad_in_screen,
    two_wires,
)
from ohmsworth.materials.line_constants import (
    LineConstants,
    PairConstants,
    constants_of_impedance,
    elements_of_measured,
    external_inductance,
    inductance_of_impedance,
    velocity_factor_of,
)
from ohmsworth.units import show_stated

Given = Mapping[str, float | str]

# How a function's argument is called among the entries, where the names differ.
_ENTRY_OF = {"diameter": "insulation_diameter", "spacing": "insulation_diameter"}


@dataclass(frozen=True, slots=True)
class Construction:
    """A cable as it can be bought or made, without a brand.

    Parameters
    ----------
    name
        What it is called in a study.
    words
        What it is, for a person.
    family
        ``"pair"``, ``"coax"`` or ``"two-core"``: a name of FAMILIES.
    values
        Settings of a circuit by key, SI or text: always `conductor` and `inductance` (external, of the loop); for a
        pair `core_core` and `core_screen`, otherwise `capacitance`; `screen_diameter` of a coaxial cable;
        `screen_resistance` and `loss_tangent` where they are known.
    source
        A key of `ohmsworth.sources`, or what the shop wrote of its own cable.
    """

    name: str
    words: str
    family: str
    values: Given
    source: str


def construct(name: str, words: str, family: str, given: Given, source: str) -> Construction:
    """Make the construction that the entries `given` describe in one of the ways of its `family`.

    Parameters
    ----------
    family
        A name of FAMILIES.
    given
        Entries by key, SI or text; each within the range of ENTRIES.

    Raises
    ------
    UnknownName
        When the family is not known.
    ArgumentFault
        Named after the entry that is missing, too much, out of range, or does not go with the others.
    """
    if family not in FAMILIES:
        raise UnknownName("family of cables", family, tuple(FAMILIES))
    kind = FAMILIES[family]
    _check_entries(kind, given)
    way = way_of(kind, given)
    leg = _leg(given)
    try:
        constants, leg = _constants(kind, way, given, leg)
    except ArgumentFault as fault:
        raise _renamed(fault, given) from fault
    _check_velocity(constants, way, given)
    values: dict[str, float | str] = {"conductor": leg.name, **_settings(constants)}
    kept = ("screen_diameter",) if family == "coax" else ()
    values |= {key: given[key] for key in (*kept, "screen_resistance", "loss_tangent") if key in given}
    return Construction(name, words, family, MappingProxyType(values), source)


def way_of(family: Family, given: Given) -> Way:
    """The way in which the entries `given` describe a cable of `family`.

    Raises
    ------
    ArgumentFault
        Named after the entry that is missing, or that says again what others say.
    """
    describing = [key for key in given if key not in (*family.needed, *family.optional)]
    complete = [way for way in family.ways if set(way.keys) <= set(describing)]
    if not complete:
        raise _missing(family, describing)
    way = max(complete, key=lambda each: len(each.keys))
    for key in describing:
        if key not in (*way.keys, *way.optional):
            wanted = f"nothing of it beside {_listed(way.keys)}, which say the same"
            raise ArgumentFault(key, given[key], wanted)
    return way


def _missing(family: Family, describing: list[str]) -> ArgumentFault:
    """The entry that is missing for the way that is nearest to what was given."""
    begun = [way for way in family.ways if set(way.keys) & set(describing)]
    if not begun:
        ways = "; or ".join(_listed(way.keys) for way in family.ways)
        return ArgumentFault(family.ways[0].keys[0], None, f"one of these ways to describe it: {ways}")
    nearest = min(begun, key=lambda way: len(set(way.keys) - set(describing)))
    absent = [key for key in nearest.keys if key not in describing]
    there = _listed(tuple(key for key in nearest.keys if key in describing))
    return ArgumentFault(absent[0], None, f"{_listed(tuple(absent))} too, to go with {there}")


def _check_entries(family: Family, given: Given) -> None:
    known = keys_of(family)
    for key, value in given.items():
        if key not in known:
            raise ArgumentFault(key, value, f"an entry of the family {family.name}: {', '.join(known)}")
        entry = ENTRIES[key]
        if entry.dimension == "text":
            continue
        if isinstance(value, str) or not entry.lowest <= value <= entry.highest:
            wanted = f"{entry.lowest:g} to {entry.highest:g} ({entry.dimension}, SI)"
            raise ArgumentFault(key, value, wanted)
    for key in family.needed:
        if key not in given:
            raise ArgumentFault(key, None, f"{ENTRIES[key].words}")
    if given.get("cores", 2) not in (2, 4):
        raise ArgumentFault("cores", given["cores"], "2 or 4")


def _leg(given: Given) -> Conductor:
    """The conductor of one leg: of a star quad two cores joined."""
    try:
        conductor = conductor_from_text(str(given["conductor"]))
        return in_parallel(conductor, 2) if given.get("cores") == 4 else conductor
    except OhmsworthError as fault:
        raise ArgumentFault("conductor", given["conductor"], f"one conductor ({fault})") from fault


def _constants(
    family: Family, way: Way, given: Given, leg: Conductor
) -> tuple[LineConstants | PairConstants, Conductor]:
    """Constants of a metre, and the leg with the lay that the description tells."""
    value = {key: float(given[key]) for key in given if ENTRIES[key].dimension != "text"}
    if "permittivity" in way.keys:
        return _of_measures(family.name, value, leg)
    if family.name == "pair":
        return _of_pair(value, leg), leg
    if "velocity_factor" in value:
        return constants_of_impedance(value["impedance"], value["velocity_factor"]), leg
    wires = (leg,) if family.name == "coax" else (leg, leg)
    return LineConstants(_inductance(value, value["capacitance"], wires), value["capacitance"]), leg


def _check_velocity(constants: LineConstants | PairConstants, way: Way, given: Given) -> None:
    """Refuse what no cable can have: a slip of a unit gives a velocity beyond that of light, or next to none."""
    velocity = velocity_factor_of(constants.inductance, _between(constants))
    lowest, highest = ENTRIES["velocity_factor"].lowest, ENTRIES["velocity_factor"].highest
    # The last digit of a float is no fault of whoever wrote a velocity of exactly 1.
    if not lowest <= velocity <= highest * (1 + 1e-9):
        wanted = (
            f"values whose velocity is {lowest:g} to {highest:g} of that of light: these give {velocity:.3g}"
        )
        raise ArgumentFault(way.keys[-1], given[way.keys[-1]], wanted)


def _of_pair(value: Mapping[str, float], leg: Conductor) -> PairConstants:
    if "velocity_factor" in value:
        both = constants_of_impedance(value["impedance"], value["velocity_factor"])
        core_core, core_screen = _elements(value, both.capacitance)
        return PairConstants(both.inductance, core_core, core_screen)
    if "measured_core_core" in value:
        between = value["measured_core_core"]
        core_core, core_screen = elements_of_measured(between, value["measured_core_rest"])
        return PairConstants(_inductance(value, between, (leg, leg)), core_core, core_screen)
    if value["core_core"] + value["core_screen"] == 0:
        raise ArgumentFault("core_core", 0.0, "more than zero, where the capacitance to the screen is zero")
    return PairConstants(value["inductance"], value["core_core"], value["core_screen"])


def _elements(value: Mapping[str, float], between: float) -> tuple[float, float]:
    """(Cc, Cs) of a pair with the capacitance `between` its cores, screen open."""
    if "measured_core_rest" in value:
        return elements_of_measured(between, value["measured_core_rest"])
    core_screen = value["core_screen"]
    if core_screen > 2 * between:
        wanted = f"at most {show_stated(2 * between, 'F/m')} with this impedance and velocity"
        raise ArgumentFault("core_screen", core_screen, wanted)
    return between - core_screen / 2, core_screen


def _inductance(value: Mapping[str, float], between: float, wires: tuple[Conductor, ...]) -> float:
    if "measured_inductance" in value:
        return external_inductance(value["measured_inductance"], wires)
    if "impedance" in value:
        return inductance_of_impedance(value["impedance"], between)
    return value["inductance"]


def _of_measures(
    family: str, value: Mapping[str, float], leg: Conductor
) -> tuple[LineConstants | PairConstants, Conductor]:
    diameter, permittivity = _bare_diameter(value, leg), value["permittivity"]
    if family == "coax":
        return coax(diameter, value["screen_diameter"], permittivity), leg
    spacing, quad = value["insulation_diameter"], value.get("cores") == 4
    if spacing <= diameter:
        raise ArgumentFault(
            "insulation_diameter", spacing, f"more than the bare conductor, {show_stated(diameter, 'm')}"
        )
    factor = 1.0
    if "pitch" in value:
        factor = twist_factor(value["pitch"], spacing * 2**0.5 if quad else spacing)
        leg = with_lay(leg, factor - 1)
    if family == "pair":
        screened = quad_in_screen if quad else pair_in_screen
        pair = screened(diameter, spacing, value["screen_diameter"], permittivity)
        return lengthened(pair, factor), leg
    open_cable = open_quad if quad else two_wires
    return lengthened(open_cable(diameter, spacing, permittivity), factor), leg


def _bare_diameter(value: Mapping[str, float], leg: Conductor) -> float:
    found = value.get("conductor_diameter", leg.diameter)
    if found is None:
        wanted = "the diameter over the bare copper, which an area does not tell; or write the conductor by its strands"
        raise ArgumentFault("conductor_diameter", None, wanted)
    return found


def _between(constants: LineConstants | PairConstants) -> float:
    """Capacitance between the two conductors that the current flows in, the screen of a pair left open."""
    if isinstance(constants, LineConstants):
        return constants.capacitance
    return constants.core_core + constants.core_screen / 2


def _settings(constants: LineConstants | PairConstants) -> dict[str, float]:
    if isinstance(constants, PairConstants):
        return {
            "core_core": constants.core_core,
            "core_screen": constants.core_screen,
            "inductance": constants.inductance,
        }
    return {"capacitance": constants.capacitance, "inductance": constants.inductance}


def _renamed(fault: ArgumentFault, given: Given) -> ArgumentFault:
    """`fault` of a formula, under the name of the entry that is to be corrected."""
    names = {**_ENTRY_OF, "lay": "pitch"}
    names["capacitance_per_metre"] = "capacitance" if "capacitance" in given else "measured_core_core"
    if "screen_diameter" in given and "insulation_diameter" not in given:
        names["diameter"] = "screen_diameter"
    name = names.get(fault.name, fault.name)
    wanted = str(fault).partition(", wanted ")[2]
    return ArgumentFault(name, given.get(name), wanted)


def _listed(keys: tuple[str, ...]) -> str:
    return keys[0] if len(keys) == 1 else f"{', '.join(keys[:-1])} and {keys[-1]}"
