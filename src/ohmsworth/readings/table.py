"""Readings as they were written down: one row each, in columns, never changed."""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Codes = NDArray[np.int64]

#: Polarity codes: the current forward, reversed, switched off, or not stated.
FORWARD, REVERSED, OFF, UNSTATED = 1, -1, 0, 2


@dataclass(frozen=True, slots=True, eq=False)
class Labels:
    """A column of names: `codes[i]` says which of `names` stands in row i (first come, first numbered)."""

    codes: Codes
    names: tuple[str, ...]

    @staticmethod
    def of(texts: list[str]) -> Labels:
        """Number the distinct `texts` in order of appearance."""
        number: dict[str, int] = {}
        codes = np.fromiter((number.setdefault(text, len(number)) for text in texts), np.int64, len(texts))
        return Labels(codes, tuple(number))

    def take(self, rows: Codes) -> Labels:
        """The same names, for a selection of rows."""
        return Labels(self.codes[rows], self.names)


@dataclass(frozen=True, slots=True, eq=False)
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

    def __len__(self) -> int:
        return len(self.line)

    def take(self, rows: Codes) -> ReadingTable:
        """The same table with the chosen rows only."""
        picked: dict[str, Any] = {}
        for field in fields(self):
            column = getattr(self, field.name)
            if column is not None:
                picked[field.name] = column.take(rows) if isinstance(column, Labels) else column[rows]
        return replace(self, **picked)

    def cells(self) -> Codes:
        """Number the cells: rows of one specimen, condition, contact and mating share a number."""
        columns = [self.specimen, self.condition, self.contact, self.mating]
        return number_cells([column.codes for column in columns if column is not None])


def number_cells(codes: list[Codes]) -> Codes:
    """Number the distinct combinations of `codes`, in order of first appearance."""
    combined = codes[0]
    for more in codes[1:]:
        combined = combined * (int(more.max(initial=0)) + 1) + more
        combined = np.unique(combined, return_inverse=True)[1].astype(np.int64)
    _, first, inverse = np.unique(combined, return_index=True, return_inverse=True)
    rank = np.empty(len(first), np.int64)
    rank[np.argsort(first)] = np.arange(len(first))
    return rank[inverse]
