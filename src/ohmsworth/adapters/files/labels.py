"""The columns of names in readings.csv: what was measured, under which condition."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Collection

from ohmsworth.errors import Fault, shorten
from ohmsworth.readings.factors import PART_CONDITIONS, cell_words
from ohmsworth.readings.table import Labels
from ohmsworth.units import tidy

FILE = "readings.csv"
LONGEST_NAME = 120
_ONE_CONDITION = "all"
#: Columns in which one name written in two ways is two things without a word.
_TWINS = ("condition", "specimen", "contact", "plug", "socket")
#: A blank that is not all that keeps two numbers apart: 'ch 1' is 'ch1', '1 12' is not '11 2'.
_BLANK = re.compile(r"(?<!\d) | (?!\d)")
_NAMES = ("specimen", "condition", "contact", "mating", "plug", "socket", *PART_CONDITIONS)


def read_labels(
    columns: Collection[str], texts: Callable[[str], list[str]], lines: list[int], named: Collection[str] = ()
) -> tuple[dict[str, Labels], list[Fault]]:
    """The columns of names; ``specimen`` is missing where it cannot be told, ``condition`` never is.

    `named` are further columns of names, which the study asks for.
    """
    faults: list[Fault] = []
    cells: dict[str, list[str]] = {}
    for name in dict.fromkeys((*_NAMES, *named)):
        if name in columns:
            written = texts(name)
            clean = {text: clean_name(text) for text in set(written)}
            cells[name] = [clean[text] for text in written]
            faults += name_faults(name, cells[name], lines)
    if "specimen" not in cells and "plug" in cells and "socket" in cells:
        cells["specimen"] = [f"{p} × {s}" for p, s in zip(cells["plug"], cells["socket"], strict=True)]
    if "condition" not in cells:
        cells["condition"] = _part_conditions(cells, len(lines))
    for name in dict.fromkeys((*_TWINS, *PART_CONDITIONS, *named)):
        if name in cells and not (name == "specimen" and name not in columns):  # plug and socket tell of it
            faults += _twins(name, cells[name], lines)
    return {name: Labels.of(column) for name, column in cells.items()}, faults


def clean_name(text: str) -> str:
    """A name with its blanks made one kind and single, so that names which look alike are one."""
    return " ".join(tidy(text).split())


def _part_conditions(cells: dict[str, list[str]], rows: int) -> list[str]:
    """The pair's condition, from those of plug and socket where they have columns."""
    parts = [name for name in PART_CONDITIONS if name in cells]
    if not parts:
        return [_ONE_CONDITION] * rows
    return [
        cell_words(dict(zip(parts, row, strict=True)))
        for row in zip(*(cells[name] for name in parts), strict=True)
    ]


def name_faults(name: str, texts: list[str], lines: list[int]) -> list[Fault]:
    """Empty, overlong and unshowable names in the column `name`."""
    if texts and not any(texts):
        return [Fault(f"{FILE}, column '{name}'", "only empty cells", f"a {name} in every row",
                      "Fill the column in, or remove it.")]  # fmt: skip
    bad = {text: trouble for text in set(texts) if (trouble := _trouble(text))}
    return [
        Fault(
            f"{FILE}, line {line}, column '{name}'",
            bad[text],
            f"the {name}" if not text else f"a name of at most {LONGEST_NAME} characters that can be shown",
            "Fill it in." if not text else "Write another name.",
        )
        for text, line in zip(texts, lines, strict=True)
        if text in bad
    ]


def _trouble(text: str) -> str:
    if not text:
        return "an empty cell"
    if len(text) > LONGEST_NAME:
        return f"a name of {len(text)} characters"
    hidden = any(unicodedata.category(letter) in ("Cc", "Cs") for letter in text)
    return f"{shorten(text)}, with a character that cannot be shown" if hidden else ""


def _twins(column: str, texts: list[str], lines: list[int]) -> list[Fault]:
    """Names that differ in capital letters and blanks only: one name, written in two ways."""
    first: dict[str, str] = {}
    told: set[str] = set()
    faults = []
    for text, line in zip(texts, lines, strict=True):
        other = first.setdefault(_BLANK.sub("", text.casefold()), text)
        if other != text and text not in told:
            told.add(text)
            mend = f"Write the {column} in one way; if they are two, give them names that differ more."
            faults.append(
                Fault(
                    f"{FILE}, line {line}, column '{column}'",
                    shorten(text),
                    f"{shorten(other)} as above",
                    mend,
                )
            )
    return faults
