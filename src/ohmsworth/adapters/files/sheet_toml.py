"""The table ``[sheet]`` of study.toml: what the bench sheet is to hold."""

from __future__ import annotations

from typing import cast

from ohmsworth.adapters.files.asked import Asked
from ohmsworth.adapters.files.plan_toml import read_names
from ohmsworth.errors import nearest_name, shorten
from ohmsworth.readings.plan_request import ASSIGNMENTS, MOST_SPECIMENS, SEPARATE, Assignment
from ohmsworth.readings.sheet_request import (
    DEFAULT_MATINGS,
    DEFAULT_SEED,
    DEFAULT_SPECIMENS,
    SheetRequest,
)

_MOST_MATINGS, _LARGEST_SEED = 1000, 10**9


def read_sheet(asked: Asked) -> SheetRequest | None:
    """Read the table; None without one."""
    table = asked.inside("sheet")
    if table is None:
        return None
    seed = table.whole("seed", 0, _LARGEST_SEED)
    sheet = SheetRequest(
        conditions=read_names(table, "conditions", "names of conditions"),
        specimens=table.whole("specimens", 1, MOST_SPECIMENS) or DEFAULT_SPECIMENS,
        matings=table.whole("matings", 1, _MOST_MATINGS) or DEFAULT_MATINGS,
        reversal=table.truth("reversal", True),
        assignment=cast(Assignment, table.choice("assignment", ASSIGNMENTS, SEPARATE)),
        seed=DEFAULT_SEED if seed is None else seed,
    )
    table.done()
    return sheet


def sheet_apart(asked: Asked, sheet: SheetRequest | None, reference: str | None, factors: bool) -> None:
    """Note it where conditions of the sheet have no reference among them."""
    if sheet is None or not sheet.conditions or factors:
        return
    some = ", ".join(shorten(name, 30) for name in sheet.conditions[:6])
    if reference is None:
        if len(sheet.conditions) > 1 and "reference" not in asked.table:
            mend = "Name the condition that the others are compared against."
            found = f"no reference among {len(sheet.conditions)} conditions"
            asked.fault("reference", found, f"one of {some}", mend)
    elif reference not in sheet.conditions:
        near = nearest_name(reference, sheet.conditions)
        mend = f"Did you mean {shorten(near)}?" if near else "Write it as in the list of conditions."
        asked.fault("reference", shorten(reference), f"a condition of the sheet: {some}", mend)
