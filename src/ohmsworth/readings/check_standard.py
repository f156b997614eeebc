"""Rows of the check standard stand in the same sheet as the contacts, and are no condition of the study."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import fields, replace
from typing import Any

import numpy as np

from ohmsworth.readings.check import CheckTable
from ohmsworth.readings.home import FOLDER, Home, row_called
from ohmsworth.readings.table import Array, Codes, Labels, ReadingTable, number_cells


def split_check_standard(table: ReadingTable, name: str | None) -> tuple[ReadingTable, Codes | None]:
    """The table without the rows whose condition is `name`, and the numbers of those rows (None when there are none).

    Parameters
    ----------
    table
        All rows.
    name
        The check standard; capital letters do not matter. None when the study names none.
    """
    if name is None:
        return table, None
    wanted = [code for code, other in enumerate(table.condition.names) if other.casefold() == name.casefold()]
    check = np.isin(table.condition.codes, wanted)
    if not check.any():
        return table, None
    return _only(table, np.flatnonzero(~check)), np.flatnonzero(check)


def checks_of(
    table: ReadingTable, moment: Array | None = None, names: Sequence[str] | None = None
) -> CheckTable:
    """Readings of the check standard as checks, in order of time where it is known, else of the rows.

    Rows of one mating and date are one check; without either, every resistance is one.

    Parameters
    ----------
    table
        Rows of the check standard alone.
    moment
        When each was read, in seconds from a moment that all files share; None, or NaN, where not known.
    names
        How the date of each row is written; left out, a check is named by its line.
    """
    known = moment is not None and not np.isnan(moment).any()
    if moment is not None and known:
        order = np.argsort(moment, kind="stable")
        table, moment = table.take(order), moment[order]
        names = [names[i] for i in order] if names is not None else None
    dates = Labels.of(list(names)) if known and names is not None else None
    if table.mating is None and dates is None:
        return CheckTable(table, None, moment if known else None, among_contacts=True)
    columns = [table.specimen, table.contact, table.mating, dates]
    cell = number_cells([column.codes for column in columns if column is not None])
    first = np.unique(cell, return_index=True)[1]
    told = [row_called(FOLDER, line) for line in table.line[first].tolist()]
    if dates is not None:
        told = _numbered([dates.names[code] for code in dates.codes[first].tolist()])
    return CheckTable(table, Labels(cell, tuple(told)), moment if known else None, among_contacts=True)


def named_in(home: Home, check: CheckTable) -> CheckTable:
    """The checks with those that are named by their line named as the study's home has it."""
    if check.date is None or not check.among_contacts:
        return check
    codes, first = np.unique(check.date.codes, return_index=True)
    lines = dict(zip(codes.tolist(), check.table.line[first].tolist(), strict=True))
    told = tuple(
        row_called(home, lines[code]) if code in lines and name == row_called(FOLDER, lines[code]) else name
        for code, name in enumerate(check.date.names)
    )
    return replace(check, date=Labels(check.date.codes, told))


def _numbered(names: list[str]) -> list[str]:
    """Names of which none stands twice: the second check of a date is called so."""
    seen: Counter[str] = Counter()
    told = []
    for name in names:
        seen[name] += 1
        told.append(name if seen[name] == 1 else f"{name}, no. {seen[name]}")
    return told


def _only(table: ReadingTable, rows: Codes) -> ReadingTable:
    """Some rows, with the names that stand in them and no others."""
    taken = table.take(rows)
    relabelled: dict[str, Any] = {
        field.name: Labels.of([column.names[code] for code in column.codes])
        for field in fields(taken)
        if isinstance(column := getattr(taken, field.name), Labels)
    }
    return replace(taken, **relabelled)
