"""The shop's own cables: each ``[[cable]]`` of cables.toml to a construction, or everything that is wrong."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from ohmsworth.adapters.files.asked import Asked, found_value
from ohmsworth.adapters.files.labels import LONGEST_NAME
from ohmsworth.adapters.files.toml_text import read_toml
from ohmsworth.errors import ArgumentFault, InputRefused, QuantityFault, UnknownName, shorten
from ohmsworth.materials import (
    ENTRIES,
    FAMILIES,
    Construction,
    Entry,
    Family,
    conductor_from_text,
    construct,
    keys_of,
    plain_name,
    way_of,
)
from ohmsworth.readings.names import clean_name

FILE = "cables.toml"
_EXAMPLE = 'Write [[cable]], and under it name = "...", family = "pair" and what is known of the cable.'


def read_cables(path: Path) -> tuple[Construction, ...]:
    """Read the file at `path`: its cables in their order.

    Raises
    ------
    InputRefused
        With every fault of the file.
    """
    table, faults = read_toml(path, _EXAMPLE)
    if table is None:
        raise InputRefused(tuple(faults))
    asked = Asked(table, FILE, faults)
    names: dict[str, str] = {}
    cables = [_cable(each, names) for each in asked.several("cable")]
    asked.done()
    if faults:
        raise InputRefused(tuple(faults))
    return tuple(cable for cable in cables if cable is not None)


def _cable(table: Asked, names: dict[str, str]) -> Construction | None:
    """One cable; None when it is at fault. `names` are those before it, as they are compared."""
    before = len(table.faults)
    name = _name(table, names)
    words = table.text("words") or "the shop's own"
    source = table.text("source") or FILE
    family = _family(table)
    if family is None:
        return None
    given = _given(table, family)
    table.done()
    _check_way(table, family)
    if len(table.faults) > before:
        return None
    try:
        return construct(name, words, family.name, given, source)
    except ArgumentFault as error:
        _conflict(table, error)
        return None


def _name(table: Asked, names: dict[str, str]) -> str:
    name = clean_name(table.text("name") or "")
    if "name" not in table.table:
        table.fault("name", "no such key", 'a name, such as name = "stage multicore pair"', "Add it.")
    if not name:
        return name
    if len(name) > LONGEST_NAME or not name.isprintable():
        wanted = f"a name of at most {LONGEST_NAME} characters"
        table.fault("name", shorten(name), wanted, "Write another name.")
    plain, place = plain_name(name), table.where.removeprefix(f"{FILE}, ")
    if plain in names:
        table.fault("name", shorten(name), f"a name that {names[plain]} has not", "Rename one of them.")
    names.setdefault(plain, place)
    return name


def _family(table: Asked) -> Family | None:
    options = tuple(FAMILIES)
    if "family" not in table.table:
        told = "; ".join(f'"{family.name}" ({family.words})' for family in FAMILIES.values())
        table.fault("family", "no such key", told, 'Add family = "..."')
    chosen = table.choice("family", options, "")
    return FAMILIES[chosen] if chosen else None


def _given(table: Asked, family: Family) -> Mapping[str, float | str]:
    """The entries that stand there and are sound; every fault of the others."""
    found = {key: _value(table, ENTRIES[key]) for key in keys_of(family)}
    for key in family.needed:
        if key not in table.table:
            table.fault(key, "no such key", ENTRIES[key].words, f'Add {key} = "..."')
    return {key: value for key, value in found.items() if value is not None}


def _value(table: Asked, entry: Entry) -> float | str | None:
    if entry.dimension == "text":
        return _conductor(table, entry.key)
    if entry.dimension == "number":
        return table.whole(entry.key, int(entry.lowest), int(entry.highest))
    return table.quantity(entry.key, entry.dimension, entry.lowest, entry.highest, positive=False)


def _conductor(table: Asked, key: str) -> str | None:
    text = table.text(key)
    if text is None:
        return None
    try:
        conductor_from_text(text)
    except QuantityFault as error:
        table.fault(key, error.found, error.expected, error.mend)
    except UnknownName as error:
        table.fault(key, shorten(text), f"such as {' or '.join(error.known)}", "Write it as one of these.")
    return text


def _check_way(table: Asked, family: Family) -> None:
    """Note which entry is missing, or too much, for one way of describing the cable."""
    known = keys_of(family)
    try:
        way_of(family, {key: 0.0 for key in table.table if key in known})
    except ArgumentFault as error:
        _conflict(table, error)


def _conflict(table: Asked, error: ArgumentFault) -> None:
    """Entries that are each acceptable and do not go together, or not without another."""
    expected = str(error).partition(", wanted ")[2]
    if error.name in table.table:
        mend = "Correct it or remove it, or what it goes with."
        table.fault(error.name, found_value(table.table[error.name]), expected, mend)
    else:
        table.fault(
            error.name, "no such key", expected, "Add what is missing, as the datasheet or a ruler tells it."
        )
