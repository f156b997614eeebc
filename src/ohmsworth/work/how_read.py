"""How the contacts were read: in which order, at which current, on how many matings."""

from __future__ import annotations

import numpy as np

from ohmsworth.readings.table import Codes, ReadingTable, number_cells

#: A condition with the one that the same specimens were read in later.
Turn = tuple[int, int]


def turns(table: ReadingTable, used: Codes) -> set[Turn]:
    """Conditions that came one after the other: every specimen read in both had all its first readings before the others.

    By the time stated, else as the rows stand. Specimens read in both by turns, or in different orders, have no last state.
    """
    found: dict[Turn, bool] = {}
    for spans in _spans(table, used).values():
        for first, (_, end) in spans.items():
            for last, (start, _) in spans.items():
                if first != last:
                    found[first, last] = found.get((first, last), True) and end < start
    return {turn for turn, always in found.items() if always}


def _spans(table: ReadingTable, used: Codes) -> dict[int, dict[int, tuple[float, float]]]:
    """When each specimen's readings under each condition began and ended."""
    rows = table.take(used)
    stated = rows.time is not None and not np.isnan(rows.time).any()
    place = np.asarray(rows.time) if stated else np.arange(len(rows), dtype=float)
    pair = number_cells([rows.specimen.codes, rows.condition.codes])
    first = np.unique(pair, return_index=True)[1]
    start, end = place[first], place[first]
    np.minimum.at(start, pair, place)
    np.maximum.at(end, pair, place)
    spans: dict[int, dict[int, tuple[float, float]]] = {}
    who = zip(rows.specimen.codes[first].tolist(), rows.condition.codes[first].tolist(), strict=True)
    for (specimen, condition), span in zip(who, zip(start.tolist(), end.tolist(), strict=True), strict=True):
        spans.setdefault(specimen, {})[condition] = span
    return spans


def latest_states(table: ReadingTable, used: Codes) -> set[tuple[int, int]]:
    """Each specimen with the conditions after which it was not read in another."""
    later = turns(table, used)
    return {
        (specimen, condition)
        for specimen, spans in _spans(table, used).items()
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
