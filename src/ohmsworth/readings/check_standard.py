"""Rows of the check standard stand in the same sheet as the contacts, and are no condition of the study."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any

import numpy as np

from ohmsworth.readings.table import Codes, Labels, ReadingTable


def split_check_standard(table: ReadingTable, name: str | None) -> tuple[ReadingTable, ReadingTable | None]:
    """The table without the rows whose condition is `name`, and those rows (None when there are none).

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
    return _only(table, np.flatnonzero(~check)), _only(table, np.flatnonzero(check))


def _only(table: ReadingTable, rows: Codes) -> ReadingTable:
    """Some rows, with the names that stand in them and no others."""
    taken = table.take(rows)
    relabelled: dict[str, Any] = {
        field.name: Labels.of([column.names[code] for code in column.codes])
        for field in fields(taken)
        if isinstance(column := getattr(taken, field.name), Labels)
    }
    return replace(taken, **relabelled)
