"""Entries of the bench as the table that a file of the same rows would give."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import UTC, datetime
from functools import lru_cache

import numpy as np

from ohmsworth.errors import ArgumentFault
from ohmsworth.readings.entry import Entry, Typed
from ohmsworth.readings.factors import OWN_COLUMNS, PART_CONDITIONS, with_factors
from ohmsworth.readings.names import clean_name, column_name
from ohmsworth.readings.signs import signed_readings, stated_polarities
from ohmsworth.readings.study import Study
from ohmsworth.readings.table import FORWARD, OFF, REVERSED, UNSTATED, Array, Labels, ReadingTable

#: Line of the first reading in a file, below the heading.
FIRST_LINE = 2
#: The condition where no entry states one.
ONE_CONDITION = "all"
_SIGNS = {"+": FORWARD, "-": REVERSED, "0": OFF, "": UNSTATED}
_OWN = ("specimen", "condition", "contact", "mating", "operator")

_clean = lru_cache(maxsize=10_000)(clean_name)


def table_of_entries(entries: Sequence[Entry], named: Sequence[str] = ()) -> ReadingTable:
    """The table of `entries` in their order; the first stands on line 2, as in readings.csv.

    A column is there when one of the entries has something in it, as it would be written. `named` are further columns
    of names, which the study asks for. Nothing is checked but that there is something to compute with.

    Raises
    ------
    ArgumentFault
        Without an entry, or where some have voltage and current and others a resistance.
    """
    if not entries:
        raise ArgumentFault("entries", 0, "at least one")
    polarity = np.array([_SIGNS[entry.polarity] for entry in entries], np.int8)
    voltage, current = _numbers(entries, "voltage"), _numbers(entries, "current")
    resistance = _numbers(entries, "resistance")
    if current is None and voltage is not None and (polarity == OFF).all():
        current = np.full(len(entries), np.nan)
    _check_kind(voltage, current, resistance, polarity)
    if current is not None and (polarity == UNSTATED).all():  # no such column
        polarity = np.where(current < 0, REVERSED, FORWARD).astype(np.int8)
    polarity = stated_polarities(polarity, current)
    voltage, current = signed_readings(voltage, current, polarity)
    further = {name: _names(entries, name) for name in dict.fromkeys((*PART_CONDITIONS, *named))}
    specimen = _names(entries, "specimen")
    assert specimen is not None or not any(entry.specimen for entry in entries)
    return ReadingTable(
        np.arange(FIRST_LINE, len(entries) + FIRST_LINE),
        specimen or Labels.of([""] * len(entries)),
        _names(entries, "condition") or Labels.of([ONE_CONDITION] * len(entries)),
        _names(entries, "contact"), _names(entries, "mating"), _names(entries, "plug"), _names(entries, "socket"),
        polarity, voltage, current, resistance, _times(entries), _numbers(entries, "temperature"),
        _names(entries, "operator"),
        others={name: labels for name, labels in further.items() if labels and name not in OWN_COLUMNS},
    )  # fmt: skip


def table_as_asked(study: Study, entries: Sequence[Entry]) -> ReadingTable:
    """The table of `entries` with the factors and further scatter that the study names, as far as they have columns.

    Raises
    ------
    ArgumentFault
        As `table_of_entries`.
    """
    table = table_of_entries(entries, (*study.factors, *study.scatter_by))
    there = {name for name in OWN_COLUMNS if getattr(table, name) is not None} | set(table.others)
    factors = study.factors or PART_CONDITIONS
    if all(name in there for name in factors):
        table = with_factors(table, factors)
    kept = {name: labels for name, labels in table.others.items() if name in study.scatter_by}
    return replace(table, others=kept)


def _check_kind(
    voltage: Array | None, current: Array | None, resistance: Array | None, polarity: np.ndarray
) -> None:
    flowing = polarity != OFF
    columns = [
        name
        for name, column in (("voltage", voltage), ("current", current), ("resistance", resistance))
        if column is not None
    ]
    known = columns in (["resistance"], ["voltage", "current"])
    for column in (voltage, current, resistance):
        known &= column is None or not np.isnan(column[flowing]).any()
    if not known:
        raise ArgumentFault("entries", columns, "voltage and current in each, or resistance in each")


def _numbers(entries: Sequence[Entry], name: str) -> Array | None:
    typed: list[Typed | None] = [getattr(entry, name) for entry in entries]
    if not any(typed):
        return None
    return np.array([np.nan if one is None else one.value for one in typed])


def _names(entries: Sequence[Entry], name: str) -> Labels | None:
    """A column of names; None where every entry leaves it empty."""
    if name not in _OWN and not any(entry.others for entry in entries):
        return None
    find: Callable[[Entry], str] = (
        (lambda entry: getattr(entry, name)) if name in _OWN else (lambda entry: _further(entry, name))
    )
    texts = [_clean(find(entry)) for entry in entries]
    return Labels.of(texts) if any(texts) else None


def _further(entry: Entry, name: str) -> str:
    """What stands in a further column, whatever the capitals of its heading."""
    said = entry.others
    return said[name] if name in said else next((said[one] for one in said if column_name(one) == name), "")


def _times(entries: Sequence[Entry]) -> Array | None:
    """Seconds from the earliest."""
    if not any(entry.time for entry in entries):
        return None
    seconds = np.array([np.nan if entry.time is None else _seconds(entry.time) for entry in entries])
    return seconds - float(np.nanmin(seconds))


def _seconds(time: datetime) -> float:
    return (time if time.tzinfo else time.replace(tzinfo=UTC)).timestamp()
