"""The heading of readings.csv: which column holds what, in which unit."""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence
from dataclasses import dataclass

from ohmsworth.errors import Fault, QuantityFault, nearest_name, shorten
from ohmsworth.readings.names import column_name
from ohmsworth.units import Unit, parse_unit, tidy

LABELS = (
    "specimen",
    "condition",
    "contact",
    "mating",
    "plug",
    "socket",
    "plug condition",
    "socket condition",
)
QUANTITIES = {
    "voltage": "voltage",
    "current": "current",
    "resistance": "resistance",
    "temperature": "temperature",
}
#: Columns that are kept in the file and not used.
REMARKS = ("note", "notes", "remark", "operator", "day", "date", "meter", "step", "reading")
KNOWN = (*LABELS, "polarity", "time", *QUANTITIES, *REMARKS)

_EXAMPLES = {"voltage": "mV", "current": "mA", "resistance": "mΩ", "temperature": "°C"}
_HEADING = re.compile(r"\s*(?P<name>[^\[\]()]*?)\s*(?:\[(?P<square>[^\[\]]*)\]|\((?P<round>[^()]*)\))?\s*")


@dataclass(frozen=True, slots=True)
class Column:
    """A column: its place, its name, and its unit where it is a quantity."""

    place: int
    name: str
    unit: Unit | None


def split_heading(text: str) -> tuple[str, str | None]:
    """Name and unit of a heading such as ``voltage [mV]``."""
    match = _HEADING.fullmatch(tidy(text))
    if not match:
        return tidy(text).lower(), None
    unit = match["square"] if match["square"] is not None else match["round"]
    return column_name(match["name"]), unit


def read_header(
    cells: Sequence[str],
    line: int,
    file: str,
    specimens: bool = True,
    named: Collection[str] = (),
    readings: bool = True,
) -> tuple[dict[str, Column], list[Fault], list[str]]:
    """Columns by name, faults (no column of specimens or of readings is one only where there should be), unused headings.

    `named` are columns that the study asks for by name.
    """
    columns: dict[str, Column] = {}
    faults: list[Fault] = []
    unused: list[str] = []
    meant: set[str] = set()  # what misspelt headings stand for: no need to miss it too
    for place, cell in enumerate(cells):
        name, unit_text = split_heading(cell)
        where = f"{file}, line {line}, column {place + 1}"
        if not name and unit_text is None:
            continue
        if name.startswith("note") and name not in named:
            continue
        if name not in KNOWN and name not in named:
            near = _unknown(name, cell, where, faults, unused)
            meant |= {near} if near else set()
        elif name in columns:
            faults.append(
                Fault(
                    where,
                    f"a second column {shorten(name)}",
                    "each column once",
                    "Rename or remove one of them.",
                )
            )
        else:
            columns[name] = Column(place, name, _unit(name, unit_text, where, faults))
    if not columns and not meant and len(cells) > 1:
        return columns, [*faults, _foreign(cells, f"{file}, line {line}")], unused
    named = {*columns, *meant, *(() if specimens else ("specimen",)), *(() if readings else ("resistance",))}
    faults += _missing(named, f"{file}, line {line}", len(cells))
    return columns, faults, unused


def _foreign(cells: Sequence[str], where: str) -> Fault:
    """A first line in which no heading is known: none at all, or in another language."""
    found = ", ".join(shorten(tidy(cell), 16) for cell in cells[:8] if cell.strip())
    more = " and more" if len(cells) > 8 else ""
    return Fault(
        where,
        f"no known heading among {found}{more}",
        "headings such as specimen, condition, mating, polarity, 'voltage [mV]', 'current [mA]' or 'resistance [mΩ]'",
        "Name the columns so in the first line; the rows below stay as they are.",
    )


def _unknown(name: str, cell: str, where: str, faults: list[Fault], unused: list[str]) -> str | None:
    """Refuse a heading that is nearly a known one, and return that one; let others pass unused."""
    near = nearest_name(name, KNOWN, cutoff=0.75)
    if near is None:
        unused.append(shorten(tidy(cell))[1:-1])
        return None
    heading = f"{near} [{_EXAMPLES[near]}]" if near in _EXAMPLES else near
    faults.append(
        Fault(
            where,
            f"the unknown column {shorten(cell)}",
            f"a known one; the nearest is '{heading}'",
            f"Write '{heading}', or begin the name with 'note' to keep it as a remark.",
        )
    )
    return near


def _unit(name: str, unit_text: str | None, where: str, faults: list[Fault]) -> Unit | None:
    if name not in QUANTITIES:
        return None
    try:
        return parse_unit(unit_text or "", QUANTITIES[name])
    except QuantityFault as fault:
        faults.append(
            Fault(
                f"{where} ({name})",
                fault.found,
                fault.expected,
                f"Head the column '{name} [{_EXAMPLES[name]}]' or the like.",
            )
        )
        return None


def _missing(columns: set[str], where: str, width: int) -> list[Fault]:
    if width == 1:
        expected = "cells with a comma, a semicolon or a tab between them"
        return [Fault(where, "one cell only", expected, "Save the sheet as CSV, separated by one of these.")]
    faults = []
    if "specimen" not in columns and not ("plug" in columns and "socket" in columns):
        faults.append(
            Fault(
                where,
                "no column 'specimen'",
                "a column 'specimen' (or 'plug' and 'socket')",
                "Add the column; give every specimen a name of its own.",
            )
        )
    volts, amps, ohms = (name in columns for name in ("voltage", "current", "resistance"))
    if ohms and (volts or amps):
        faults.append(
            Fault(
                where,
                "both 'resistance' and 'voltage' or 'current'",
                "either resistance, or voltage and current",
                "Keep one of the two; rename the other to 'note ...'.",
            )
        )
    elif not ohms and not (volts and amps):
        have = "only 'voltage'" if volts else "only 'current'" if amps else "no column of readings"
        faults.append(
            Fault(
                where,
                have,
                "'voltage [unit]' with 'current [unit]', or 'resistance [unit]'",
                "Add the missing column with its unit.",
            )
        )
    return faults
