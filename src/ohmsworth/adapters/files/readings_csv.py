"""readings.csv to a :class:`ReadingTable`: accepts what spreadsheets write, refuses the rest all at once."""

from __future__ import annotations

import csv
import io
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from ohmsworth.adapters.files.cells import decimal_mark, read_polarities, read_quantities, read_times
from ohmsworth.adapters.files.decode import read_text
from ohmsworth.adapters.files.header import QUANTITIES, Column, read_header
from ohmsworth.adapters.files.rows import check_rows
from ohmsworth.errors import Fault
from ohmsworth.readings.table import REVERSED, UNSTATED, Array, Labels, ReadingTable

FILE = "readings.csv"
_ONE_CONDITION = "all"


@dataclass(frozen=True, slots=True)
class Sheet:
    """The file cut into cells: header, rows, and the line each row stands on."""

    columns: dict[str, Column]
    rows: list[list[str]]
    lines: list[int]
    separator: str
    unused: list[str]

    def texts(self, name: str) -> list[str]:
        """The cells of a column, outer blanks removed."""
        place = self.columns[name].place
        return [row[place].strip() for row in self.rows]


def read_readings(path: Path) -> tuple[ReadingTable | None, list[Fault], list[str]]:
    """Read the file: the table (None if refused), all its faults, and the headings that are not used."""
    text, faults = read_text(path)
    if text is None:
        return None, faults, []
    sheet, faults = cut(text)
    if sheet is None:
        return None, faults, []
    table, faults = _table(sheet)
    return (None if faults else table), faults, sheet.unused


def cut(text: str) -> tuple[Sheet | None, list[Fault]]:
    """Cut text into cells and read the header."""
    separator, skipped = _separator(text)
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
        return None, [_csv_fault(error, start)]
    rows, lines = rows[skipped:], lines[skipped:]
    if not rows:
        return None, [
            Fault(FILE, "an empty file", "a header line and readings", "Add the header and the readings.")
        ]
    columns, faults, unused = read_header(rows[0], lines[0], FILE)
    if not faults and len(rows) == 1:
        faults = [
            Fault(
                FILE, "a header and no readings", "at least one reading", "Add the readings below the header."
            )
        ]
    faults += _widths(rows, lines)
    if faults:
        return None, faults
    width = len(rows[0])
    padded = [row[:width] + [""] * (width - len(row)) for row in rows[1:]]
    return Sheet(columns, padded, lines[1:], separator, unused), []


def _separator(text: str) -> tuple[str, int]:
    """The separator, from the first line that is not empty; and how many such lines only declare it."""
    first = next((line for line in text.splitlines() if line.strip()), "")
    if first.lower().startswith("sep=") and len(first.strip()) <= 5:
        return (first[4:5] or ","), 1
    return max(";\t,", key=first.count), 0


def _csv_fault(error: csv.Error, line: int) -> Fault:
    if "field larger" in str(error):
        return Fault(f"{FILE}, line {line}", "a cell of more than 131072 characters", "a short cell",
                     "Look for a quotation mark that is never closed.")  # fmt: skip
    return Fault(f"{FILE}, line {line}", f"a row that cannot be cut into cells ({error})", "cells with closed quotes",
                 "Look for a stray quotation mark on this line.")  # fmt: skip


def _widths(rows: list[list[str]], lines: list[int]) -> list[Fault]:
    width = len(rows[0])
    faults = []
    for row, line in zip(rows[1:], lines[1:], strict=True):
        if any(cell.strip() for cell in row[width:]) or len(row) < min(width, 2):
            faults.append(
                Fault(
                    f"{FILE}, line {line}",
                    f"{len(row)} cells",
                    f"{width} as in the header",
                    "Check the separators; put text that holds one in quotation marks.",
                )
            )
    return faults


def _table(sheet: Sheet) -> tuple[ReadingTable, list[Fault]]:
    names = [name for name in QUANTITIES if name in sheet.columns]
    decimal = decimal_mark([text for name in names for text in sheet.texts(name)], sheet.separator)
    faults: list[Fault] = []
    quantity: dict[str, Array] = {}
    for name in names:
        unit = sheet.columns[name].unit
        assert unit is not None
        quantity[name], bad = read_quantities(sheet.texts(name), sheet.lines, name, unit, decimal, FILE)
        faults += bad
    polarity, bad = _polarity(sheet, quantity)
    faults += bad
    time, bad = read_times(sheet.texts("time"), sheet.lines, FILE) if "time" in sheet.columns else (None, [])
    faults += bad
    labels, bad = _labels(sheet)
    faults += bad
    faults += check_rows(
        sheet.lines, quantity, polarity, sheet.texts, set(sheet.columns), {f.where for f in faults}
    )
    voltage, current = _signed(quantity.get("voltage"), quantity.get("current"), polarity)
    if voltage is not None and current is not None and "polarity" not in sheet.columns:
        polarity = np.where(current < 0, REVERSED, 1).astype(np.int8)
    table = ReadingTable(
        np.array(sheet.lines, np.int64), labels["specimen"], labels["condition"], labels.get("contact"),
        labels.get("mating"), labels.get("plug"), labels.get("socket"), polarity, voltage, current,
        quantity.get("resistance"), time, quantity.get("temperature"),
    )  # fmt: skip
    return table, faults


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
    turned = (polarity == REVERSED) & (current > 0)
    return np.where(turned & (voltage > 0), -voltage, voltage), np.where(turned, -current, current)


def _labels(sheet: Sheet) -> tuple[dict[str, Labels], list[Fault]]:
    faults: list[Fault] = []
    texts: dict[str, list[str]] = {}
    for name in ("specimen", "condition", "contact", "mating", "plug", "socket"):
        if name in sheet.columns:
            texts[name] = sheet.texts(name)
            faults += _empty_cells(name, texts[name], sheet.lines)
    if "specimen" not in texts:
        texts["specimen"] = [f"{p} × {s}" for p, s in zip(texts["plug"], texts["socket"], strict=True)]
    if "condition" not in texts:
        texts["condition"] = _part_conditions(sheet)
    return {name: Labels.of(column) for name, column in texts.items()}, faults


def _part_conditions(sheet: Sheet) -> list[str]:
    """The pair's condition, from those of plug and socket where they have columns."""
    parts = [name for name in ("plug condition", "socket condition") if name in sheet.columns]
    if not parts:
        return [_ONE_CONDITION] * len(sheet.rows)
    columns = [sheet.texts(name) for name in parts]
    words = [name.split()[0] for name in parts]
    return [
        ", ".join(f"{c} {w}" for c, w in zip(row, words, strict=True)) for row in zip(*columns, strict=True)
    ]


def _empty_cells(name: str, texts: list[str], lines: list[int]) -> list[Fault]:
    if not any(texts):
        return [Fault(f"{FILE}, column '{name}'", "only empty cells", f"a {name} in every row",
                      "Fill the column in, or remove it.")]  # fmt: skip
    return [
        Fault(f"{FILE}, line {line}, column '{name}'", "an empty cell", f"the {name}", "Fill it in.")
        for text, line in zip(texts, lines, strict=True)
        if not text
    ]
