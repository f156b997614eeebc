"""The cells of readings.csv: numbers, polarities and times, with every bad one reported."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import TypeVar

import numpy as np

from ohmsworth.errors import Fault, QuantityFault, shorten
from ohmsworth.readings.table import FORWARD, OFF, REVERSED, UNSTATED, Array, Codes, Labels
from ohmsworth.units import Decimal, Unit, believable, parse_number, tidy

_Told = TypeVar("_Told")

_POLARITY = {
    "+": FORWARD, "+1": FORWARD, "1": FORWARD, "forward": FORWARD, "normal": FORWARD, "positive": FORWARD, "plus": FORWARD,
    "pos": FORWARD, "fwd": FORWARD,
    "-": REVERSED, "-1": REVERSED, "reverse": REVERSED, "reversed": REVERSED, "negative": REVERSED, "minus": REVERSED,
    "neg": REVERSED, "rev": REVERSED,
    "0": OFF, "zero": OFF, "off": OFF,
    "": UNSTATED,
}  # fmt: skip


def decimal_mark(columns: list[Labels], separator: str) -> Decimal:
    """Which decimal mark a file uses, from all its number cells.

    A file that separates cells by semicolons or tabs may use a comma throughout. In a comma-separated file
    a quoted ``2,61`` shows that commas are decimal; cells such as ``1,234`` alone show nothing.
    """
    points, many, commas = 0, 0, []
    for column in columns:
        for text, count in zip(column.names, np.bincount(column.codes).tolist(), strict=True):
            points += count if "." in text else 0
            if "," in text:
                many += count
                commas.append(text)
    if points >= max(many, 1):
        return "point"
    if not commas:
        return "either"
    if separator != "," or any(not re.fullmatch(r"[+-]?[1-9][0-9]{0,2},[0-9]{3}", tidy(t)) for t in commas):
        return "comma"
    return "either"


def read_quantities(
    column: Labels, lines: Codes, name: str, unit: Unit, decimal: Decimal, file: str
) -> tuple[Array, list[Fault]]:
    """A column of numbers in SI; NaN where the cell is empty or at fault."""
    read = [_one(text, unit, decimal) for text in column.names]
    bad = {k: fault for k, fault in enumerate(read) if isinstance(fault, QuantityFault)}
    values = np.array([np.nan if isinstance(value, QuantityFault) else value for value in read], float)
    faults = [
        Fault(f"{file}, line {line}, column '{name}'", fault.found, fault.expected, fault.mend)
        for fault, line in told_by_row(column, bad, lines)
    ]
    return values[column.codes], faults


def told_by_row(column: Labels, bad: Mapping[int, _Told], lines: Codes) -> list[tuple[_Told, int]]:
    """What is wrong with names of a column (by their numbers), for every row that holds one, with its line."""
    if not bad:
        return []
    rows = np.flatnonzero(np.isin(column.codes, list(bad)))
    return [
        (bad[code], line)
        for code, line in zip(column.codes[rows].tolist(), lines[rows].tolist(), strict=True)
    ]


def _one(text: str, unit: Unit, decimal: Decimal) -> float | QuantityFault:
    if not text.strip():
        return np.nan
    try:
        return believable(float(f"{parse_number(text, decimal) * unit.factor + unit.offset:.15g}"), text)
    except QuantityFault as fault:
        return fault


def polarity_of(text: str) -> str | None:
    """The sign of the current that a cell states, "" for none; None where it is no polarity."""
    signs = {FORWARD: "+", REVERSED: "-", OFF: "0", UNSTATED: ""}
    code = _POLARITY.get(tidy(text).lower())
    return None if code is None else signs[code]


def read_polarities(column: Labels, lines: Codes, file: str) -> tuple[np.ndarray, list[Fault]]:
    """Polarity codes."""
    read = [_POLARITY.get(tidy(text).lower()) for text in column.names]
    bad = {k: shorten(column.names[k]) for k, code in enumerate(read) if code is None}
    codes = np.array([UNSTATED if code is None else code for code in read], np.int8)
    faults = [
        Fault(
            f"{file}, line {line}, column 'polarity'",
            found,
            "+, − or zero (forward, reversed or off)",
            "Write one of these, or leave it empty.",
        )
        for found, line in told_by_row(column, bad, lines)
    ]
    return codes[column.codes], faults
