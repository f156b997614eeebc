"""Where a study is kept, and how sentences speak of its readings there: a folder of files, or the shop's records."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Literal

#: How a fault names the rows of a study's file.
_ROWS = re.compile(r"(readings|takes)\.csv, line (\d+(?:, \d+)*)")
#: What a study's files are called where nobody has seen them.
_FILES = {
    "readings.csv": "the readings",
    "takes.csv": "the takes",
    "takes.analysed.json": "what the takes told",
    "study.toml": "the question",
}
#: More readings than this are not listed in a sentence.
_MOST = 8


@dataclass(frozen=True, slots=True)
class Home:
    """Where a study is kept.

    Parameters
    ----------
    kind
        A "folder" of files, or the "records" with their pages.
    number_of
        In the records: the number under which the pages show a reading, by its line of readings.csv.
    take_of
        The same of takes, by their line of takes.csv.
    row_word
        What the study is answered from: "reading", or "take" of a study of takes alone, whose `number_of` are those of takes.
    """

    kind: Literal["folder", "records"] = "folder"
    number_of: Mapping[int, int] = field(default_factory=dict)
    take_of: Mapping[int, int] = field(default_factory=dict)
    row_word: Literal["reading", "take"] = "reading"

    @property
    def kept(self) -> bool:
        """Whether the study is kept in the records, so that nobody has seen its files."""
        return self.kind == "records"


#: A study as it stands in its files.
FOLDER = Home()


def rows_named(home: Home, rows: Sequence[int]) -> str:
    """Readings in a sentence: ``line 25 of readings.csv``, ``takes 12, 13``; "every reading" for none."""
    if not rows:
        return f"every {home.row_word}"
    several = "s" if len(rows) > 1 else ""
    if not home.kept:
        return f"line{several} {row_numbers(home, rows, _MOST)} of {home.row_word}s.csv"
    if home.number_of.keys().isdisjoint(rows):
        return f"these {home.row_word}s" if several else f"this {home.row_word}"
    return f"{home.row_word}{several} {row_numbers(home, rows, _MOST)}"


def row_numbers(home: Home, rows: Sequence[int], most: int = 12) -> str:
    """Their lines, or the numbers that the pages show; "all" for none.

    Examples
    --------
    >>> row_numbers(FOLDER, (25, 26))
    '25, 26'
    >>> row_numbers(Home("records", {25: 31, 26: 32}), (25, 26), 1)
    '31 …'
    """
    # A reading of another study has no number in this one.
    numbers = [home.number_of.get(row) for row in rows] if home.kept else list(rows)
    known = [str(number) for number in numbers if number is not None]
    return (", ".join(known[:most]) + (" …" if len(known) > most else "")) or "all"


def rows_called(home: Home) -> str:
    """The heading over such numbers."""
    return f"{home.row_word}s" if home.kept else "lines"


def counted_as(home: Home) -> str:
    """What readings are counted as: ``48 of 48 rows``."""
    return f"{home.row_word}s" if home.kept else "rows"


def row_called(home: Home, line: int) -> str:
    """One reading as a name: ``line 25``, ``reading 31``."""
    if not home.kept:
        return f"line {line}"
    return f"{home.row_word} {home.number_of[line]}" if line in home.number_of else f"a {home.row_word}"


def where_said(home: Home, text: str) -> str:
    """Where a fault stands, told by the number of the reading where nobody has seen the line.

    Examples
    --------
    >>> where_said(Home("records", {25: 31}), "readings.csv, line 25, column 'time'")
    "reading 31, column 'time'"
    """
    if not home.kept:
        return text
    found = _ROWS.match(text)
    if found is not None:
        own, rows = _own(home, found[1]), [int(row) for row in found[2].split(", ")]
        if own.number_of.keys() >= set(rows):
            return rows_named(own, rows) + text[found.end() :]
    for file, said in _FILES.items():
        if text.startswith(file):
            return said + text[len(file) :]
    return text


def words_said(home: Home, text: str) -> str:
    """What was expected, or how to mend it, without the names of files where nobody has seen them.

    Examples
    --------
    >>> words_said(Home("records"), "a condition in takes.csv: dark, light")
    'a condition of the takes: dark, light'
    """
    if not home.kept:
        return text
    for file, said in _FILES.items():
        text = text.replace(f"condition in {file}", f"condition of {said}").replace(file, said)
    return text


def _own(home: Home, file: str) -> Home:
    """The records as the rows of one of the two files are numbered in them."""
    return replace(home, number_of=home.take_of, row_word="take") if file == "takes" else home


def to_look(home: Home) -> str:
    """Where to see what was read."""
    return "Look at it under Readings" if home.kept else "Look at the bench sheet"


def to_keep(home: Home, several: bool = False) -> str:
    """How to keep readings in spite of a warning."""
    if home.kept:
        return f"keep the reading{'s' if several else ''} in spite of the warning"
    return f"list the row{'s' if several else ''} under 'keep'"


def to_check_unit(home: Home) -> str:
    """Where a slipped unit shows."""
    beside = "beside the figures" if home.kept else "in the heading"
    return f"Look at the unit {beside} and on the meter"


def stated_in(home: Home) -> str:
    """Where the question says something already, or is to say it."""
    return "under Question" if home.kept else "in study.toml"


def to_ask(home: Home, text: str, words: str) -> str:
    """What the question is to say: `text` into its file, or `words` on its page.

    Examples
    --------
    >>> to_ask(FOLDER, "add [[use]]", "choose a use")
    'add [[use]] to study.toml'
    >>> to_ask(Home("records"), "add [[use]]", "choose a use")
    'choose a use under Question'
    """
    return f"{words} under Question" if home.kept else f"{text} to study.toml"
