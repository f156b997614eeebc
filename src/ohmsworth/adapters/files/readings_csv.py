"""readings.csv to a :class:`ReadingTable`: accepts what spreadsheets write, refuses the rest all at once."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

import numpy as np

from ohmsworth.adapters.files.labels import read_labels
from ohmsworth.adapters.files.rows import check_rows
from ohmsworth.adapters.files.sheet import Sheet, open_sheet, read_values
from ohmsworth.errors import Fault
from ohmsworth.readings.factors import OWN_COLUMNS, PART_CONDITIONS
from ohmsworth.readings.names import clean_name
from ohmsworth.readings.table import REVERSED, Labels, ReadingTable

FILE = "readings.csv"


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
    written
        What stands in the columns 'date' and 'time', where there are any, row by row of the table.
    """

    table: ReadingTable | None = None
    labelled: bool = False
    lines: frozenset[int] | None = None
    unused: tuple[str, ...] = ()
    written: dict[str, list[str]] = field(default_factory=dict)


def read_readings(path: Path, named: tuple[str, ...] = ()) -> tuple[ReadReadings, list[Fault]]:
    """Read the file: what it holds, and all its faults; `named` are columns of names that the study asks for."""
    opened, faults = open_sheet(path, FILE, named=named)
    if opened.sheet is None:
        return ReadReadings(), faults
    sheet = opened.sheet
    table, labelled, more = _table(sheet, named)
    dated: tuple[str, ...] = ("date", "time")
    written = {name: sheet.texts(name) for name in dated if name in sheet.columns}
    found = ReadReadings(table, labelled and opened.whole, opened.lines, sheet.unused, written)
    return found, faults + more


def _table(sheet: Sheet, named: tuple[str, ...]) -> tuple[ReadingTable | None, bool, list[Fault]]:
    """The table, whether every label is known, and the faults of cells and rows."""
    values, faults = read_values(sheet)
    labels, label_faults = read_labels(sheet.cells, sheet.lines, named)
    faults += label_faults
    quantity, polarity = values.quantity, values.polarity
    faults += check_rows(sheet, quantity, polarity, {f.where for f in faults})
    if "specimen" not in labels or not len(sheet):
        return None, False, faults
    voltage, current = values.voltage, values.current
    if voltage is not None and current is not None and "polarity" not in sheet.columns:
        polarity = np.where(current < 0, REVERSED, 1).astype(np.int8)
    table = ReadingTable(
        sheet.lines, labels["specimen"], labels["condition"], labels.get("contact"),
        labels.get("mating"), labels.get("plug"), labels.get("socket"), polarity, voltage, current,
        quantity.get("resistance"), values.time, quantity.get("temperature"), _operators(sheet),
        others={name: labels[name] for name in dict.fromkeys((*PART_CONDITIONS, *named)) if _is_further(name, labels)},
    )  # fmt: skip
    return table, not label_faults, faults


def _is_further(name: str, labels: dict[str, Labels]) -> bool:
    return name in labels and name not in OWN_COLUMNS


def _operators(sheet: Sheet) -> Labels | None:
    """Who read each row; a remark unless bench fitness asks, so that nothing is refused here."""
    if "operator" not in sheet.columns:
        return None
    return sheet.cells["operator"].renamed(clean_name)
