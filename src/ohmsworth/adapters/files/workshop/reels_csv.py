"""reels.csv: how much of which wire is in stock, or everything that is wrong with it."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from ohmsworth.adapters.files.cells import decimal_mark, read_quantities
from ohmsworth.adapters.files.decode import read_text
from ohmsworth.adapters.files.header import split_heading
from ohmsworth.adapters.files.sheet import Row, cut
from ohmsworth.cables.workshop.cutting import Reel
from ohmsworth.cables.workshop.pieces import whole_millimetres
from ohmsworth.errors import Fault, QuantityFault, shorten
from ohmsworth.readings.names import clean_name
from ohmsworth.readings.table import Labels
from ohmsworth.units import Unit, parse_unit

_TEXTS, _LENGTHS = ("wire", "reel"), ("length", "useful")
_NEEDED = ("wire", "length")
_HEADINGS = "columns wire and 'length [m]', and where wished reel and 'useful [m]'"
_NEW = "Write it as on the manual's page on the workshop: wire,length [m]"
#: Metre on one reel, and reels of one shop; beyond lies a slip.
_LONGEST, MOST_REELS = 20e3, 2000


@dataclass(frozen=True, slots=True)
class _Column:
    place: int
    unit: Unit | None


def read_reels(path: Path) -> tuple[tuple[Reel, ...], tuple[str, ...], list[Fault]]:
    """The reels of a file (those that can be read), headings that are not used, and all faults."""
    file = path.name
    text, faults = read_text(path, _NEW)
    if text is None:
        return (), (), faults
    rows, lines, separator, faults = cut(text, file)
    if not rows:
        return (), (), faults
    columns, unused, faults = _header(rows[0], f"{file}, line {lines[0]}")
    if faults:
        return (), unused, faults
    if len(rows) == 1:
        faults.append(
            Fault(file, "a header and no reels", "a row for each reel", "Add them below the header.")
        )
    if len(rows) > MOST_REELS + 1:
        found = f"{len(rows) - 1} reels"
        faults.append(Fault(file, found, f"at most {MOST_REELS}", "Leave out those that are not meant."))
    if faults:
        return (), unused, faults
    reels, faults = _reels(rows[1:], lines[1:], columns, separator, file)
    return reels, unused, faults


def _header(cells: Row, where: str) -> tuple[dict[str, _Column], tuple[str, ...], list[Fault]]:
    columns: dict[str, _Column] = {}
    unused: list[str] = []
    faults: list[Fault] = []
    for place, cell in enumerate(cells):
        name, unit_text = split_heading(cell)
        if name in columns:
            found = f"a second column {shorten(name)}"
            faults.append(Fault(where, found, "each column once", "Rename or remove one of them."))
        elif name in _TEXTS:
            columns[name] = _Column(place, None)
        elif name in _LENGTHS:
            try:
                columns[name] = _Column(place, parse_unit(unit_text or "", "length"))
            except QuantityFault as error:
                mend = f"Head the column '{name} [m]' or the like."
                faults.append(Fault(f"{where}, column '{name}'", error.found, error.expected, mend))
                columns[name] = _Column(place, Unit("length", 1.0))
        elif cell.strip():
            unused.append(clean_name(cell))
    for name in _NEEDED:
        if name not in columns:
            faults.append(Fault(where, f"no column '{name}'", _HEADINGS, "Add the column."))
    return columns, tuple(unused), faults


def _reels(
    rows: list[Row], lines: list[int], columns: dict[str, _Column], separator: str, file: str
) -> tuple[tuple[Reel, ...], list[Fault]]:
    cells = {
        name: [row[one.place].strip() if one.place < len(row) else "" for row in rows]
        for name, one in columns.items()
    }
    named = {name: Labels.of(cells[name]) for name in _LENGTHS if name in cells}
    mark = decimal_mark(list(named.values()), separator)
    at = np.array(lines, np.int64)
    metres: dict[str, list[float]] = {"useful": [math.nan] * len(rows)}
    faults: list[Fault] = []
    for name, column in named.items():
        values, bad = read_quantities(column, at, name, columns[name].unit or Unit("length", 1.0), mark, file)
        metres[name] = values.tolist()
        faults += bad
    told = {fault.where for fault in faults}
    counted: Counter[str] = Counter()
    reels: dict[tuple[str, str], Reel] = {}
    for k, line in enumerate(lines):
        wire = clean_name(cells["wire"][k])
        counted[wire] += 1
        name = clean_name(cells["reel"][k]) if "reel" in cells else ""
        name = name or f"no. {counted[wire]}"
        long, useful = metres["length"][k], metres["useful"][k]
        bad = _faults(file, line, wire, long, useful, cells["length"][k])
        if (wire, name) in reels:
            found = f"a second reel {shorten(name)} of {shorten(wire)}"
            mend = "Give each reel of a wire a name of its own, or leave the names out."
            bad.append(Fault(f"{file}, line {line}, column 'reel'", found, "names that differ", mend))
        bad = [fault for fault in bad if fault.where not in told]
        faults += bad
        if bad or math.isnan(long):
            continue
        worth = None if math.isnan(useful) else whole_millimetres(useful, up=True)
        reels[wire, name] = Reel(name, wire, whole_millimetres(long, up=False), worth)
    return tuple(reels.values()), faults


def _faults(file: str, line: int, wire: str, long: float, useful: float, typed: str) -> list[Fault]:
    where = f"{file}, line {line}, column"
    faults = []
    if not wire:
        faults.append(Fault(f"{where} 'wire'", "an empty cell", "the name of the wire", "Write it."))
    if not 1e-3 <= long <= _LONGEST:
        found = shorten(typed) if typed else "an empty cell"
        faults.append(Fault(f"{where} 'length'", found, "1 mm to 20 km", "Write how much is on the reel."))
    if useful < 0 or useful > _LONGEST:
        mend = "Write from which length on a rest is kept, or leave it empty."
        faults.append(Fault(f"{where} 'useful'", f"{useful:g} m", "0 m to 20 km", mend))
    return faults
