"""readings.csv to a :class:`ReadingTable`: accepts what spreadsheets write, refuses the rest all at once."""

from __future__ import annotations

import csv
import io
import re
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from ohmsworth.adapters.files.cells import decimal_mark, read_polarities, read_quantities
from ohmsworth.adapters.files.decode import read_text
from ohmsworth.adapters.files.header import QUANTITIES, Column, read_header
from ohmsworth.adapters.files.labels import read_labels
from ohmsworth.adapters.files.rows import check_rows
from ohmsworth.adapters.files.times import read_times
from ohmsworth.errors import Fault
from ohmsworth.readings.table import OFF, REVERSED, UNSTATED, Array, ReadingTable
from ohmsworth.units import Unit

FILE = "readings.csv"


@dataclass(frozen=True, slots=True)
class Sheet:
    """The file cut into cells: header, rows of the right width, and the line each row stands on."""

    columns: dict[str, Column]
    rows: list[list[str]]
    lines: list[int]
    separator: str
    unused: tuple[str, ...]

    def texts(self, name: str) -> list[str]:
        """The cells of a column, outer blanks removed."""
        place = self.columns[name].place
        return [row[place].strip() for row in self.rows]


@dataclass(frozen=True, slots=True, eq=False)
class ReadReadings:
    """What could be read, also when there are faults, so that the study can be checked against it.

    Parameters
    ----------
    table
        The readings, NaN where a number is at fault; None when the rows cannot be told apart.
    labelled
        Whether every label of every row is known.
    lines
        Every line that holds a reading, good or bad; None when the file cannot be cut.
    unused
        Headings of columns that are not used.
    """

    table: ReadingTable | None = None
    labelled: bool = False
    lines: frozenset[int] | None = None
    unused: tuple[str, ...] = ()


def read_readings(path: Path) -> tuple[ReadReadings, list[Fault]]:
    """Read the file: what it holds, and all its faults."""
    text, faults = read_text(path)
    if text is None:
        return ReadReadings(), faults
    rows, lines, separator, faults = cut(text)
    if not rows:
        return ReadReadings(), faults
    columns, faults, unused = read_header(rows[0], lines[0], FILE)
    if len(rows) == 1:
        mend = "Add the readings below the header."
        return ReadReadings(), [
            *faults,
            Fault(FILE, "a header and no readings", "at least one reading", mend),
        ]
    good, bad = _widths(rows, lines)
    width = len(rows[0])
    padded = [rows[i][:width] + [""] * (width - len(rows[i])) for i in good]
    unused += _headless(rows[0], padded)
    sheet = Sheet(columns, padded, [lines[i] for i in good], separator, tuple(unused))
    table, labelled, more = _table(sheet)
    return ReadReadings(table, labelled and not bad, frozenset(lines[1:]), sheet.unused), faults + bad + more


def cut(text: str) -> tuple[list[list[str]], list[int], str, list[Fault]]:
    """Cut text into rows of cells, with the line each row starts on and the separator."""
    separator, declared = _separator(text)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    rows: list[list[str]] = []
    lines: list[int] = []
    start = 1
    try:
        for row in reader:
            if any(cell.strip() for cell in row):
                rows.append(row)
                lines.append(start)
            start = reader.line_num + 1
    except csv.Error as error:
        return [], [], separator, [_csv_fault(error, start)]
    rows, lines = rows[declared:], lines[declared:]
    if not rows:
        mend = "Add the header and the readings."
        return [], [], separator, [Fault(FILE, "an empty file", "a header line and readings", mend)]
    return rows, lines, separator, []


def _separator(text: str) -> tuple[str, int]:
    """The separator, from the first line that is not empty; and how many such lines only declare it."""
    first = next((line for line in io.StringIO(text) if line.strip()), "").strip("\r\n")
    declared = re.fullmatch(r'"?sep=([,;\t|]?)"?[,;\t ]*', first, re.IGNORECASE)
    if declared:
        return declared[1] or ",", 1
    return max(";\t,", key=first.count), 0


def _csv_fault(error: csv.Error, line: int) -> Fault:
    if "field larger" in str(error):
        return Fault(f"{FILE}, line {line}", "a cell of more than 131072 characters", "a short cell",
                     "Look for a quotation mark that is never closed.")  # fmt: skip
    return Fault(f"{FILE}, line {line}", "quotation marks that do not pair up", "cells with closed quotation marks",
                 "Look for a stray quotation mark on this line.")  # fmt: skip


def _widths(rows: list[list[str]], lines: list[int]) -> tuple[list[int], list[Fault]]:
    """Numbers of the rows that fit the header, and the faults of those that do not."""
    width = len(rows[0])
    good: list[int] = []
    faults: list[Fault] = []
    for i in range(1, len(rows)):
        row = rows[i]
        if not any(cell.strip() for cell in row[width:]) and len(row) >= min(width, 2):
            good.append(i)
            continue
        mend = "Check the separators; put a text or number that holds one in quotation marks."
        cells = f"{len(row)} cell{'s' if len(row) > 1 else ''}"
        faults.append(Fault(f"{FILE}, line {lines[i]}", cells, f"{width} as in the header", mend))
    return good, faults


def _headless(header: list[str], rows: list[list[str]]) -> list[str]:
    """Names for the columns that hold something and have no heading."""
    return [
        f"column {place + 1}, without a heading"
        for place, cell in enumerate(header)
        if not cell.strip() and any(row[place].strip() for row in rows)
    ]


def _table(sheet: Sheet) -> tuple[ReadingTable | None, bool, list[Fault]]:
    """The table, whether every label is known, and the faults of cells and rows."""
    quantity, faults = _quantities(sheet)
    polarity, bad = _polarity(sheet, quantity)
    faults += bad
    time, bad = read_times(sheet.texts("time"), sheet.lines, FILE) if "time" in sheet.columns else (None, [])
    faults += bad
    labels, label_faults = read_labels(sheet.columns, sheet.texts, sheet.lines)
    faults += label_faults
    faults += check_rows(
        sheet.lines, quantity, polarity, sheet.texts, sheet.columns, {f.where for f in faults}
    )
    if "specimen" not in labels or not sheet.rows:
        return None, False, faults
    voltage, current = _signed(quantity.get("voltage"), quantity.get("current"), polarity)
    if voltage is not None and current is not None and "polarity" not in sheet.columns:
        polarity = np.where(current < 0, REVERSED, 1).astype(np.int8)
    table = ReadingTable(
        np.array(sheet.lines, np.int64), labels["specimen"], labels["condition"], labels.get("contact"),
        labels.get("mating"), labels.get("plug"), labels.get("socket"), polarity, voltage, current,
        quantity.get("resistance"), time, quantity.get("temperature"),
    )  # fmt: skip
    return table, not label_faults, faults


def _quantities(sheet: Sheet) -> tuple[dict[str, Array], list[Fault]]:
    """The columns of numbers; one whose unit is at fault is read all the same, for its other faults."""
    names = [name for name in QUANTITIES if name in sheet.columns]
    decimal = decimal_mark([text for name in names for text in sheet.texts(name)], sheet.separator)
    faults: list[Fault] = []
    quantity: dict[str, Array] = {}
    for name in names:
        unit = sheet.columns[name].unit or Unit(QUANTITIES[name], 1.0)
        quantity[name], bad = read_quantities(sheet.texts(name), sheet.lines, name, unit, decimal, FILE)
        faults += bad
    return quantity, faults


def _polarity(sheet: Sheet, quantity: dict[str, Array]) -> tuple[np.ndarray, list[Fault]]:
    """Stated polarities; a negative current says "reversed" by itself where nothing is stated."""
    if "polarity" in sheet.columns:
        codes, faults = read_polarities(sheet.texts("polarity"), sheet.lines, FILE)
    else:
        codes, faults = np.full(len(sheet.rows), UNSTATED, np.int8), []
    current = quantity.get("current")
    if current is not None:
        codes = np.where((codes == UNSTATED) & (current < 0), REVERSED, codes).astype(np.int8)
    return codes, faults


def _signed(
    voltage: Array | None, current: Array | None, polarity: np.ndarray
) -> tuple[Array | None, Array | None]:
    """Give reversed readings written without signs (both positive) the signs that the reversal means."""
    if voltage is None or current is None:
        return voltage, current
    current = np.where((polarity == OFF) & np.isnan(current), 0.0, current)
    turned = (polarity == REVERSED) & (current > 0)
    return np.where(turned & (voltage > 0), -voltage, voltage), np.where(turned, -current, current)
