"""Readings of the check standard, from wherever a folder keeps them: check.csv, and rows of readings.csv."""

from __future__ import annotations

import os
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import numpy as np

from ohmsworth.adapters.files.check_csv import FILE as CHECK
from ohmsworth.adapters.files.check_csv import read_check
from ohmsworth.adapters.files.readings_csv import FILE as READINGS
from ohmsworth.adapters.files.readings_csv import ReadReadings
from ohmsworth.adapters.files.times import read_date, seconds
from ohmsworth.errors import Fault, nearest_name, shorten
from ohmsworth.readings.check import CheckTable
from ohmsworth.readings.check_standard import checks_of, split_check_standard
from ohmsworth.readings.names import clean_name
from ohmsworth.readings.study import Study
from ohmsworth.readings.table import Array, Codes, ReadingTable
from ohmsworth.units import tidy

#: How like the check standard's name a condition must be to be taken for a slip of it.
_ALIKE = 0.8


def part_checks(study: Study, found: ReadReadings) -> tuple[ReadReadings, CheckTable | None, list[Fault]]:
    """What was read of contacts, what of the check standard, and faults; a table of None where nothing is left."""
    if found.table is None:
        return found, None, []
    contacts, rows = split_check_standard(found.table, study.check.name)
    if rows is None:
        return found, None, _misnamed(study, found.table)
    moment, names = _moments(found, rows)
    checks = checks_of(found.table.take(rows), moment, names)
    return replace(found, table=contacts if len(contacts) else None), checks, []


def _misnamed(study: Study, table: ReadingTable) -> list[Fault]:
    """Rows that seem to be the check standard's, though their condition is not its name."""
    name = study.check.name
    if name is None:
        return []
    told = f"{shorten(name)}, the check standard, or a name that is less like it"
    meant = {clean_name(condition).casefold() for condition in study.named_conditions}
    others = tuple(other for other in table.condition.names if other.casefold() not in meant)
    near = nearest_name(name, others, _ALIKE)
    if near is not None:
        mend = "Write the condition as in [check_standard], or rename one of the two."
        return [Fault(f"{READINGS}, column 'condition'", shorten(near), told, mend)]
    if name.casefold() in {specimen.casefold() for specimen in table.specimen.names}:
        mend = "Write the check standard's name as the condition of its rows too."
        found = f"{shorten(name)} as a specimen, under another condition"
        return [Fault(f"{READINGS}, column 'specimen'", found, "rows under its own name", mend)]
    return []


def read_checks(folder: Path) -> tuple[CheckTable | None, list[Fault]]:
    """What check.csv holds, and its faults; None where the folder has none."""
    return read_check(folder / CHECK) if os.path.lexists(folder / CHECK) else (None, [])


def first_faults(study: Study, checks: Sequence[CheckTable]) -> list[Fault]:
    """More checks asked for to set the limits than there are."""
    wanted, there = study.check.first, sum(len(check.table) for check in checks)
    if wanted is None or wanted <= there or not checks:
        return []
    where, mend = "study.toml, [check_standard], key 'first'", "Write a smaller number, or leave it out."
    found = f"{wanted}, with {there} rows in {CHECK} and {READINGS}"
    return [Fault(where, found, "no more than there are checks", mend)]


def only_checks(study: Study) -> Fault:
    """Readings of the check standard where contacts are asked about."""
    found = f"readings of the check standard {shorten(study.check.called)} and of nothing else"
    mend = "Add them, or correct the name in [check_standard]."
    return Fault(READINGS, found, "readings of contacts too", mend)


def _moments(found: ReadReadings, rows: Codes) -> tuple[Array | None, list[str] | None]:
    """When each of `rows` was read, and its date as written; None where any does not say on which date."""
    dates, times = (_cells(found, name, rows) for name in ("date", "time"))
    moments, names = np.zeros(len(rows)), [""] * len(rows)
    for i, (date, time) in enumerate(zip(dates, times, strict=True)):
        day, clock = read_date(date), seconds(time)
        dated = read_date(time) if clock is not None and clock[1] == "a date with a time" else None
        if day is not None:
            of_day = clock[0] if clock is not None and clock[1] == "a time of day" else 0.0
            moments[i], names[i] = day[0] + of_day, day[1]
        elif dated is not None:
            moments[i], names[i] = dated[0], dated[1][:10]
        else:
            return None, None
    return moments, names


def _cells(found: ReadReadings, name: str, rows: Codes) -> list[str]:
    written = found.written.get(name)
    return [""] * len(rows) if written is None else [tidy(written[row]) for row in rows.tolist()]
