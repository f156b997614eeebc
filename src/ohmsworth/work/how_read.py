"""How the contacts were read: in which order, at which current, on how many matings."""

from __future__ import annotations

import numpy as np

from ohmsworth.readings.table import Array, Codes, ReadingTable, number_cells


def order_read(table: ReadingTable, used: Codes) -> list[int]:
    """Conditions in the order in which they were read on the whole: by the time stated, else as the rows stand."""
    rows = table.take(used)
    stated = rows.time is not None and not np.isnan(rows.time).any()
    place = np.asarray(rows.time) if stated else np.arange(len(rows), dtype=float)
    codes = rows.condition.codes
    return sorted(np.unique(codes).tolist(), key=lambda c: _middle(place[codes == c]))


def _middle(place: Array) -> float:
    return float(place.mean())


def latest_states(table: ReadingTable, used: Codes) -> set[tuple[int, int]]:
    """Each specimen with the condition in which it was read last."""
    rank = {condition: i for i, condition in enumerate(order_read(table, used))}
    latest: dict[int, int] = {}
    for specimen, condition in zip(
        table.specimen.codes[used].tolist(), table.condition.codes[used].tolist(), strict=True
    ):
        before = latest.setdefault(specimen, condition)
        if rank[condition] > rank[before]:
            latest[specimen] = condition
    return set(latest.items())


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
