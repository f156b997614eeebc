"""The columns of names in readings.csv: what was measured, under which condition."""

from __future__ import annotations

import unicodedata
from collections.abc import Collection, Mapping

import numpy as np

from ohmsworth.adapters.files.cells import told_by_row
from ohmsworth.errors import Fault, shorten
from ohmsworth.readings.factors import PART_CONDITIONS, cell_words
from ohmsworth.readings.names import clean_name, twin_key
from ohmsworth.readings.table import Codes, Labels

FILE = "readings.csv"
LONGEST_NAME = 120
_ONE_CONDITION = "all"
#: Columns in which one name written in two ways is two things without a word.
_TWINS = ("condition", "specimen", "contact", "plug", "socket")
_NAMES = ("specimen", "condition", "contact", "mating", "plug", "socket", *PART_CONDITIONS)


def read_labels(
    columns: Mapping[str, Labels], lines: Codes, named: Collection[str] = (), file: str = FILE
) -> tuple[dict[str, Labels], list[Fault]]:
    """The columns of names; ``specimen`` is missing where it cannot be told, ``condition`` never is.

    `named` are further columns of names, which the study asks for; `file` is what they stand in.
    """
    faults: list[Fault] = []
    cells: dict[str, Labels] = {}
    for name in dict.fromkeys((*_NAMES, *named)):
        if name in columns:
            cells[name] = columns[name].renamed(clean_name)
            faults += name_faults(name, cells[name], lines, file)
    if "specimen" not in cells and "plug" in cells and "socket" in cells:
        cells["specimen"] = Labels.joined([cells["plug"], cells["socket"]], " × ".join)
    if "condition" not in cells:
        cells["condition"] = _part_conditions(cells, len(lines))
    for name in dict.fromkeys((*_TWINS, *PART_CONDITIONS, *named)):
        if name in cells and not (name == "specimen" and name not in columns):  # plug and socket tell of it
            faults += _twins(name, cells[name], lines, file)
    return cells, faults


def _part_conditions(cells: dict[str, Labels], rows: int) -> Labels:
    """The pair's condition, from those of plug and socket where they have columns."""
    parts = [name for name in PART_CONDITIONS if name in cells]
    if not parts:
        return Labels.of([_ONE_CONDITION] * rows)
    return Labels.joined(
        [cells[name] for name in parts], lambda row: cell_words(dict(zip(parts, row, strict=True)))
    )


def name_faults(name: str, column: Labels, lines: Codes, file: str = FILE) -> list[Fault]:
    """Empty, overlong and unshowable names in the column `name`."""
    if column.names == ("",):
        return [Fault(f"{file}, column '{name}'", "only empty cells", f"a {name} in every row",
                      "Fill the column in, or remove it.")]  # fmt: skip
    showable = (f"a name of at most {LONGEST_NAME} characters that can be shown", "Write another name.")
    bad = {
        number: (trouble, *(showable if text else (f"the {name}", "Fill it in.")))
        for number, text in enumerate(column.names)
        if (trouble := _trouble(text))
    }
    return [
        Fault(f"{file}, line {line}, column '{name}'", *told)
        for told, line in told_by_row(column, bad, lines)
    ]


def _trouble(text: str) -> str:
    if not text:
        return "an empty cell"
    if len(text) > LONGEST_NAME:
        return f"a name of {len(text)} characters"
    hidden = any(unicodedata.category(letter) in ("Cc", "Cs") for letter in text)
    return f"{shorten(text)}, with a character that cannot be shown" if hidden else ""


def _twins(name: str, column: Labels, lines: Codes, file: str) -> list[Fault]:
    """Names that differ in capital letters and blanks only: one name, written in two ways; told where it stands first."""
    first: dict[str, str] = {}
    others = [first.setdefault(twin_key(text), text) for text in column.names]
    start = np.unique(column.codes, return_index=True)[1]
    mend = f"Write the {name} in one way; if they are two, give them names that differ more."
    return [
        Fault(
            f"{file}, line {lines[row]}, column '{name}'", shorten(text), f"{shorten(other)} as above", mend
        )
        for text, other, row in zip(column.names, others, start, strict=True)
        if other != text
    ]
