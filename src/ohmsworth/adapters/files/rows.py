"""Faults of whole rows: a zero current, signs that contradict each other, rows pasted twice."""

from __future__ import annotations

import numpy as np

from ohmsworth.adapters.files.sheet import Sheet
from ohmsworth.errors import Fault
from ohmsworth.readings.signs import opposite_signs
from ohmsworth.readings.table import FORWARD, OFF, Array, Codes, number_cells

#: A run of at least this many rows that occurs twice was pasted twice; shorter runs can be chance.
PASTED_RUN = 6


def check_rows(
    sheet: Sheet, quantity: dict[str, Array], polarity: np.ndarray, known_bad: set[str]
) -> list[Fault]:
    """Every fault that needs more than one cell to see."""
    lines, columns, file = sheet.lines, sheet.columns, sheet.file
    faults = _empty_readings(lines, quantity, polarity, known_bad, file)
    if "current" in quantity:
        faults += _current_faults(lines, quantity["current"], polarity, file)
    if all(name in columns and columns[name].unit for name in ("voltage", "current")):
        faults += _sign_faults(lines, quantity["voltage"], quantity["current"], polarity, file)
    if "resistance" in quantity:
        faults += _off_faults(lines, polarity, file)
    if not sheet.cells:
        return faults
    row = number_cells([cells.codes for cells in sheet.cells.values()])
    return faults + _repeated_rows(lines, row, "time" in columns, file)


def _empty_readings(
    lines: Codes, quantity: dict[str, Array], polarity: np.ndarray, known_bad: set[str], file: str
) -> list[Fault]:
    faults = []
    for name in ("voltage", "current", "resistance"):
        if name not in quantity:
            continue
        empty = np.isnan(quantity[name])
        if name == "current":
            empty &= polarity != OFF
        for i in np.flatnonzero(empty):
            where = f"{file}, line {lines[i]}, column '{name}'"
            if where not in known_bad:
                faults.append(
                    Fault(where, "an empty cell", "a number", "Type the reading, or delete the row.")
                )
    return faults


def _current_faults(lines: Codes, current: Array, polarity: np.ndarray, file: str) -> list[Fault]:
    flowing = np.abs(current[(polarity != OFF) & (current != 0) & ~np.isnan(current)])
    usual = float(np.median(flowing)) if len(flowing) else np.inf
    kinds = (
        (
            (current == 0) & (polarity != OFF),
            "a current of zero",
            "the current that flowed",
            "Type the current; for a reading with the current off write 'zero' as polarity.",
        ),
        (
            (current < 0) & (polarity == FORWARD),
            "a negative current with polarity +",
            "signs that agree",
            "Correct the sign, or write − as polarity.",
        ),
        (
            (np.abs(current) > usual / 2) & (polarity == OFF),
            "a current with polarity zero",
            "no current",
            "Correct the polarity; where the current was off, type 0 or leave the cell empty.",
        ),
    )
    return [
        Fault(f"{file}, line {lines[i]}, column 'current'", found, expected, mend)
        for bad, found, expected, mend in kinds
        for i in np.flatnonzero(bad)
    ]


def _off_faults(lines: Codes, polarity: np.ndarray, file: str) -> list[Fault]:
    mend = "Delete the row: an ohmmeter subtracts its own zero, or the readings need voltage and current."
    return [
        Fault(f"{file}, line {lines[i]}, column 'polarity'", "zero, beside a resistance", "+ or −", mend)
        for i in np.flatnonzero(polarity == OFF)
    ]


def _sign_faults(
    lines: Codes, voltage: Array, current: Array, polarity: np.ndarray, file: str
) -> list[Fault]:
    """V and I of opposite sign mean a negative resistance, unless the meter shows magnitudes."""
    opposite = opposite_signs(voltage, current, polarity)
    return [
        Fault(f"{file}, line {lines[i]}", "voltage and current of opposite sign", "the same sign for both",
              "Check which lead was turned round; state both with their signs and the polarity.")
        for i in np.flatnonzero(opposite)
    ]  # fmt: skip


def _repeated_rows(lines: Codes, row: Codes, timed: bool, file: str) -> list[Fault]:
    """Rows (numbered by what they hold) that stand twice: certain where a time is written, otherwise only for whole runs."""
    seen = np.unique(row, return_index=True)[1][row]
    again = np.flatnonzero(seen != np.arange(len(row)))
    if len(again) == 0:
        return []
    # A run goes on where both the row and the one that it repeats are the next ones.
    breaks = np.flatnonzero((np.diff(again) != 1) | (np.diff(seen[again]) != 1)) + 1
    starts, ends = np.append(0, breaks), np.append(breaks, len(again))
    if not timed:
        starts, ends = starts[ends - starts >= PASTED_RUN], ends[ends - starts >= PASTED_RUN]
    return [
        _run_fault(lines[again[[start, end - 1]]], lines[seen[again[[start, end - 1]]]], file)
        for start, end in zip(starts, ends, strict=True)
    ]


def _run_fault(new: Codes, old: Codes, file: str) -> Fault:
    """The fault of a run, from its first and last line and those that they repeat."""
    one = new[0] == new[1]
    copy = f"line {new[0]}" if one else f"lines {new[0]} to {new[1]}"
    first = f"line {old[0]}" if one else f"lines {old[0]} to {old[1]}"
    return Fault(f"{file}, {copy}", f"the same as {first} in every cell",
                 "each reading once", "Delete the copy, or correct what was copied by mistake.")  # fmt: skip
