"""Faults of whole rows: a zero current, signs that contradict each other, rows pasted twice."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from ohmsworth.adapters.files.header import Column
from ohmsworth.errors import Fault
from ohmsworth.readings.table import FORWARD, OFF, REVERSED, Array

#: A run of at least this many rows that occurs twice was pasted twice; shorter runs can be chance.
PASTED_RUN = 6
#: A voltage of the wrong sign below this may be thermal EMF; above it is a swapped lead.
_EMF_AT_MOST = 50e-6


def check_rows(
    lines: list[int],
    quantity: dict[str, Array],
    polarity: np.ndarray,
    texts: Callable[[str], list[str]],
    columns: dict[str, Column],
    known_bad: set[str],
    file: str,
) -> list[Fault]:
    """Every fault that needs more than one cell to see."""
    faults = _empty_readings(lines, quantity, polarity, known_bad, file)
    if "current" in quantity:
        faults += _current_faults(lines, quantity["current"], polarity, file)
    if all(name in columns and columns[name].unit for name in ("voltage", "current")):
        faults += _sign_faults(lines, quantity["voltage"], quantity["current"], polarity, file)
    if "resistance" in quantity:
        faults += _off_faults(lines, polarity, file)
    return faults + _repeated_rows(lines, [texts(name) for name in sorted(columns)], "time" in columns, file)


def _empty_readings(
    lines: list[int], quantity: dict[str, Array], polarity: np.ndarray, known_bad: set[str], file: str
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


def _current_faults(lines: list[int], current: Array, polarity: np.ndarray, file: str) -> list[Fault]:
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


def _off_faults(lines: list[int], polarity: np.ndarray, file: str) -> list[Fault]:
    mend = "Delete the row: an ohmmeter subtracts its own zero, or the readings need voltage and current."
    return [
        Fault(f"{file}, line {lines[i]}, column 'polarity'", "zero, beside a resistance", "+ or −", mend)
        for i in np.flatnonzero(polarity == OFF)
    ]


def _sign_faults(
    lines: list[int], voltage: Array, current: Array, polarity: np.ndarray, file: str
) -> list[Fault]:
    """V and I of opposite sign mean a negative resistance, unless the meter shows magnitudes."""
    opposite = (voltage * current < 0) & (np.abs(voltage) > _EMF_AT_MOST) & (polarity != OFF)
    # "−" with a positive current: the supply was turned round and its display shows no sign.
    opposite &= ~((polarity == REVERSED) & (current > 0) & (voltage < 0))
    return [
        Fault(f"{file}, line {lines[i]}", "voltage and current of opposite sign", "the same sign for both",
              "Check which lead was turned round; state both with their signs and the polarity.")
        for i in np.flatnonzero(opposite)
    ]  # fmt: skip


def _repeated_rows(lines: list[int], columns: list[list[str]], timed: bool, file: str) -> list[Fault]:
    """Rows that stand twice: certain where a time is written, otherwise only for whole runs."""
    rows = list(zip(*columns, strict=True))
    first: dict[tuple[str, ...], int] = {}
    faults: list[Fault] = []
    previous = -2  # row that the row before this one repeats
    run: list[tuple[int, int]] = []
    for i, row in enumerate(rows):
        seen = first.setdefault(row, i)
        if seen == i:
            faults += _run_fault(run, lines, timed, file)
            run, previous = [], -2
            continue
        if seen != previous + 1 and run:
            faults += _run_fault(run, lines, timed, file)
            run = []
        run.append((seen, i))
        previous = seen
    return faults + _run_fault(run, lines, timed, file)


def _run_fault(run: list[tuple[int, int]], lines: list[int], timed: bool, file: str) -> list[Fault]:
    # A run that only repeats one and the same row is a steady meter, not a paste.
    distinct = len({seen for seen, _ in run})
    if not run or (not timed and (len(run) < PASTED_RUN or distinct < PASTED_RUN)):
        return []
    old = f"{lines[run[0][0]]}" if len(run) == 1 else f"{lines[run[0][0]]} to {lines[run[-1][0]]}"
    new = f"line {lines[run[0][1]]}" if len(run) == 1 else f"lines {lines[run[0][1]]} to {lines[run[-1][1]]}"
    return [
        Fault(f"{file}, {new}", f"the same as line{'s' if len(run) > 1 else ''} {old} in every cell",
              "each reading once", "Delete the copy, or correct what was copied by mistake.")
    ]  # fmt: skip
