"""The cells of readings.csv: numbers, polarities and times, with every bad one reported."""

from __future__ import annotations

import re

import numpy as np

from ohmsworth.errors import Fault, QuantityFault, shorten
from ohmsworth.readings.table import FORWARD, OFF, REVERSED, UNSTATED, Array
from ohmsworth.units import Decimal, Unit, believable, parse_number, tidy

_POLARITY = {
    "+": FORWARD, "+1": FORWARD, "1": FORWARD, "forward": FORWARD, "normal": FORWARD, "positive": FORWARD, "plus": FORWARD,
    "pos": FORWARD, "fwd": FORWARD,
    "-": REVERSED, "-1": REVERSED, "reverse": REVERSED, "reversed": REVERSED, "negative": REVERSED, "minus": REVERSED,
    "neg": REVERSED, "rev": REVERSED,
    "0": OFF, "zero": OFF, "off": OFF,
    "": UNSTATED,
}  # fmt: skip


def decimal_mark(texts: list[str], separator: str) -> Decimal:
    """Which decimal mark a file uses, from all its number cells.

    A file that separates cells by semicolons or tabs may use a comma throughout. In a comma-separated file
    a quoted ``2,61`` shows that commas are decimal; cells such as ``1,234`` alone show nothing.
    """
    points = sum("." in text for text in texts)
    commas = [text for text in texts if "," in text]
    if points >= max(len(commas), 1):
        return "point"
    if not commas:
        return "either"
    if separator != "," or any(not re.fullmatch(r"[+-]?[1-9][0-9]{0,2},[0-9]{3}", tidy(t)) for t in commas):
        return "comma"
    return "either"


def read_quantities(
    texts: list[str], lines: list[int], name: str, unit: Unit, decimal: Decimal, file: str
) -> tuple[Array, list[Fault]]:
    """A column of numbers in SI; NaN where the cell is empty or at fault."""
    known: dict[str, float | QuantityFault] = {}
    values = np.empty(len(texts))
    faults: list[Fault] = []
    for i, text in enumerate(texts):
        value = known.get(text)
        if value is None:
            value = known[text] = _one(text, unit, decimal)
        if isinstance(value, QuantityFault):
            values[i] = np.nan
            where = f"{file}, line {lines[i]}, column '{name}'"
            faults.append(Fault(where, value.found, value.expected, value.mend))
        else:
            values[i] = value
    return values, faults


def _one(text: str, unit: Unit, decimal: Decimal) -> float | QuantityFault:
    if not text.strip():
        return np.nan
    try:
        return believable(float(f"{parse_number(text, decimal) * unit.factor + unit.offset:.15g}"), text)
    except QuantityFault as fault:
        return fault


def read_polarities(texts: list[str], lines: list[int], file: str) -> tuple[np.ndarray, list[Fault]]:
    """Polarity codes."""
    codes = np.full(len(texts), UNSTATED, np.int8)
    faults = []
    for i, text in enumerate(texts):
        code = _POLARITY.get(tidy(text).lower())
        if code is None:
            faults.append(
                Fault(
                    f"{file}, line {lines[i]}, column 'polarity'",
                    shorten(text),
                    "+, − or zero (forward, reversed or off)",
                    "Write one of these, or leave it empty.",
                )
            )
        else:
            codes[i] = code
    return codes, faults
