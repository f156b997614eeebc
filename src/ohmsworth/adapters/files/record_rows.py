"""Readings of the records as readings.csv: one line a reading, in their order, with the columns that hold something."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Collection, Mapping, Sequence

from ohmsworth.adapters.files.formulas import as_text
from ohmsworth.adapters.files.header import KNOWN, QUANTITIES
from ohmsworth.adapters.files.record_times import time_columns
from ohmsworth.adapters.files.record_units import column_unit, in_unit
from ohmsworth.errors import Fault, InputRefused, nearest_name
from ohmsworth.readings.entry import Entry, Typed
from ohmsworth.readings.names import column_name
from ohmsworth.work.own_times import TIME
from ohmsworth.work.taken_reading import TakenReading

#: The column that says which reading of the records a row is, so that it is known again when rows were sorted.
READING = "reading"
_LABELS: tuple[tuple[str, Callable[[Entry], str]], ...] = (
    ("step", lambda e: "" if e.step is None else str(e.step)),
    ("specimen", lambda e: e.specimen),
    ("condition", lambda e: e.condition),
    ("contact", lambda e: e.contact),
    ("mating", lambda e: e.mating),
    ("polarity", lambda e: e.polarity),
)
_OWN = frozenset((*(name for name, _ in _LABELS), *QUANTITIES, "operator", TIME, "note"))
#: What may not stand in a cell, lest one row become two or the file be taken for no text.
_CELL = str.maketrans({"\r": " ", "\n": " ", "\0": "\ufffd"})


def readings_bytes(readings: Sequence[TakenReading], named: Collection[str] = ()) -> bytes:
    """The file of `readings`, UTF-8 with a byte-order mark so that a spreadsheet shows mΩ for what it is.

    `named` are columns that the study asks for by name.

    Raises
    ------
    InputRefused
        When some were read as a resistance and others as voltage and current.
    """
    _refuse_two_kinds(readings)
    return sheet_bytes(columns_of([one.number for one in readings], [one.entry for one in readings], named))


def sheet_bytes(columns: Mapping[str, Sequence[str]]) -> bytes:
    """A file with these cells by heading."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow([as_text(_heading(name)) for name in columns])
    writer.writerows(zip(*([_cell(text) for text in column] for column in columns.values()), strict=True))
    return ("\ufeff" + out.getvalue()).encode("utf-8", "replace")


def columns_of(
    numbers: Sequence[int],
    entries: Sequence[Entry],
    named: Collection[str] = (),
    taken: Collection[str] = (),
) -> dict[str, list[str]]:
    """The cells by heading: columns that hold something.

    `numbers` are those of the readings, and `taken` names of columns that the file has beside: no further column is called so.
    """
    others = _others(entries, named, _OWN | set(taken))
    own_number = READING in map(column_name, others)
    columns = {f"note {READING}" if own_number else READING: [str(number) for number in numbers]}
    columns |= {name: [told(e) for e in entries] for name, told in _LABELS}
    columns |= time_columns(entries)
    columns["operator"] = [e.operator for e in entries]
    for name in QUANTITIES:
        columns |= _figures(name, [getattr(e, name) for e in entries])
    columns |= others
    columns["note"] = [e.note for e in entries]
    return {heading: cells for heading, cells in columns.items() if any(cell.strip() for cell in cells)}


def _figures(name: str, figures: Sequence[Typed | None]) -> dict[str, list[str]]:
    if not any(figures):
        return {}
    unit = column_unit(figures)
    return {f"{name} [{unit}]": ["" if one is None else in_unit(one, unit) for one in figures]}


def _others(entries: Sequence[Entry], named: Collection[str], own: Collection[str]) -> dict[str, list[str]]:
    """The further columns by name; headings that differ in capitals and blanks alone are one."""
    headings: dict[str, str] = {}
    for heading in sorted(
        {heading for entry in entries for heading in entry.others if column_name(heading) != TIME}
    ):
        headings.setdefault(column_name(heading), heading)
    told = [{column_name(heading): text for heading, text in e.others.items()} for e in entries]
    columns: dict[str, list[str]] = {}
    for name, heading in sorted(headings.items()):
        free = _heading(_free(name, heading, named, own))
        while free in columns:
            free += " again"
        columns[free] = [row.get(name, "") for row in told]
    return columns


def _free(name: str, heading: str, named: Collection[str], own: Collection[str]) -> str:
    """A heading that the reader of the file takes for no other column."""
    if not name.strip():
        return "note without a heading"
    if name in named or (name in KNOWN and name not in own) or name.startswith("note "):
        return heading
    return f"note {heading}" if name in own or nearest_name(name, KNOWN, cutoff=0.75) else heading


def _heading(text: str) -> str:
    """A heading in which nothing is taken for what separates columns."""
    return text.translate(_CELL).replace("\t", " ").replace(";", ",")


def _cell(text: str) -> str:
    return as_text(text.translate(_CELL))


def _refuse_two_kinds(readings: Sequence[TakenReading]) -> None:
    """Refuse resistances among voltages and currents: one file holds one of the two."""
    ohm = [one for one in readings if one.entry.resistance is not None]
    volts = [one for one in readings if one.entry.voltage is not None or one.entry.current is not None]
    if not ohm or not volts:
        return
    few, kind, others = (
        (ohm, "a resistance", "voltage and current")
        if len(ohm) <= len(volts)
        else (volts, "voltage and current", "a resistance")
    )
    mend = "Withdraw it, or correct it to what the others are; a study reads one of the two."
    raise InputRefused(
        tuple(
            Fault(
                f"reading {one.nth}",
                kind,
                f"{others}, as in the other readings of this study",
                mend,
            )
            for one in few
        )
    )


def named_columns(table: Mapping[str, object]) -> tuple[str, ...]:
    """The columns that a study.toml names: its factors, and what else scatters."""
    named: list[str] = []
    for key in ("factors", "scatter_by"):
        listed = table.get(key)
        named += (
            [column_name(name) for name in listed if isinstance(name, str)]
            if isinstance(listed, list)
            else []
        )
    return tuple(named)
