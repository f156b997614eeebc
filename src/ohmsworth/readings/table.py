"""Readings as they were written down: one row each, in columns, never changed."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, fields, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from ohmsworth.readings.once import once_each

Array = NDArray[np.float64]
Codes = NDArray[np.int64]

#: Polarity codes: the current forward, reversed, switched off, or not stated.
FORWARD, REVERSED, OFF, UNSTATED = 1, -1, 0, 2


#: Numbers that reach this many times farther than there are rows are sorted; a table of them would be too long.
_SPREAD = 4


@dataclass(frozen=True, slots=True, eq=False)
class Labels:
    """A column of names: `codes[i]` says which of `names` stands in row i (first come, first numbered)."""

    codes: Codes
    names: tuple[str, ...]

    @staticmethod
    def of(texts: Sequence[str]) -> Labels:
        """Number the distinct `texts` in order of appearance."""
        number: defaultdict[str, int] = defaultdict()
        number.default_factory = number.__len__
        codes = np.fromiter(map(number.__getitem__, texts), np.int64, len(texts))
        return Labels(codes, tuple(number))

    @staticmethod
    def joined(parts: Sequence[Labels], name: Callable[[Sequence[str]], str]) -> Labels:
        """Rows named by `name` from their names in several columns."""
        codes = number_cells([part.codes for part in parts])
        first = np.unique(codes, return_index=True)[1]
        rows = zip(*([part.names[c] for c in part.codes[first].tolist()] for part in parts), strict=True)
        return Labels(codes, tuple(name(row) for row in rows)).renamed(str)

    def renamed(self, name: Callable[[str], str]) -> Labels:
        """The same rows under other names; what has one name then is one."""
        names = Labels.of([name(text) for text in self.names])
        return Labels(names.codes[self.codes], names.names)

    def take(self, rows: Codes) -> Labels:
        """The same names, for a selection of rows."""
        return Labels(self.codes[rows], self.names)


@dataclass(frozen=True, slots=True, eq=False, weakref_slot=True)
class ReadingTable:
    """Every reading of a study; all columns have one entry a row.

    Parameters
    ----------
    line
        Line of the file on which the reading stands, for messages.
    specimen, condition, contact, mating
        What was measured; `contact` and `mating` are None when the file has no such column.
    plug, socket
        Parts that are re-paired with each other, or None.
    polarity
        FORWARD, REVERSED, OFF or UNSTATED.
    voltage, current
        In volt and ampere, signed as the polarity says; None when `resistance` was read directly.
    resistance
        In ohm; None when voltage and current were read.
    time
        In seconds from the first reading, NaN where not stated; None without such a column.
    temperature
        In kelvin, NaN where not stated; None without such a column.
    operator
        Who took the reading, "" where not stated; None without such a column. Only bench fitness asks.
    factors
        Where the conditions are combinations: level of each reading under each factor, by name.
    others
        Further columns that the study names as scattering (operator, day, meter), by name.
    """

    line: Codes
    specimen: Labels
    condition: Labels
    contact: Labels | None
    mating: Labels | None
    plug: Labels | None
    socket: Labels | None
    polarity: NDArray[np.int8]
    voltage: Array | None
    current: Array | None
    resistance: Array | None
    time: Array | None
    temperature: Array | None
    operator: Labels | None = None
    factors: Mapping[str, Labels] = field(default_factory=dict)
    others: Mapping[str, Labels] = field(default_factory=dict)

    def __len__(self) -> int:
        return len(self.line)

    def take(self, rows: Codes) -> ReadingTable:
        """The same table with the chosen rows only."""
        picked: dict[str, Any] = {}
        for name in (entry.name for entry in fields(self)):
            column = getattr(self, name)
            if isinstance(column, Mapping):
                picked[name] = take_each(column, rows)
            elif column is not None:
                picked[name] = column.take(rows) if isinstance(column, Labels) else column[rows]
        return replace(self, **picked)

    @once_each
    def cells(self) -> Codes:
        """Number the cells: rows of one specimen, condition, contact, mating and whatever else scatters share a number."""
        columns = [self.specimen, self.condition, self.contact, self.mating, *self.others.values()]
        numbers = number_cells([column.codes for column in columns if column is not None])
        numbers.flags.writeable = False
        return numbers


def take_each(columns: Mapping[str, Labels], rows: Codes) -> dict[str, Labels]:
    """A selection of rows of several columns."""
    return {name: labels.take(rows) for name, labels in columns.items()}


def number_cells(codes: list[Codes]) -> Codes:
    """Number the distinct combinations of `codes`, in order of first appearance."""
    combined = _renumbered(codes[0])
    for more in codes[1:]:
        combined = _renumbered(combined * (int(more.max(initial=0)) + 1) + more)
    return combined


def distinct_pairs(first: Codes, second: Codes) -> tuple[Codes, Codes]:
    """The distinct pairs of two columns in ascending order, shape (pairs, 2), and which of them stands in each row."""
    number = number_cells([first, second])
    start = np.unique(number, return_index=True)[1]
    order = np.lexsort((second[start], first[start]))
    rank = np.empty(len(order), np.int64)
    rank[order] = np.arange(len(order))
    return np.column_stack([first[start[order]], second[start[order]]]), rank[number]


def _renumbered(numbers: Codes) -> Codes:
    """Numbers in order of first appearance; without sorting where they are not spread far."""
    size, n = int(numbers.max(initial=-1)) + 1, len(numbers)
    if size > _SPREAD * n or numbers.min(initial=0) < 0:
        _, first, numbers = np.unique(numbers, return_index=True, return_inverse=True)
    else:
        first = np.full(size, n)
        first[numbers[::-1]] = np.arange(n - 1, -1, -1)  # of rows with one number the first is written last
    rank = np.empty(len(first), np.int64)
    rank[np.argsort(first, kind="stable")] = np.arange(len(first))
    return rank[numbers]
