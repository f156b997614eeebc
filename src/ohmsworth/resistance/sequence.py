"""Which rows make one resistance: pairs of opposite polarity, three-reading sequences, zeros, singles.

Within one mating the rows are taken in the order in which they were read. A run of alternating polarity of
even length gives pairs; of odd length pairs and one closing three-reading sequence (+ − +), which also
cancels a linear drift. Rows left without a partner are paired by order if both polarities remain; what then
remains stands alone, corrected by the nearest earlier zero reading (current off) when there is one.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ohmsworth.readings.table import FORWARD, OFF, REVERSED, Array, Codes

#: How a resistance was formed.
SINGLE, ZERO, REVERSAL, THREE, DIRECT, TONES = range(6)
FORM_WORDS = (
    "one polarity",
    "zero subtracted",
    "current reversed",
    "three readings",
    "read as resistance",
    "from tones",
)


@dataclass(frozen=True, slots=True, eq=False)
class Groups:
    """The rows of each resistance: `rows[i]` holds up to three row numbers, −1 where unused.

    For ZERO the second row is the zero reading.
    """

    form: Codes
    rows: Codes


def group_rows(cell: Codes, polarity: np.ndarray, time: Array | None) -> Groups:
    """Find the rows of each resistance.

    Parameters
    ----------
    cell
        Mating to which each row belongs, shape (n,).
    polarity
        FORWARD, REVERSED, OFF or UNSTATED for each row; unstated rows stand alone.
    time
        Seconds, to order the rows of a mating; None (or NaN) keeps the order of the file.
    """
    order = _order(cell, time)
    edges = np.flatnonzero(np.diff(cell[order])) + 1
    form: list[int] = []
    rows: list[tuple[int, int, int]] = []
    polarities = polarity.tolist()
    for members in np.split(order, edges):
        for kind, triple in _group_cell(members.tolist(), polarities):
            form.append(kind)
            rows.append(triple)
    return Groups(np.array(form, np.int64), np.array(rows, np.int64).reshape(-1, 3))


def _order(cell: Codes, time: Array | None) -> Codes:
    rows = np.arange(len(cell))
    if time is None or np.isnan(time).any():
        return np.lexsort((rows, cell))
    return np.lexsort((rows, time, cell))


def _group_cell(members: list[int], polarity: list[int]) -> list[tuple[int, tuple[int, int, int]]]:
    found: list[tuple[int, tuple[int, int, int]]] = []
    singles: list[int] = []
    zeros = [row for row in members if polarity[row] == OFF]
    for run in _alternating_runs([row for row in members if polarity[row] != OFF], polarity):
        _split_run(run, found, singles)
    _pair_leftovers(singles, polarity, found)
    place = {row: number for number, row in enumerate(members)}
    for row in singles:
        found.append(_alone(row, zeros, place))
    return found


def _alternating_runs(members: list[int], polarity: list[int]) -> list[list[int]]:
    runs: list[list[int]] = []
    for row in members:
        if runs and polarity[row] == -polarity[runs[-1][-1]]:
            runs[-1].append(row)
        else:
            runs.append([row])
    return runs


def _split_run(run: list[int], found: list[tuple[int, tuple[int, int, int]]], singles: list[int]) -> None:
    if len(run) == 1:
        singles.append(run[0])
        return
    odd = len(run) % 2
    for start in range(0, len(run) - 3 * odd, 2):
        found.append((REVERSAL, (run[start], run[start + 1], -1)))
    if odd:
        found.append((THREE, (run[-3], run[-2], run[-1])))


def _pair_leftovers(
    singles: list[int], polarity: list[int], found: list[tuple[int, tuple[int, int, int]]]
) -> None:
    forward = [row for row in singles if polarity[row] == FORWARD]
    backward = [row for row in singles if polarity[row] == REVERSED]
    for pair in zip(forward, backward, strict=False):
        found.append((REVERSAL, (*pair, -1)))
        singles.remove(pair[0])
        singles.remove(pair[1])


def _alone(row: int, zeros: list[int], place: dict[int, int]) -> tuple[int, tuple[int, int, int]]:
    if not zeros:
        return SINGLE, (row, -1, -1)
    earlier = [zero for zero in zeros if place[zero] < place[row]]
    return ZERO, (row, earlier[-1] if earlier else zeros[0], -1)
