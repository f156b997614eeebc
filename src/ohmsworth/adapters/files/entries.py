"""Rows of readings.csv as entries of the records: digits and units as typed, every further column by its heading."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import Any, cast

from ohmsworth.adapters.files.cells import polarity_of
from ohmsworth.adapters.files.decode import decode
from ohmsworth.adapters.files.header import QUANTITIES, split_heading
from ohmsworth.adapters.files.readings_csv import FILE as READINGS
from ohmsworth.adapters.files.record_rows import READING
from ohmsworth.adapters.files.record_times import BESIDE
from ohmsworth.adapters.files.sheet import Row, cut
from ohmsworth.readings.entry import Entry, Sign, Typed
from ohmsworth.readings.names import clean_name, pair_name
from ohmsworth.units import tidy
from ohmsworth.work.own_times import TIME
from ohmsworth.work.portable import FolderRow

_NAMES = ("specimen", "condition", "contact", "mating")
_PLAIN = (*_NAMES, "operator", "note")


def read_entries(data: bytes, numbered: bool = False) -> tuple[FolderRow, ...]:
    """The rows of a readings.csv in which `read_readings` found no fault.

    `numbered` where the records wrote it, so that the column 'reading' holds their numbers.
    """
    text, faults = decode(data, READINGS)
    if text is None or faults:
        return ()
    rows, lines, _, _ = cut(text, READINGS)
    if not rows:
        return ()
    below = rows[1:]
    columns = _columns(rows[0], below)
    ours = _own_numbers(columns, below) if numbered else None
    return tuple(_row(line, row, columns, ours) for line, row in zip(lines[1:], below, strict=True))


def _columns(header: Row, rows: Sequence[Row]) -> list[tuple[int, str, str]]:
    """Place, name and heading or unit of every column that holds something."""
    found = []
    for place, cell in enumerate(header):
        if not any(_at(row, place) for row in rows):
            continue
        name, unit = split_heading(cell)
        if name in QUANTITIES:
            found.append((place, name, tidy(unit or "")))
        else:
            found.append((place, name, " ".join(tidy(cell).split()) or f"column {place + 1}"))
    return found


def _own_numbers(columns: Sequence[tuple[int, str, str]], rows: Sequence[Row]) -> int | None:
    """The place of the column in which the records number their readings: whole numbers, each once."""
    for name in (f"note {READING}", READING):
        place = next((place for place, own, _ in columns if own == name), None)
        if place is None:
            continue
        cells = [_at(row, place) for row in rows if _at(row, place)]
        if len(set(cells)) == len(cells) and all(cell.isascii() and cell.isdigit() for cell in cells):
            return place
    return None


def _row(line: int, row: Row, columns: Sequence[tuple[int, str, str]], ours: int | None) -> FolderRow:
    told: dict[str, Any] = {}
    others: dict[str, str] = {}
    for place, name, heading in columns:
        text = _at(row, place)
        if not text or place == ours:
            continue
        if name in QUANTITIES:
            told[name] = Typed(tidy(text).replace(",", "."), heading, QUANTITIES[name])
        elif name in _PLAIN:
            told[name] = clean_name(text) if name in _NAMES else text
        elif name == "polarity":
            told[name] = cast(Sign, polarity_of(text) or "")
        elif name == "step" and text.isascii() and text.isdigit() and len(text) < 10:
            told[name] = int(text)
        elif name in (TIME, BESIDE) and (moment := _zoned(text)) is not None:
            told["time"] = moment
        else:
            others[heading] = text
    told.setdefault("condition", "")
    told.setdefault("specimen", _pair(others))
    number = _at(row, ours) if ours is not None else ""
    return FolderRow(line, int(number) if number else None, Entry(**told, others=others))


def _pair(others: dict[str, str]) -> str:
    """The name of plug and socket together, where a row has no other."""
    parts = {split_heading(heading)[0]: text for heading, text in others.items()}
    if not ("plug" in parts and "socket" in parts):
        return ""
    return pair_name(parts["plug"], parts["socket"])


def _zoned(text: str) -> datetime | None:
    """A moment that states its zone; None for any other way of writing a time, which is kept as it stands."""
    try:
        moment = datetime.fromisoformat(tidy(text))
    except ValueError:
        return None
    return moment if moment.tzinfo is not None else None


def _at(row: Row, place: int) -> str:
    return row[place].strip() if place < len(row) else ""
