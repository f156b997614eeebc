"""How the contacts were read: in which order, at which current, on how many matings."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

import numpy as np

from ohmsworth.readings.factors import PLACES
from ohmsworth.readings.table import Codes, ReadingTable, number_cells

#: A condition with the one that the same specimens were read in later.
Turn = tuple[int, int]


def turns(table: ReadingTable, used: Codes) -> set[Turn]:
    """Conditions that came one after the other: every specimen read in both had all its first readings before the others.

    By the time stated, else as the rows stand. Specimens read in both by turns, or in different orders, have no last state. Of
    several factors each that differs has to have changed once and for all: side A, which is read again after side B, is not what
    side B was before. Contacts stay what they are and are followed one by one.
    """
    rows = table.take(used)
    later = _always_later(_spans(rows, rows.condition.codes).values())
    first = np.unique(rows.condition.codes, return_index=True)
    row_of = dict(zip(first[0].tolist(), first[1].tolist(), strict=True))
    for labels in (labels for name, labels in rows.factors.items() if name not in PLACES):
        changed = _always_later(_spans(rows, labels.codes).values())
        level = {condition: int(labels.codes[row]) for condition, row in row_of.items()}
        later = {(a, b) for a, b in later if level[a] == level[b] or (level[a], level[b]) in changed}
    return later


def _always_later(each: Iterable[Mapping[int, tuple[float, float]]]) -> set[Turn]:
    """States that every contact read in both had one after the other."""
    found: dict[Turn, bool] = {}
    for spans in each:
        for first, (_, end) in spans.items():
            for last, (start, _) in spans.items():
                if first != last:
                    found[first, last] = found.get((first, last), True) and end < start
    return {turn for turn, always in found.items() if always}


def _spans(rows: ReadingTable, state: Codes) -> dict[tuple[int, int], dict[int, tuple[float, float]]]:
    """When the readings in each state began and ended, of each specimen at each place that is a factor."""
    stated = rows.time is not None and not np.isnan(rows.time).any()
    place = np.asarray(rows.time) if stated else np.arange(len(rows), dtype=float)
    fixed = [labels.codes for name, labels in rows.factors.items() if name in PLACES]
    at = number_cells(fixed) if fixed else np.zeros(len(rows), np.int64)
    span = number_cells([rows.specimen.codes, at, state])
    first = np.unique(span, return_index=True)[1]
    start, end = place[first], place[first]
    np.minimum.at(start, span, place)
    np.maximum.at(end, span, place)
    spans: dict[tuple[int, int], dict[int, tuple[float, float]]] = {}
    for row, began, ended in zip(first.tolist(), start.tolist(), end.tolist(), strict=True):
        who = int(rows.specimen.codes[row]), int(at[row])
        spans.setdefault(who, {})[int(state[row])] = began, ended
    return spans


def latest_states(table: ReadingTable, used: Codes) -> set[tuple[int, int]]:
    """Each specimen with the conditions after which it was not read in another."""
    later, rows = turns(table, used), table.take(used)
    return {
        (specimen, condition)
        for (specimen, _), spans in _spans(rows, rows.condition.codes).items()
        for condition in spans
        if not any((condition, other) in later for other in spans)
    }


def largest_current(table: ReadingTable) -> float | None:
    """The largest current in the readings; None where resistances were read directly."""
    return None if table.current is None or len(table) == 0 else float(np.abs(table.current).max())


def one_mating(table: ReadingTable, used: Codes) -> bool:
    """Whether no contact was mated a second time in any condition."""
    if table.mating is None:
        return True
    rows = table.take(used)
    parts = (rows.specimen, rows.condition, rows.contact, rows.plug, rows.socket)
    contact = [part.codes for part in parts if part is not None]
    assert rows.mating is not None
    joints = number_cells([*contact, rows.mating.codes])
    return int(joints.max(initial=0)) == int(number_cells(contact).max(initial=0))
