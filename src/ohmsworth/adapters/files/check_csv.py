"""check.csv to readings of the check standard, in order of date, read as strictly as readings.csv.

Rows of one date are one check. Without a column of dates every resistance is a check of its own, in the order of
`time` where every row has one, else of the file.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np

from ohmsworth.adapters.files.rows import check_rows
from ohmsworth.adapters.files.sheet import Sheet, Values, open_sheet, read_values
from ohmsworth.adapters.files.times import read_date
from ohmsworth.errors import Fault, shorten
from ohmsworth.readings.check import CheckTable
from ohmsworth.readings.table import REVERSED, Array, Labels, ReadingTable
from ohmsworth.units import tidy

FILE = "check.csv"
_EXPECTED = "a date such as 2026-03-01, 01.03.2026 or 2026-03-01 10:15"


def read_check(path: Path) -> tuple[CheckTable | None, list[Fault]]:
    """Read the file: what it holds (None when nothing can be read), and all its faults."""
    opened, faults = open_sheet(path, FILE, specimens=False)
    sheet = opened.sheet
    if sheet is None:
        return None, faults
    values, more = read_values(sheet)
    faults += more
    moments, names, more = _dates(sheet)
    faults += more
    faults += check_rows(sheet, values.quantity, values.polarity, {f.where for f in faults})
    if faults or not len(sheet):
        return None, faults
    return _table(sheet, values, moments, names), faults


def _table(sheet: Sheet, values: Values, moments: Array | None, names: list[str]) -> CheckTable:
    n = len(sheet)
    one, polarity = Labels.of(["check standard"] * n), values.polarity
    if values.current is not None and "polarity" not in sheet.columns:
        polarity = np.where(values.current < 0, REVERSED, 1).astype(np.int8)
    order = _order(moments, values.time, n)
    table = ReadingTable(
        sheet.lines, one, one, None, None, None, None, polarity, values.voltage,
        values.current, values.quantity.get("resistance"), values.time, values.quantity.get("temperature"),
    ).take(order)  # fmt: skip
    if moments is None:
        return CheckTable(table, None, None, sheet.unused)
    return CheckTable(table, Labels.of([names[i] for i in order]), moments[order], sheet.unused)


def _order(moments: Array | None, time: Array | None, n: int) -> np.ndarray:
    keys: list[Array] = [np.arange(n, dtype=float)]
    if time is not None and not np.isnan(time).any():
        keys.append(time)
    if moments is not None:
        keys.append(moments)
    return np.lexsort(keys)


def _dates(sheet: Sheet) -> tuple[Array | None, list[str], list[Fault]]:
    """When each row was read, how that is written, and the faults; None without a column of dates."""
    if "date" not in sheet.columns:
        return None, [], []
    moments, names = np.zeros(len(sheet)), [""] * len(sheet)
    faults = []
    for i, text in enumerate(sheet.texts("date")):
        found = read_date(tidy(text))
        if found is None:
            told = shorten(text) if text else "an empty cell"
            where = f"{FILE}, line {sheet.lines[i]}, column 'date'"
            faults.append(Fault(where, told, _EXPECTED, "Write year, month and day in this order."))
        else:
            moments[i], names[i] = found
    return moments, names, faults
