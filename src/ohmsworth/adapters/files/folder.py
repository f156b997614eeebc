"""A study folder: study.toml and readings.csv, read together and checked against each other."""

from __future__ import annotations

from pathlib import Path

import numpy as np

from ohmsworth.adapters.files.readings_csv import FILE as READINGS
from ohmsworth.adapters.files.readings_csv import read_readings
from ohmsworth.adapters.files.study_toml import FILE as STUDY
from ohmsworth.adapters.files.study_toml import read_study
from ohmsworth.errors import Fault, InputRefused, nearest_name, shorten
from ohmsworth.readings.study import Study
from ohmsworth.readings.table import ReadingTable
from ohmsworth.work.ports import LoadedStudy


def load_study(folder: Path) -> LoadedStudy:
    """Read the study in `folder`.

    Raises
    ------
    InputRefused
        With every fault of both files; nothing was written.
    """
    if not folder.is_dir():
        kind = "a file" if folder.is_file() else "no such folder"
        raise InputRefused(
            (Fault(shorten(str(folder), 200), kind, f"a folder with {STUDY} and {READINGS}",
                   "Check the name, or run 'ohmsworth new FOLDER'."),)
        )  # fmt: skip
    study, study_faults = read_study(folder / STUDY)
    table, table_faults, unused = read_readings(folder / READINGS)
    faults = study_faults + table_faults
    if study is not None and table is not None:
        faults += _together(study, table)
    if faults or study is None or table is None:
        raise InputRefused(tuple(faults))
    return LoadedStudy(study, table, tuple(unused))


def _together(study: Study, table: ReadingTable) -> list[Fault]:
    return [*_reference(study, table), *_specimens(table), *_rows(study, table), *_logarithms(study, table)]


def _reference(study: Study, table: ReadingTable) -> list[Fault]:
    names = table.condition.names
    shown = ", ".join(name[:40] for name in names[:12])
    where = f"{STUDY}, key 'reference'"
    if study.reference is None:
        if len(names) < 2:
            return []
        return [Fault(where, f"no reference among {len(names)} conditions", f"one of {shown}",
                      f'Add reference = "{names[0][:40]}", the condition that the others are compared against.')]  # fmt: skip
    if study.reference in names:
        return []
    near = nearest_name(study.reference, names)
    hint = f"Did you mean '{near}'?" if near else "Write it as in readings.csv."
    return [Fault(where, shorten(study.reference), f"a condition in readings.csv: {shown}", hint)]


def _specimens(table: ReadingTable) -> list[Fault]:
    """A comparison needs, beside the conditions, at least one specimen more than it takes to tell them apart."""
    pairs = np.unique(np.column_stack([table.specimen.codes, table.condition.codes]), axis=0)
    conditions = len(table.condition.names)
    if conditions < 2:
        return []
    specimens = len(np.unique(pairs[:, 0]))
    each = np.bincount(pairs[:, 1], minlength=conditions)
    paired = len(pairs) > specimens
    if (not paired and specimens > conditions) or (paired and specimens > 1):
        return []
    lonely = ", ".join(f"'{table.condition.names[c][:40]}'" for c in np.flatnonzero(each == 1)[:12])
    return [Fault(READINGS, f"one specimen only under {lonely}", "at least two specimens a condition in a comparison",
                  "Measure another specimen: one alone cannot show whether it is the condition or the specimen that "
                  "differs.")]  # fmt: skip


def _rows(study: Study, table: ReadingTable) -> list[Fault]:
    known = set(table.line.tolist())
    return [
        Fault(
            f"{STUDY}, key '{key}'",
            f"row {row}",
            f"a line of {READINGS} that holds a reading",
            "Check the number.",
        )
        for key, rows in (("keep", study.keep), ("set_aside", study.set_aside))
        for row in sorted(rows)
        if row not in known
    ]


def _logarithms(study: Study, table: ReadingTable) -> list[Fault]:
    if study.scale != "log" or table.resistance is None:
        return []
    return [
        Fault(f"{READINGS}, line {table.line[i]}, column 'resistance'", "zero or a negative resistance",
              "more than zero", 'Check the reading; for readings scattered about zero write scale = "linear".')
        for i in np.flatnonzero(table.resistance <= 0)
    ]  # fmt: skip
