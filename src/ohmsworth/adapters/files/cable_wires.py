"""The tables ``[[wires]]`` of cable.toml: one wire each, or many alike in a short form."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import repeat

from ohmsworth.adapters.files.asked import Asked, found_value
from ohmsworth.adapters.files.cable_places import places_from_text
from ohmsworth.cables.build import Place, Wire, WireKind
from ohmsworth.errors import QuantityFault, nearest_name, shorten
from ohmsworth.units import tidy


def read_wires(
    asked: Asked, ends: Mapping[str, tuple[str, ...]], kinds: Mapping[str, WireKind | None]
) -> tuple[Wire, ...]:
    """Every wire that can be read."""
    if "wires" not in asked.table:
        asked.fault("wires", "no such table", "a table headed [[wires]] for each wire", "Add them.")
    wires: list[Wire] = []
    seen: dict[str, str] = {}
    for table in asked.several("wires"):
        for wire in _wires(table, ends, kinds):
            if wire.name in seen:
                found = f"the name {shorten(wire.name)} a second time, after {seen[wire.name]}"
                table.fault("name", found, "names that differ", "Give each wire a name of its own.")
                continue
            seen[wire.name] = table.where.rpartition(", ")[2]
            wires.append(wire)
    return tuple(wires)


def _wires(
    table: Asked, ends: Mapping[str, tuple[str, ...]], kinds: Mapping[str, WireKind | None]
) -> list[Wire]:
    before = len(table.faults)
    starts, stops = _places(table, "from", ends), _places(table, "to", ends)
    kind = _kind(table, kinds)
    name = table.text("name")
    many = max(len(starts), 1)
    pairs, colours = _each(table, "pair", many), _each(table, "colour", many)
    table.done()
    if starts and stops and len(starts) != len(stops):
        mend = "Write as many contacts on both sides; they are joined in their order."
        table.fault("to", f"{len(stops)} contacts for {len(starts)}", "as many as in 'from'", mend)
    if any(one.end == other.end for one, other in zip(starts, stops, strict=False)):
        mend = "What is joined at one end is a link: put it under [[links]]."
        table.fault("to", "contacts of one end", "contacts of two ends", mend)
    if len(table.faults) > before or kind is None:
        return []
    single = len(starts) == 1
    by_way = (
        len({one.contact.partition(".")[2] for one in starts}) == 1
    )  # one wire a way: "hot 17", not "hot 17.2"
    return [
        Wire(
            _name(name, one, other, "" if single else _way(one) if by_way else one.contact), one, other, kind,
            pair if single or not pair or isinstance(table.table["pair"], list) else f"{pair} {_way(one)}", colour,
        )
        for one, other, pair, colour in zip(starts, stops, pairs, colours, strict=True)
    ]  # fmt: skip


def _name(name: str | None, one: Place, other: Place, number: str) -> str:
    if name is None:
        return f"{one} – {other}"
    return f"{name} {number}".rstrip()


def _way(place: Place) -> str:
    """What wires of one signal share: the way before a point, or else the contact."""
    return place.contact.partition(".")[0]


def _places(table: Asked, key: str, ends: Mapping[str, tuple[str, ...]]) -> tuple[Place, ...]:
    text = table.text(key)
    if text is None:
        if key not in table.table:
            table.fault(key, "no such key", f'a contact, such as {key} = "A:1"', "Add it.")
        return ()
    if not ends:  # told already
        return ()
    try:
        return places_from_text(text, ends)
    except QuantityFault as error:
        table.fault(key, error.found, error.expected, error.mend)
        return ()


def _kind(table: Asked, kinds: Mapping[str, WireKind | None]) -> WireKind | None:
    """The kind by its name, the only one where none is named; None also for one that is at fault itself."""
    name = table.text("kind")
    if name is None and "kind" not in table.table and len(kinds) == 1:
        return next(iter(kinds.values()))
    if name is not None and name in kinds:
        return kinds[name]
    if name is None and "kind" in table.table:
        return None
    near = nearest_name(name, tuple(kinds)) if name else None
    mend = f"Did you mean {shorten(near)}?" if near else "Head a table [kinds.NAME], and name it here."
    some = "one of " + ", ".join(list(kinds)[:8]) if kinds else "a kind from [kinds.NAME]"
    table.fault("kind", shorten(name) if name else "no such key", some, mend)
    return None


def _each(table: Asked, key: str, many: int) -> list[str]:
    """A word for every wire: one for all, or a list of as many."""
    if isinstance(table.table.get(key), list):
        words = [tidy(word) for word in table.items(key, str, "words, one a wire")]
        if len(words) != many:
            found = found_value(table.table[key]) if not words else f"{len(words)} words for {many} wires"
            table.fault(key, found, "one word for all, or one for each", "Check the list.")
            return [""] * many
        return words
    return list(repeat(table.text(key) or "", many))
