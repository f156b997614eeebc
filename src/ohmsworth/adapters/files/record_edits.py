"""What was edited in an exported folder afterwards: where its files say something else than its record.json."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal, InvalidOperation
from typing import Any

from ohmsworth.adapters.files.entries import read_entries
from ohmsworth.adapters.files.header import QUANTITIES
from ohmsworth.adapters.files.readings_csv import FILE as READINGS
from ohmsworth.adapters.files.record_units import in_unit
from ohmsworth.adapters.files.study_record import folder_of
from ohmsworth.adapters.files.study_toml import FILE as STUDY
from ohmsworth.adapters.files.takes_csv import FILE as TAKES
from ohmsworth.adapters.files.takes_kept import FILE as ANALYSED
from ohmsworth.errors import InputRefused
from ohmsworth.readings.entry import Entry, Typed
from ohmsworth.readings.names import clean_name, column_name
from ohmsworth.work.portable import CardLog, Edit, Edits, FolderRow, StudyFolder
from ohmsworth.work.study_lines import (
    FIRST_LINE,
    kept_lines,
    lines_set_aside,
    reading_at,
    takes_in_file,
)
from ohmsworth.work.study_log import KEPT, PUT_BACK, SET_ASIDE, StudyState, fold

_TEXTS = ("specimen", "condition", "contact", "mating", "polarity", "operator", "note", "step")


def edits_of(study: CardLog, folder: StudyFolder) -> Edits:
    """Compare the files of `folder` with the log that its record.json holds."""
    state = fold(study.lines)
    try:
        made = folder_of(state, study.contents.__getitem__)
    except InputRefused:  # it was exported without them
        return Edits()
    beside = {name: data for name, data in made.items() if name not in (STUDY, READINGS, TAKES, ANALYSED)}
    other = tuple(n for n, data in folder.beside.items() if beside.get(n) != data)
    readings = _Expected(
        made.get(READINGS),
        reading_at(state) if state.counted else {},
        {one.number: one.entry for one in state.counted},
    )
    takes = [one.reading for one in takes_in_file(state)]
    taken = _Expected(
        made.get(TAKES),
        {FIRST_LINE + i: one.number for i, one in enumerate(takes)},
        {one.number: one.entry for one in takes},
    )
    asked = _lines(folder.question) != _lines(made[STUDY].decode())
    marks = _marks(state, folder) if asked else {}
    return Edits(_rows(readings, folder.rows), asked, marks, other, _rows(taken, folder.take_rows))


def _lines(text: str) -> list[str]:
    return text.removeprefix("\ufeff").splitlines()


@dataclass(frozen=True, slots=True)
class _Expected:
    """A file as the log makes it, the number of the reading by its line, and what the records say of each."""

    data: bytes | None
    lines: Mapping[int, int]
    entries: Mapping[int, Entry]


def _rows(made: _Expected, rows: Sequence[FolderRow]) -> tuple[Edit, ...]:
    """The rows that differ: by the number of the reading where rows carry it, else by their place."""
    expected = read_entries(made.data, True) if made.data is not None else ()
    lines, entries = made.lines, made.entries
    wanted = {lines[row.line]: row.entry for row in expected}
    numbered = any(row.reading is not None for row in rows)
    numbers = [row.reading if numbered else lines.get(i) for i, row in enumerate(rows, start=2)]
    found: list[Edit] = []
    for row, number in zip(rows, numbers, strict=True):
        if number not in wanted:
            found.append(Edit(row.line, None, row.entry, f"a new row of {row.entry.specimen}", "no such row"))
            continue
        differing = _differing(row.entry, wanted[number])
        if differing:
            says, said = (", ".join(f"{name} {pair[i]}" for name, pair in differing.items()) for i in (0, 1))
            found.append(Edit(row.line, number, _edited(entries[number], row.entry, differing), says, said))
    gone = [number for number in wanted if number not in numbers]
    at = {number: line for line, number in lines.items()}
    return (
        *found,
        *(Edit(at[n], n, None, "no such row", f"reading {n}, {wanted[n].specimen}") for n in gone),
    )


def _differing(found: Entry, expected: Entry) -> dict[str, tuple[str, str]]:
    """Names of what differs, each with both texts."""
    pairs: dict[str, tuple[str, str]] = {}
    for name in _TEXTS:
        texts = _text(getattr(found, name)), _text(getattr(expected, name))
        if texts[0] != texts[1]:
            pairs[name] = texts
    for name in QUANTITIES:
        one, other = getattr(found, name), getattr(expected, name)
        if not _same(one, other):
            pairs[name] = (_figure(one), _figure(other))
    if found.time != expected.time:
        pairs["time"] = (_text(found.time), _text(expected.time))
    there, wanted = _columns(found), _columns(expected)
    for heading in dict.fromkeys((*there, *wanted)):
        texts = _text(there.get(heading)), _text(wanted.get(heading))
        if texts[0] != texts[1]:
            pairs[f"column {heading}"] = texts
    return pairs


def _text(value: Any) -> str:
    return "" if value is None else clean_name(str(value))


def _figure(typed: Typed | None) -> str:
    return "none" if typed is None else f"{typed.text} {typed.unit}"


def _columns(entry: Entry) -> dict[str, str]:
    return {column_name(heading): text for heading, text in entry.others.items()}


def _same(one: Typed | None, other: Typed | None) -> bool:
    """Whether two figures are the same size; a spreadsheet leaves zeros at the end away."""
    if one is None or other is None:
        return one is other
    try:
        return Decimal(one.text) == Decimal(in_unit(other, one.unit))
    except (InvalidOperation, KeyError):
        return one == other


def _edited(entry: Entry, found: Entry, differing: Mapping[str, object]) -> Entry:
    """The entry of the records with what was edited, and all else as it is kept there."""
    plain = {name: getattr(found, name) for name in differing if not name.startswith("column ")}
    edited = {name[len("column ") :] for name in differing if name.startswith("column ")}
    others = {heading: text for heading, text in entry.others.items() if column_name(heading) not in edited}
    others |= {heading: text for heading, text in found.others.items() if column_name(heading) in edited}
    return replace(entry, **plain, others=others)


def _marks(state: StudyState, folder: StudyFolder) -> dict[int, tuple[str, str]]:
    """Readings that the edited study.toml marks otherwise: what was done to each, and why."""
    lines = reading_at(state)
    at = {
        row.line: row.reading if row.reading is not None else lines.get(row.line)
        for row in folder.rows or folder.take_rows
    }
    aside = {number: why for line, why in folder.set_aside.items() if (number := at.get(line)) is not None}
    keep = {number for line in folder.kept if (number := at.get(line)) is not None}
    was_aside = {lines[line]: why for line, why in lines_set_aside(state).items()}
    was_kept = {lines[line] for line in kept_lines(state)}
    found = {n: (SET_ASIDE, why) for n, why in aside.items() if was_aside.get(n) != why}
    found |= dict.fromkeys(sorted(keep - was_kept), (KEPT, ""))
    found |= {n: (PUT_BACK, "") for n in was_aside if n not in aside and n not in keep}
    return found
