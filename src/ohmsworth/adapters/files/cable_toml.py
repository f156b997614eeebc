"""cable.toml to what is known of a cable, or everything that is wrong with it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, cast

from ohmsworth.adapters.files.asked import Asked, found_value
from ohmsworth.adapters.files.cable_locate import read_locate
from ohmsworth.adapters.files.cable_places import contacts_from_text, places_from_text
from ohmsworth.adapters.files.cable_recorded import read_recorded
from ohmsworth.adapters.files.cable_supply import KIND_KEYS, read_supply
from ohmsworth.adapters.files.cable_wires import read_wires
from ohmsworth.adapters.files.known_toml import needed
from ohmsworth.adapters.files.paper_toml import read_paper
from ohmsworth.adapters.files.study_toml import named_meter, read_meter
from ohmsworth.adapters.files.toml_text import read_toml
from ohmsworth.cables.build import Build, End, Place, Role, WireKind
from ohmsworth.cables.distance import Quantity
from ohmsworth.cables.request import NO_PATH, USUAL_TEMPERATURE, USUAL_TOLERANCE, CableMeter, CableRequest
from ohmsworth.errors import ArgumentFault, Fault, QuantityFault, UnknownName, shorten
from ohmsworth.materials import conductor_from_text
from ohmsworth.readings.paper_request import PaperRequest
from ohmsworth.units import parse_quantity

FILE = "cable.toml"
#: What is believed of each, in SI: beyond lies a slip of the unit.
_LENGTH, _CONTACT, _PER_METRE, _LEADS = (0.01, 20e3), (1e-6, 10.0), (1e-6, 100.0), (1e-6, 100.0)
_FARAD_PER_METRE = (1e-12, 1e-8)
#: By how much a wire's capacitance may be off where nobody says: common practice, without a source.
_CAPACITANCE_TOLERANCE = 0.1
NEW = "The manual's page on built cables shows one to start from."
_ICE = 273.15


@dataclass(frozen=True, slots=True, eq=False)
class ReadCable:
    """What the file says: `request` is None when anything is at fault, `paper` also where nothing is stated for one."""

    request: CableRequest | None
    contacts: Mapping[str, tuple[str, ...]]
    faults: list[Fault]
    paper: PaperRequest | None = None


def read_cable(path: Path) -> ReadCable:
    """Read the file: what is known, the contacts of each end as far as known, all faults."""
    table, faults = read_toml(path, NEW)
    if table is None:
        return ReadCable(None, {}, faults)
    asked = Asked(table, FILE, faults)
    ends = _ends(asked)
    contacts = {name: end.contacts for name, end in ends.items()}
    kinds = _kinds(asked)
    wires = read_wires(asked, contacts, kinds)
    length = needed(asked, "length", "length", _LENGTH, "40 m")
    tolerance = _tolerance(asked, length)
    temperature, spread, stated = _temperature(asked)
    links = _links(asked, contacts)
    name = asked.text("name") or "the cable"
    build = _built(asked, name, tuple(ends.values()), wires, length or 1.0, tolerance, links)
    request = CableRequest(
        build,
        asked.text("serial") or "",
        temperature,
        spread,
        stated,
        _meter(asked),
        asked.number("coverage", 0.6, 0.9999, 0.95, "Write 0.95 for 95 %."),
        asked.quantity("no_path_from", "resistance", 1.0, 1e12) or NO_PATH,
        {name: one for name, one in _allowances(asked).items() if one is not None},
        tuple(sorted(_joints(asked, length))),
        read_locate(asked, wires, tuple(ends)),
        read_supply(asked, kinds),
        read_recorded(asked),
    )
    paper = read_paper(asked.inside("certificate"))
    asked.done()
    return ReadCable(None if faults else request, contacts, faults, paper)


#: Stands for a build that is at fault; nothing is ever computed of it.
_NOTHING = Build("", (End("", ("",)),), (), 1.0)


def _built(asked: Asked, *given: Any) -> Build:
    """The build; nothing, with the fault noted, where the core refuses it and nothing else was at fault."""
    try:
        return Build(*given)
    except ArgumentFault as error:
        if not asked.faults:
            asked.fault(error.name, str(error), "a cable that can be", "Check what is stated of it.")
        return _NOTHING


def _tables(asked: Asked, key: str, example: str) -> dict[str, Asked]:
    """Tables by name below ``[key]``; a fault where there are none."""
    whole = asked.inside(key)
    if whole is None:
        if key not in asked.table:
            mend = f"Head a table [{key}.{example}] for each."
            asked.fault(key, "no such table", f"tables such as [{key}.{example}]", mend)
        return {}
    found = {}
    for name in whole.table:
        table = whole.inside(name)
        if table is not None:
            found[name.strip()] = table
    return found


def _ends(asked: Asked) -> dict[str, End]:
    tables = _tables(asked, "ends", "A")
    if "ends" in asked.table and len(tables) < 2:
        asked.fault(
            "ends", f"{len(tables)} of them", "two ends or more", "Head a table [ends.NAME] for each."
        )
    return {name: _end(name, table) for name, table in tables.items()}


def _end(name: str, table: Asked) -> End:
    listed = table.items("contacts", str, 'contacts such as ["1-3", "shell"]')
    contacts: list[str] = []
    for text in listed:
        try:
            contacts += contacts_from_text(text)
        except QuantityFault as error:
            table.fault("contacts", error.found, error.expected, error.mend)
    if "contacts" not in table.table:
        table.fault("contacts", "no such key", 'contacts such as "1-3"', "Add them.")
    twice = sorted({one for one in contacts if contacts.count(one) > 1})
    if twice:
        table.fault("contacts", f"{shorten(twice[0])} twice", "each contact once", "Remove one of the two.")
    if ":" in name:
        table.fault("name", shorten(name), "a name without a colon", "Rename the end.")
    usual = table.quantity("contact_resistance", "resistance", *_CONTACT)
    limit = table.quantity("contact_limit", "resistance", *_CONTACT)
    if (usual is None) != (limit is None) and not {"contact_resistance", "contact_limit"} <= set(table.table):
        missing = "contact_limit" if limit is None else "contact_resistance"
        mend = "State both, of one mated contact with its termination, or neither for bare wire."
        table.fault(missing, "no such key", 'a resistance such as "3 mΩ"', mend)
    if usual is not None and limit is not None and usual > limit:
        table.fault("contact_resistance", "more than contact_limit", "at most the limit", "Check both.")
        usual = limit
    table.allow("allowance")
    connector = table.text("connector") or ""
    table.done()
    both = usual is not None and limit is not None
    return End(
        name,
        tuple(dict.fromkeys(contacts)) or ("",),
        connector,
        (usual or 0.0) if both else 0.0,
        (limit or 0.0) if both else 0.0,
    )


def _allowances(asked: Asked) -> dict[str, float | None]:
    """What is cut for each end, where stated."""
    whole = asked.table.get("ends")
    found = {}
    for name, table in whole.items() if isinstance(whole, dict) else ():
        if isinstance(table, dict) and "allowance" in table:
            inside = Asked(table, f"{asked.where}, [ends.{name}]", asked.faults)
            found[name.strip()] = inside.quantity("allowance", "length", 1e-3, 100.0)
    return found


def _kinds(asked: Asked) -> dict[str, WireKind | None]:
    """Each kind by its name; None for one that is at fault."""
    return {name: _kind(name, table) for name, table in _tables(asked, "kinds", "core").items()}


def _kind(name: str, table: Asked) -> WireKind | None:
    before = len(table.faults)
    text = table.text("conductor")
    per_metre = table.quantity("resistance", "resistance per length", *_PER_METRE)
    if len({"conductor", "resistance"} & set(table.table)) != 1:
        found = (
            "both conductor and resistance"
            if "conductor" in table.table
            else "neither conductor nor resistance"
        )
        expected = 'conductor = "0.22 mm² + 2 % lay", or resistance = "85 mΩ/m"'
        table.fault("conductor", found, expected, "State one of the two.")
    if text is not None:
        per_metre = _conductor(table, text)
    tolerance = table.quantity("tolerance", "ratio", 1e-4, 0.5)
    if "tolerance" not in table.table:
        mend = (
            "Take it from the wire's data sheet; flexible wire may have up to 16 % more than its nominal area says, "
            "tinned up to 19 %."
        )
        table.fault("tolerance", "no such key", 'how far the wire may be off, such as "5 %"', mend)
    each = table.quantity("capacitance", "capacitance per length", *_FARAD_PER_METRE)
    off = table.quantity("capacitance_tolerance", "ratio", 1e-3, 0.5)
    if "capacitance_tolerance" in table.table and "capacitance" not in table.table:
        mend = "Add it, or leave out its tolerance."
        table.fault("capacitance", "no such key", 'what a metre has, such as "150 pF/m"', mend)
    role = cast(Role, table.choice("role", ("core", "screen"), "core"))
    for key in KIND_KEYS:
        table.allow(key)
    table.done()
    if len(table.faults) > before or per_metre is None or tolerance is None:
        return None
    return WireKind(name, per_metre, tolerance, role, each, _CAPACITANCE_TOLERANCE if off is None else off)


def _conductor(table: Asked, text: str) -> float | None:
    try:
        return conductor_from_text(text).resistance_per_metre
    except QuantityFault as error:
        table.fault("conductor", error.found, error.expected, error.mend)
    except UnknownName:
        expected = 'a conductor such as "24 AWG" or "0.22 mm²"'
        table.fault("conductor", shorten(text), expected, "Write a gauge or a cross-section.")
    return None


def _tolerance(asked: Asked, length: float | None) -> float:
    """Metre; a percentage is one of the length."""
    value = asked.table.get("length_tolerance")
    if isinstance(value, str) and value.strip().endswith("%"):
        return (asked.quantity("length_tolerance", "ratio", 1e-5, 0.5) or 0.0) * (length or 0.0)
    found = asked.quantity("length_tolerance", "length", 1e-4, 1e3) or 0.0
    if length is not None and found >= length:
        asked.fault("length_tolerance", found_value(value), "less than the length", "Check both.")
    return found


def _temperature(asked: Asked) -> tuple[float, float, bool]:
    """Of the cable, by how much it may be off, and whether somebody said so."""
    value = asked.quantity("temperature", "temperature", positive=False)
    if value is not None and not 233.15 <= value <= 358.15:
        found = f"{value - _ICE:.0f} °C"
        asked.fault("temperature", found, "the cable's temperature, −40 to 85 °C", "Check value and unit.")
        value = None
    spread = asked.quantity("temperature_tolerance", "temperature")
    if spread is not None and spread > 200:  # "3 °C" is what people write for a difference of 3 K
        spread -= _ICE
    if spread is not None and not 0 < spread <= 50:
        found = found_value(asked.table["temperature_tolerance"])
        asked.fault(
            "temperature_tolerance", found, "how far it may be off, such as 3 K", "Check value and unit."
        )
        spread = None
    if value is None:
        return USUAL_TEMPERATURE, USUAL_TOLERANCE if spread is None else spread, False
    return value, spread or 0.0, True


def _links(asked: Asked, contacts: Mapping[str, tuple[str, ...]]) -> tuple[tuple[Place, Place], ...]:
    links: list[tuple[Place, Place]] = []
    for table in asked.several("links"):
        before = len(table.faults)
        places: list[Place] = []
        for text in table.items("contacts", str, 'contacts such as ["A:1", "A:shell"]'):
            try:
                places += places_from_text(text, contacts)
            except QuantityFault as error:
                table.fault("contacts", error.found, error.expected, error.mend)
        if len({place.end for place in places}) > 1:
            table.fault(
                "contacts", "contacts of two ends", "contacts of one end", "Two ends are joined by a wire."
            )
        elif len(set(places)) < 2 and "contacts" not in table.table:
            table.fault("contacts", "no such key", 'contacts = ["A:1", "A:shell"]', "Name what is joined.")
        elif len(set(places)) < 2 and len(table.faults) == before:
            table.fault("contacts", "fewer than two contacts", "two or more", "Name what is joined.")
        links += [(places[-1], place) for place in dict.fromkeys(places) if place != places[-1]]
        table.done()
    return tuple(dict.fromkeys(links))


def _meter(asked: Asked) -> CableMeter | None:
    table = asked.inside("meter")
    if table is None:
        return None
    two_wire = table.choice("wires", ("two-wire", "four-wire"), "four-wire") == "two-wire"
    leads = table.quantity("leads", "resistance", 0.0, _LEADS[1], positive=False)
    spread = table.quantity("leads_uncertainty", "resistance", *_LEADS)
    for key, example in (("leads", "0.12 Ω"), ("leads_uncertainty", "5 mΩ")):
        if two_wire and key not in table.table:
            mend = "Hold the tips of the leads together several times: what is shown, and by how much it changes."
            table.fault(
                key, "no such key", f'the leads of a two-wire meter, such as {key} = "{example}"', mend
            )
        elif not two_wire and key in table.table:
            mend = 'Remove it, or write wires = "two-wire".'
            table.fault(key, "the leads of a four-wire meter", "no such key: four wires leave them out", mend)
    named = named_meter(table, "ohmmeter")
    accuracy = read_meter(table, "resistance")
    if accuracy is None:
        return None
    return CableMeter(
        accuracy, Quantity(leads or 0.0, spread or 0.0), named.name, named.serial, named.calibrated
    )


def _joints(asked: Asked, length: float | None) -> list[float]:
    """Metre from the first end."""
    found = []
    for text in asked.items("joints", str, 'distances from the first end, such as ["12 m"]'):
        try:
            metres = parse_quantity(text, "length")
        except QuantityFault as error:
            asked.fault("joints", error.found, error.expected, error.mend)
            continue
        if length is not None and not 0 < metres < length:
            asked.fault("joints", shorten(text), "a place between both ends", "Check value and unit.")
        found.append(metres)
    return found
