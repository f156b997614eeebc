"""A CSV file whose columns are told by their own names: texts, days and quantities, and all that is wrong with it."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import numpy as np

from ohmsworth.adapters.files.cells import decimal_mark, read_quantities
from ohmsworth.adapters.files.decode import read_text
from ohmsworth.adapters.files.header import split_heading
from ohmsworth.adapters.files.sheet import Row, cut, fitting_rows
from ohmsworth.adapters.files.times import read_date
from ohmsworth.cables.no_path import says_no_path
from ohmsworth.errors import Fault, QuantityFault, nearest_name, shorten
from ohmsworth.readings.table import Array, Labels
from ohmsworth.units import Unit, parse_unit, tidy

_MEND_DAY = "Write year, month and day in this order."


@dataclass(frozen=True, slots=True)
class NamedColumns:
    """The cells of a file by the names of its columns; `units` of those that are quantities, `unused` headings.

    `faults` gather what is wrong, those of cells as they are read.
    """

    file: str
    lines: list[int]
    separator: str
    cells: dict[str, list[str]]
    units: dict[str, Unit]
    unused: tuple[str, ...]
    faults: list[Fault]

    def fault(self, row: int, name: str, found: str, expected: str, mend: str) -> None:
        """Note a fault in the cell of a row and column."""
        where = f"{self.file}, line {self.lines[row]}, column '{name}'"
        self.faults.append(Fault(where, found, expected, mend))

    def texts(self, name: str, needed: bool = True) -> list[str]:
        """The cells of a column of texts; empty ones are at fault where it is `needed`."""
        found = [tidy(text) for text in self.cells.get(name, [""] * len(self.lines))]
        for row, text in enumerate(found if needed and name in self.cells else ()):
            if not text:
                self.fault(row, name, "an empty cell", f"a {name}", "Fill it in, or delete the row.")
        return found

    def days(self, name: str) -> list[date | None]:
        """The cells of a column of days; None where one is at fault."""
        found: list[date | None] = []
        for row, text in enumerate(self.texts(name, needed=False)):
            day = read_date(text)
            if day is None and name in self.cells:
                told = shorten(text) if text else "an empty cell"
                self.fault(row, name, told, "a day such as 2026-03-01", _MEND_DAY)
            found.append(None if day is None else date.fromisoformat(day[1][:10]))
        return found

    def resistances(self, names: Collection[str], no_path: bool) -> dict[str, Array]:
        """Columns of resistances in ohm, above zero: NaN where a cell is at fault; infinite for no path where that may be."""
        plain, found = {}, {}
        for name in names:
            plain[name] = Labels.of(["" if says_no_path(t) and no_path else t for t in self.cells[name]])
        decimal = decimal_mark(list(plain.values()), self.separator)
        for name, column in plain.items():
            unit = self.units.get(name, Unit("resistance", 1.0))
            lines = np.array(self.lines, np.int64)
            values, bad = read_quantities(column, lines, name, unit, decimal, self.file)
            self.faults.extend(bad)
            wrong = {fault.where for fault in bad}
            for row, text in enumerate(self.cells[name]):
                place = f"{self.file}, line {self.lines[row]}, column '{name}'"
                if no_path and says_no_path(text):
                    values[row] = np.inf
                elif place not in wrong and not values[row] > 0:
                    told = shorten(text) if text.strip() else "an empty cell"
                    more = ", or 'open' for no path" if no_path else ""
                    self.fault(
                        row, name, told, f"a resistance above zero{more}", "Correct it, or delete the row."
                    )
                    values[row] = np.nan
            found[name] = values
        return found


def read_columns(path: Path, columns: Mapping[str, bool], optional: Collection[str] = ()) -> NamedColumns:
    """Cut the file into its columns.

    Parameters
    ----------
    columns
        Name -> whether it holds resistances, with their unit in the heading.
    optional
        Those of `columns` that may be missing.
    """
    text, faults = read_text(path)
    if text is None:
        return NamedColumns(path.name, [], ",", {}, {}, (), faults)
    rows, lines, separator, faults = cut(text, path.name)
    if not rows:
        return NamedColumns(path.name, [], separator, {}, {}, (), faults)
    places, units, unused, more = _headings(rows[0], lines[0], path.name, columns, optional)
    good, kept, bad = fitting_rows(rows, lines, path.name)
    if len(rows) == 1:
        bad = [Fault(path.name, "a header and no rows", "at least one row", "Add rows, or remove the file.")]
    cells = {name: [row[k].strip() if k < len(row) else "" for row in good] for name, k in places.items()}
    return NamedColumns(path.name, kept, separator, cells, units, unused, [*faults, *more, *bad])


def _headings(
    heading: Row, line: int, file: str, columns: Mapping[str, bool], optional: Collection[str]
) -> tuple[dict[str, int], dict[str, Unit], tuple[str, ...], list[Fault]]:
    """Where each column stands, units, headings that are not used, and faults."""
    places: dict[str, int] = {}
    units: dict[str, Unit] = {}
    unused: list[str] = []
    faults: list[Fault] = []
    for place, cell in enumerate(heading):
        name, unit = split_heading(cell)
        where = f"{file}, line {line}, column {place + 1}"
        if name in places:
            faults.append(
                Fault(where, f"a second column {shorten(name)}", "each column once", "Remove one of them.")
            )
        elif name in columns:
            places[name] = place
            if columns[name]:
                try:
                    units[name] = parse_unit(unit or "", "resistance")
                except QuantityFault as fault:
                    mend = f"Head the column '{name} [mΩ]' or the like."
                    faults.append(Fault(f"{where} ({name})", fault.found, fault.expected, mend))
        elif name and not name.startswith("note"):
            near = nearest_name(name, tuple(columns), 0.75)
            if near is None:
                unused.append(shorten(tidy(cell))[1:-1])
            else:
                mend = f"Write '{near}', or begin the name with 'note' to keep it as a remark."
                faults.append(
                    Fault(where, f"the unknown column {shorten(cell)}", f"'{near}' or another name", mend)
                )
    for name in columns:
        if name not in places and name not in optional:
            told = f"{name} [mΩ]" if columns[name] else name
            faults.append(
                Fault(f"{file}, line {line}", f"no column '{name}'", f"a column '{told}'", "Add the column.")
            )
    return places, units, tuple(unused), faults
