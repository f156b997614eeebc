"""A folder of the bench: study.toml with readings.csv (a repeatability study), check.csv, or both."""

from __future__ import annotations

import os
from pathlib import Path

from ohmsworth.adapters.files.check_csv import FILE as CHECK
from ohmsworth.adapters.files.checks import first_faults, part_checks, read_checks
from ohmsworth.adapters.files.folder import logarithm_faults, refuse_no_folder, row_faults
from ohmsworth.adapters.files.labels import name_faults
from ohmsworth.adapters.files.readings_csv import FILE as READINGS
from ohmsworth.adapters.files.readings_csv import read_readings
from ohmsworth.adapters.files.study_toml import FILE as STUDY
from ohmsworth.adapters.files.study_toml import read_study
from ohmsworth.errors import Fault, InputRefused
from ohmsworth.readings.check import CheckTable
from ohmsworth.readings.study import Study
from ohmsworth.readings.table import ReadingTable
from ohmsworth.work.ports import LoadedBench
from ohmsworth.work.tone_files import WISHES


def load_bench(folder: Path) -> LoadedBench:
    """Read what `folder` holds of the bench.

    Raises
    ------
    InputRefused
        With every fault of all its files; nothing was written.
    """
    refuse_no_folder(folder)
    study, faults = read_study(folder / STUDY)
    present = {name for name in (READINGS, CHECK) if os.path.lexists(folder / name)}
    if not present:
        mend = f"Put readings of the check standard into {CHECK}, or a repeatability study into {READINGS}."
        if os.path.lexists(folder / WISHES):
            mend += " Takes over frequency say nothing of the meters that read direct current."
        faults.append(Fault(f"{READINGS}, {CHECK}", "neither file", "one of them, or both", mend))
    table, checks, unused, more = _readings(folder, study) if READINGS in present else (None, None, (), [])
    faults += more
    kept, more = read_checks(folder)
    faults += more
    read = tuple(check for check in (kept, checks) if check is not None)
    if study is not None:
        faults += first_faults(study, read)
    if faults or study is None:
        raise InputRefused(tuple(faults))
    return LoadedBench(study, table, read, unused + (kept.unused if kept else ()))


def _readings(
    folder: Path, study: Study | None
) -> tuple[ReadingTable | None, CheckTable | None, tuple[str, ...], list[Fault]]:
    """The repeatability study and the check standard's rows, either of which may be missing."""
    found, faults = read_readings(folder / READINGS)
    checks = None
    if study is not None:
        faults += row_faults(study, found.lines) if found.lines is not None else []
        found, checks, more = part_checks(study, found)
        faults += more
    if found.table is not None:
        faults += _operators(found.table)
        if study is not None:
            faults += logarithm_faults(study, found.table)
    return found.table, checks, found.unused, faults


def _operators(table: ReadingTable) -> list[Fault]:
    """Rows that do not say who read them, where others do."""
    operator = table.operator
    if operator is None or not any(operator.names):
        return []
    return name_faults("operator", operator, table.line)
