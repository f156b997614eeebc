"""Readings, resistances and designs made from short lists, for tests of the computing core."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from ohmsworth.inference.design import Design, build_design
from ohmsworth.readings import Labels, ReadingTable
from ohmsworth.resistance import Resistances

SIGNS = {"+": 1, "-": -1, "0": 0, "?": 2}


def labels(texts: Sequence[object]) -> Labels:
    return Labels.of([str(text) for text in texts])


def reading_table(
    polarity: str | Sequence[str],
    *,
    voltage: Sequence[float] | None = None,
    current: Sequence[float] | None = None,
    resistance: Sequence[float] | None = None,
    specimen: Sequence[object] | None = None,
    condition: Sequence[object] | None = None,
    mating: Sequence[object] | None = None,
    time: Sequence[float] | None = None,
) -> ReadingTable:
    """Rows as a file would hold them, lines numbered from 2; everything not given is one and the same."""
    signs = np.array([SIGNS[p] for p in polarity], np.int8)
    n = len(signs)

    def column(values: Sequence[float] | None) -> np.ndarray | None:
        return None if values is None else np.array(values, float)

    return ReadingTable(
        line=np.arange(2, n + 2),
        specimen=labels(specimen if specimen is not None else ["S1"] * n),
        condition=labels(condition if condition is not None else ["new"] * n),
        contact=None,
        mating=None if mating is None else labels(mating),
        plug=None,
        socket=None,
        polarity=signs,
        voltage=column(voltage),
        current=column(current),
        resistance=column(resistance),
        time=column(time),
        temperature=None,
    )


def known_resistances(
    value: Sequence[float],
    specimen: Sequence[object],
    condition: Sequence[object] | None = None,
    *,
    contact: Sequence[object] | None = None,
    mating: Sequence[object] | None = None,
    plug: Sequence[object] | None = None,
    socket: Sequence[object] | None = None,
    gain: float = 0.0,
    independent: float = 0.0,
    emf: float = 0.0,
) -> Resistances:
    """Resistances as if reduced already; `gain` is relative, `independent` and `emf` in ohm."""
    values = np.array(value, float)
    n = len(values)
    return Resistances(
        value=values,
        independent=np.full(n, independent),
        shared={"voltmeter gain": gain * values} if gain else {},
        emf=np.full(n, emf),
        form=np.full(n, 2),
        rows=np.column_stack([2 * np.arange(n), 2 * np.arange(n) + 1, np.full(n, -1)]),
        specimen=labels(specimen),
        condition=labels(condition if condition is not None else ["new"] * n),
        contact=None if contact is None else labels(contact),
        mating=None if mating is None else labels(mating),
        plug=None if plug is None else labels(plug),
        socket=None if socket is None else labels(socket),
    )


def design_of(
    y: Sequence[float],
    specimen: Sequence[object],
    condition: Sequence[object] | None = None,
    **levels: Sequence[object] | None,
) -> Design:
    """A design from columns of names; `levels` are contact, mating, plug, socket."""
    return build_design(
        np.array(y, float),
        labels(condition if condition is not None else ["new"] * len(y)),
        labels(specimen),
        **{name: labels(column) for name, column in levels.items() if column is not None},
    )
