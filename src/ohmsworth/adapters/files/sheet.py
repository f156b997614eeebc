"""A CSV file cut into cells, and its numbers read: what readings.csv and check.csv share."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Collection
from dataclasses import dataclass
from itertools import islice
from pathlib import Path

import numpy as np

from ohmsworth.adapters.files.cells import decimal_mark, read_polarities, read_quantities
from ohmsworth.adapters.files.decode import read_text
from ohmsworth.adapters.files.formulas import as_written
from ohmsworth.adapters.files.header import QUANTITIES, Column, read_header
from ohmsworth.adapters.files.times import read_times
from ohmsworth.errors import Fault
from ohmsworth.readings.signs import signed_readings, stated_polarities
from ohmsworth.readings.table import UNSTATED, Array, Codes, Labels
from ohmsworth.units import Unit

#: A tuple of texts is nothing that the garbage collector has to look at again: half the time for a million rows.
Row = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Sheet:
    """The file cut into cells: header, the cells of each known column, and the line each row stands on.

    Cells have their outer blanks removed. A text that stands in many cells is kept, and later read, once.
    """

    columns: dict[str, Column]
    cells: dict[str, Labels]
    lines: Codes
    separator: str
    unused: tuple[str, ...]
    file: str

    def __len__(self) -> int:
        return len(self.lines)

    def texts(self, name: str) -> list[str]:
        """The cells of a column, row by row."""
        column = self.cells[name]
        return [column.names[code] for code in column.codes.tolist()]


@dataclass(frozen=True, slots=True, eq=False)
class Opened:
    """A sheet as far as it could be cut.

    Parameters
    ----------
    sheet
        None when the file cannot be cut, or holds no rows.
    lines
        Every line below the heading, good or bad; None when the file cannot be cut.
    whole
        Whether every row has the width of the heading.
    """

    sheet: Sheet | None = None
    lines: frozenset[int] | None = None
    whole: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class Values:
    """The numbers of a sheet in SI, signed as the polarity says; columns by name in `quantity`."""

    quantity: dict[str, Array]
    polarity: np.ndarray
    voltage: Array | None
    current: Array | None
    time: Array | None


def open_sheet(
    path: Path, file: str, specimens: bool = True, named: Collection[str] = (), readings: bool = True
) -> tuple[Opened, list[Fault]]:
    """Cut the file at `path` into cells under its heading; and all faults of that."""
    text, faults = read_text(path)
    if text is None:
        return Opened(), faults
    rows, lines, separator, faults = cut(text, file)
    if not rows:
        return Opened(), faults
    columns, faults, unused = read_header(rows[0], lines[0], file, specimens, named, readings)
    if len(rows) == 1:
        mend = "Add the readings below the header."
        return Opened(), [*faults, Fault(file, "a header and no readings", "at least one reading", mend)]
    good, kept, bad = fitting_rows(rows, lines, file)
    unused += _headless(rows[0], good)
    cells = {name: _cells(good, column.place) for name, column in columns.items()}
    sheet = Sheet(columns, cells, np.array(kept, np.int64), separator, tuple(unused), file)
    return Opened(sheet, frozenset(lines[1:]), not bad), faults + bad


def _cells(rows: list[Row], place: int) -> Labels:
    """A column of cells; a row that ends before it has an empty one."""
    return Labels.of([row[place] if place < len(row) else "" for row in rows]).renamed(str.strip)


def read_values(sheet: Sheet) -> tuple[Values, list[Fault]]:
    """The numbers of `sheet`, and the faults of single cells."""
    quantity, faults = _quantities(sheet)
    polarity, bad = _polarity(sheet, quantity)
    faults += bad
    timed = "time" in sheet.columns
    time, bad = read_times(sheet.cells["time"], sheet.lines, sheet.file) if timed else (None, [])
    voltage, current = signed_readings(quantity.get("voltage"), quantity.get("current"), polarity)
    return Values(quantity, polarity, voltage, current, time), faults + bad


def cut(text: str, file: str) -> tuple[list[Row], list[int], str, list[Fault]]:
    """Cut text into rows of cells, with the line each row starts on and the separator."""
    separator, declared = _separator(text)
    marked = "'" in text  # hardly ever, and then every cell is looked at
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    rows: list[Row] = []
    lines: list[int] = []
    start = 1
    try:
        for row in reader:
            if "".join(row).strip():
                rows.append(tuple(as_written(cell.strip()) for cell in row) if marked else tuple(row))
                lines.append(start)
            start = reader.line_num + 1
    except csv.Error as error:
        return [], [], separator, [_csv_fault(error, start, file)]
    rows, lines = rows[declared:], lines[declared:]
    if not rows:
        mend = "Add the header and the readings."
        return [], [], separator, [Fault(file, "an empty file", "a header line and readings", mend)]
    return rows, lines, separator, []


def _separator(text: str) -> tuple[str, int]:
    """The separator, from the first line that is not empty; and how many such lines only declare it."""
    first = next((line for line in io.StringIO(text) if line.strip()), "").strip("\r\n")
    declared = re.fullmatch(r'"?sep=([,;\t|]?)"?[,;\t ]*', first, re.IGNORECASE)
    if declared:
        return declared[1] or ",", 1
    return max(";\t,", key=first.count), 0


def _csv_fault(error: csv.Error, line: int, file: str) -> Fault:
    if "field larger" in str(error):
        return Fault(f"{file}, line {line}", "a cell of more than 131072 characters", "a short cell",
                     "Look for a quotation mark that is never closed.")  # fmt: skip
    return Fault(f"{file}, line {line}", "quotation marks that do not pair up", "cells with closed quotation marks",
                 "Look for a stray quotation mark on this line.")  # fmt: skip


def fitting_rows(rows: list[Row], lines: list[int], file: str) -> tuple[list[Row], list[int], list[Fault]]:
    """The rows below the header that fit it, the lines they stand on, and the faults of those that do not."""
    width = len(rows[0])
    good: list[Row] = []
    kept: list[int] = []
    faults: list[Fault] = []
    for row, line in islice(zip(rows, lines, strict=True), 1, None):
        if len(row) == width or (len(row) >= min(width, 2) and not "".join(row[width:]).strip()):
            good.append(row)
            kept.append(line)
            continue
        mend = "Check the separators; put a text or number that holds one in quotation marks."
        cells = f"{len(row)} cell{'s' if len(row) > 1 else ''}"
        faults.append(Fault(f"{file}, line {line}", cells, f"{width} as in the header", mend))
    return good, kept, faults


def _headless(header: Row, rows: list[Row]) -> list[str]:
    """Names for the columns that hold something and have no heading."""
    return [
        f"column {place + 1}, without a heading"
        for place, cell in enumerate(header)
        if not cell.strip() and any(row[place].strip() for row in rows if place < len(row))
    ]


def _quantities(sheet: Sheet) -> tuple[dict[str, Array], list[Fault]]:
    """The columns of numbers; one whose unit is at fault is read all the same, for its other faults."""
    names = [name for name in QUANTITIES if name in sheet.columns]
    decimal = decimal_mark([sheet.cells[name] for name in names], sheet.separator)
    faults: list[Fault] = []
    quantity: dict[str, Array] = {}
    for name in names:
        unit = sheet.columns[name].unit or Unit(QUANTITIES[name], 1.0)
        quantity[name], bad = read_quantities(sheet.cells[name], sheet.lines, name, unit, decimal, sheet.file)
        faults += bad
    return quantity, faults


def _polarity(sheet: Sheet, quantity: dict[str, Array]) -> tuple[np.ndarray, list[Fault]]:
    """Stated polarities; a negative current says "reversed" by itself where nothing is stated."""
    if "polarity" in sheet.columns:
        codes, faults = read_polarities(sheet.cells["polarity"], sheet.lines, sheet.file)
    else:
        codes, faults = np.full(len(sheet), UNSTATED, np.int8), []
    return stated_polarities(codes, quantity.get("current")), faults
