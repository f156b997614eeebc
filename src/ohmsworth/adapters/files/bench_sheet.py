"""The bench sheet as a CSV that comes back as readings.csv."""

from __future__ import annotations

import csv
import io
import os
from collections.abc import Sequence
from pathlib import Path

import numpy as np

from ohmsworth.adapters.files.formulas import as_text
from ohmsworth.adapters.files.readings_csv import read_readings
from ohmsworth.errors import OutputFault
from ohmsworth.readings.study import Study
from ohmsworth.report.sheet import SheetRow

_BEFORE = ("step", "day", "operator", "specimen", "condition", "mating", "polarity")
#: To be filled in where a check standard is read, whose charts are in order of time.
_DATE = ("date",)
_READ = {True: ("resistance [mΩ]",), False: ("voltage [mV]", "current [mA]")}
#: What readings.csv is told of a figure that is still missing.
EMPTY_CELL = "an empty cell"


def sheet_bytes(path: Path, rows: Sequence[SheetRow], study: Study) -> bytes:
    """The sheet for `path`, with empty cells for what will be read.

    Voltage and current, or resistance where the bench has nothing but a milliohm meter. UTF-8 with a byte-order mark,
    so that a spreadsheet shows mΩ for what it is.

    Raises
    ------
    OutputFault
        When `path` is there already and holds readings, or is no bench sheet.
    """
    _refuse_readings(path)
    figures = _READ[study.bench.ohmmeter is not None and study.bench.voltmeter is None]
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    dated = _DATE if study.check.name else ()
    writer.writerow([*_BEFORE, *figures, *dated, "note"])
    for row in rows:
        named = as_text(row.operator), as_text(row.specimen), as_text(row.condition)
        labels = (row.step, row.day, *named, row.mating, row.polarity)
        writer.writerow([*labels, *("" for _ in (*figures, *dated)), as_text(row.note)])
    return ("\ufeff" + out.getvalue()).encode()


def _refuse_readings(path: Path) -> None:
    """Refuse to write over anything but an empty file, or a sheet in which every figure is still missing."""
    if not os.path.lexists(path) or (path.is_file() and not path.stat().st_size):
        return
    found, faults = read_readings(path)
    table = found.table
    if table is None:
        raise OutputFault(
            f"{path} is there already and is no bench sheet; choose another name, nothing was changed."
        )
    figures = [column for column in (table.voltage, table.current, table.resistance) if column is not None]
    typed = any(not np.isnan(column).all() for column in figures) or any(
        fault.found != EMPTY_CELL for fault in faults
    )
    if typed:
        raise OutputFault(f"{path} holds readings already; choose another name, nothing was changed.")
