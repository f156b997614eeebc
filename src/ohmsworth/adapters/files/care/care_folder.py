"""A folder that asks about care: care.toml with readings.csv, outcomes.csv and history.csv where they are there."""

from __future__ import annotations

import os
from collections.abc import Mapping
from datetime import date
from pathlib import Path

import numpy as np

from ohmsworth.adapters.files.care.care_toml import FILE, ReadCare, read_care
from ohmsworth.adapters.files.care.recorded_csv import HISTORY, OUTCOMES, read_history, read_outcomes
from ohmsworth.adapters.files.folder import refuse_no_folder, row_faults
from ohmsworth.adapters.files.memory import laid_down
from ohmsworth.adapters.files.readings_csv import FILE as READINGS
from ohmsworth.adapters.files.readings_csv import ReadReadings, read_readings
from ohmsworth.errors import Fault, InputRefused, nearest_name, shorten
from ohmsworth.readings.study import Study
from ohmsworth.readings.table import Labels, ReadingTable
from ohmsworth.work.care_ports import CareRequest, HistoryRow, LoadedCare
from ohmsworth.work.ports import LoadedStudy


def load_care(folder: Path) -> LoadedCare:
    """Read the folder.

    Raises
    ------
    InputRefused
        With every fault of all its files; nothing was written.
    """
    refuse_no_folder(folder)
    measured = os.path.lexists(folder / READINGS)
    read = read_care(folder / FILE, measured)
    faults = list(read.faults)
    found = ReadReadings()
    if measured:
        found, more = read_readings(folder / READINGS)
        faults += more
        if found.lines is not None:
            faults += row_faults(Study("", keep=read.keep), found.lines, FILE)
    outcomes, unused, more = (
        read_outcomes(folder / OUTCOMES) if os.path.lexists(folder / OUTCOMES) else ((), (), [])
    )
    faults += more
    history, also, more = (
        read_history(folder / HISTORY) if os.path.lexists(folder / HISTORY) else ((), (), [])
    )
    faults += more
    table = None
    if found.table is not None:
        table, more = _of_contact(found.table, read)
        faults += more
    if read.request is not None:
        faults += _days(read.request, history)
    if faults or read.request is None:
        raise InputRefused(tuple(faults))
    readings = None
    if table is not None:
        study = Study(read.request.subject, scale="linear", bench=read.bench, keep=read.keep)
        readings = LoadedStudy(study, table, ())
    return LoadedCare(read.request, readings, outcomes, history, (*found.unused, *unused, *also))


def read_care_files(files: Mapping[str, bytes]) -> LoadedCare:
    """Read the folder that holds `files`, wherever they are kept.

    Raises
    ------
    InputRefused
        As `load_care`.
    """
    with laid_down(files) as folder:
        return load_care(folder)


def _of_contact(table: ReadingTable, read: ReadCare) -> tuple[ReadingTable | None, list[Fault]]:
    """The rows that are the contact's as found, or why that cannot be told."""
    rows = np.arange(len(table))
    faults: list[Fault] = []
    columns: tuple[tuple[str, Labels, str], ...] = (
        ("specimen", table.specimen, read.specimen),
        ("condition", table.condition, read.condition),
    )
    for key, labels, asked in columns:
        names = labels.names
        some = "one of " + ", ".join(shorten(name, 30) for name in names[:6])
        where = f"{FILE}, [contact], key '{key}'"
        if not asked and len(names) > 1:
            faults.append(
                Fault(where, f"none among {len(names)} in {READINGS}", some, "Say which of them it is.")
            )
        elif asked and asked not in names:
            near = nearest_name(asked, names)
            mend = f"Did you mean {shorten(near)}?" if near else f"Write it as in {READINGS}."
            faults.append(Fault(where, shorten(asked), some, mend))
        elif asked:
            rows = rows[labels.codes[rows] == names.index(asked)]
    if not faults and not len(rows):
        told = f"no reading of {shorten(read.specimen)} under {shorten(read.condition)}"
        faults.append(
            Fault(READINGS, told, "readings of the contact as found", "Correct one of the two names.")
        )
    return (None if faults else table.take(rows)), faults


def _days(request: CareRequest, history: tuple[HistoryRow, ...]) -> list[Fault]:
    """Days that contradict each other."""
    found, faults = request.found_on, []
    if found is None:
        return []
    mend = "Correct one of the two days."
    since = request.storage.clean_since if request.storage else None
    if since is not None and since > found:
        where = f"{FILE}, [storage], key 'clean_since'"
        faults.append(Fault(where, _told(since), f"not after it was found, {_told(found)}", mend))
    faults += [
        Fault(
            f"{HISTORY}, line {row.line}, column 'date'",
            _told(row.day),
            f"not after it was found, {_told(found)}",
            mend,
        )
        for row in history
        if row.day > found
    ]
    return faults


def _told(day: date) -> str:
    return day.isoformat()
