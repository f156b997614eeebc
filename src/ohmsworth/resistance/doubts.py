"""Doubts that show once rows are paired: one polarity only, currents that differ."""

from __future__ import annotations

import numpy as np

from ohmsworth.readings.doubt import Doubt
from ohmsworth.readings.table import ReadingTable
from ohmsworth.resistance.fourwire import Resistances
from ohmsworth.resistance.sequence import REVERSAL, SINGLE, THREE
from ohmsworth.units import show

#: Forward and reversed currents that differ by more than this fraction were not one setting.
_SAME_CURRENT = 0.02
#: Conditions measured with currents this many times apart are not compared fairly where there is a film.
_FAIR_CURRENT = 1.5


def find_pairing_doubts(table: ReadingTable, resistances: Resistances) -> list[Doubt]:
    """Doubts ONE_POLARITY, UNEQUAL_CURRENTS and CURRENTS_DIFFER."""
    if table.current is None:
        return []
    return [*_one_polarity(table, resistances), *_unequal(table, resistances), *_unfair(table)]


def _one_polarity(table: ReadingTable, resistances: Resistances) -> list[Doubt]:
    single = resistances.form == SINGLE
    if not single.any():
        return []
    every = "every reading has" if single.all() else "read with"
    return [
        Doubt(
            "ONE_POLARITY",
            f"{every} one polarity only: a thermal EMF is still in it (an allowance is in the uncertainty).",
            tuple(table.line[resistances.rows[single, 0]].tolist()),
            "Reverse the current and read again, or take a reading with the current off.",
        )
    ]


def _unequal(table: ReadingTable, resistances: Resistances) -> list[Doubt]:
    assert table.current is not None
    paired = np.isin(resistances.form, (REVERSAL, THREE))
    forward = np.abs(table.current[resistances.rows[:, 0]])
    backward = np.abs(table.current[resistances.rows[:, 1]])
    odd = paired & (np.abs(forward - backward) > _SAME_CURRENT * np.maximum(forward, backward))
    if not odd.any():
        return []
    return [
        Doubt(
            "UNEQUAL_CURRENTS",
            "forward and reversed current differ by more than 2 %: in a film the offset does not cancel fully.",
            tuple(sorted(table.line[resistances.rows[odd, :2]].ravel().tolist())),
            "Check the current reading; set the same current both ways.",
        )
    ]


def _unfair(table: ReadingTable) -> list[Doubt]:
    assert table.current is not None
    flowing = table.polarity != 0
    medians = [
        float(np.median(np.abs(table.current[(table.condition.codes == c) & flowing])))
        for c in range(len(table.condition.names))
        if ((table.condition.codes == c) & flowing).any()
    ]
    if not medians or max(medians) <= _FAIR_CURRENT * min(medians):
        return []
    return [
        Doubt(
            "CURRENTS_DIFFER",
            f"conditions were read with currents from {show(min(medians), 'A')} "
            f"to {show(max(medians), 'A')}.",
            (),
            "Compare at one current: a film's resistance depends on it.",
        )
    ]
