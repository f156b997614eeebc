"""test.csv: what was measured at a cable, between which contacts, or everything that is wrong with it."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from ohmsworth.adapters.files.cable_places import REST, group_from_text
from ohmsworth.adapters.files.cells import decimal_mark
from ohmsworth.adapters.files.sheet import Sheet, open_sheet, read_values
from ohmsworth.cables.build import Place
from ohmsworth.cables.no_path import says_no_path
from ohmsworth.cables.request import CableRow
from ohmsworth.errors import Fault, QuantityFault, shorten
from ohmsworth.readings.entry import Typed
from ohmsworth.units import UNITS, plain_digits, tidy
from ohmsworth.work.cable_ports import ReadTest, WrittenRow

FILE = "test.csv"
_SIDES = ("from", "to")


def read_test(
    path: Path, ends: Mapping[str, tuple[str, ...]], least: float = 0.0
) -> tuple[ReadTest, list[Fault]]:
    """Read the file: its measurements (those that can be read), headings that are not used, and all faults.

    Parameters
    ----------
    ends
        Contacts of each end by its name.
    least
        Ohm that the meter may show where there is nothing: a reading below it is a fault.
    """
    opened, faults = open_sheet(path, FILE, specimens=False, named=_SIDES)
    sheet = opened.sheet
    if sheet is None:
        return ReadTest((), (), ()), faults
    missing = [name for name in _SIDES if name not in sheet.columns]
    for name in missing:
        expected = "columns from, to and 'resistance [Ω]'"
        faults.append(
            Fault(FILE, f"no column '{name}'", expected, "Add it: the contacts on that side of the meter.")
        )
    if missing or "resistance" not in sheet.columns or not ends:
        return ReadTest((), (), sheet.unused), faults
    read, more = _rows(sheet, ends, least)
    return read, faults + more


def _rows(sheet: Sheet, ends: Mapping[str, tuple[str, ...]], least: float) -> tuple[ReadTest, list[Fault]]:
    shown = sheet.texts("resistance")
    no_path = [says_no_path(text) for text in shown]
    numbers = sheet.cells["resistance"].renamed(lambda text: "" if says_no_path(text) else text)
    values, faults = read_values(replace(sheet, cells={**sheet.cells, "resistance": numbers}))
    ohm = values.quantity["resistance"].tolist()
    decimal, unit = decimal_mark([numbers], sheet.separator), _unit(sheet)
    rows, written = [], []
    for k, (one, other) in enumerate(zip(sheet.texts("from"), sheet.texts("to"), strict=True)):
        line = int(sheet.lines[k])
        sides, bad = _sides(one, other, line, ends)
        faults += bad
        if sides is None or (math.isnan(ohm[k]) and not no_path[k]):
            continue  # at fault, or not measured yet
        if ohm[k] < least:
            where, mend = (
                f"{FILE}, line {line}, column 'resistance'",
                "Exchange the leads, or null the meter, and read again.",
            )
            faults.append(Fault(where, shorten(shown[k]), "zero or more", mend))
            continue
        rows.append(CableRow(line, *sides, None if no_path[k] else ohm[k]))
        typed = None if no_path[k] else Typed(plain_digits(tidy(shown[k]), decimal), unit, "resistance")
        written.append(WrittenRow(one, other, typed))
    return ReadTest(tuple(rows), tuple(written), sheet.unused), faults


def _unit(sheet: Sheet) -> str:
    """The unit of the resistances; the heading's own fault is told where it has none."""
    unit = sheet.columns["resistance"].unit
    return next((name for name, one in UNITS.items() if one == unit), "Ω")


def _sides(
    one: str, other: str, line: int, ends: Mapping[str, tuple[str, ...]]
) -> tuple[tuple[tuple[Place, ...], tuple[Place, ...]] | None, list[Fault]]:
    """The contacts on either side; "rest" is every contact that the other side does not hold."""
    found: dict[str, tuple[Place, ...]] = {}
    faults = []
    for column, text in zip(_SIDES, (one, other), strict=True):
        where = f"{FILE}, line {line}, column '{column}'"
        if text.strip().lower() == REST:
            continue
        try:
            found[column] = group_from_text(text, ends)
        except QuantityFault as error:
            faults.append(Fault(where, error.found, error.expected, error.mend))
    if faults:
        return None, faults
    if not found:
        where = f"{FILE}, line {line}"
        return None, [
            Fault(where, "'rest' on both sides", "contacts on one side", "Name the contacts of one.")
        ]
    one_side, other_side = (
        found.get(column) or _rest(ends, found[_SIDES[1 - k]]) for k, column in enumerate(_SIDES)
    )
    both = set(one_side) & set(other_side)
    if both or not (one_side and other_side):
        told = shorten(str(min(both))) + " on both sides" if both else "nothing on one side"
        mend = "A contact is on one side of the meter: correct one of the two."
        return None, [Fault(f"{FILE}, line {line}", told, "other contacts on either side", mend)]
    return (one_side, other_side), []


def _rest(ends: Mapping[str, tuple[str, ...]], held: tuple[Place, ...]) -> tuple[Place, ...]:
    """Every contact that the other side does not hold."""
    every = (Place(end, contact) for end, contacts in ends.items() for contact in contacts)
    return tuple(place for place in every if place not in held)
