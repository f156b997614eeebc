"""Whether a design can bear a verdict: one specimen, or one plug, of a kind shows no scatter of its kind."""

from __future__ import annotations

import numpy as np

from ohmsworth.inference.design import Design
from ohmsworth.readings.table import Array, Codes

#: Fewer than these show no scatter.
_FEWEST = 2


def supported(design: Design, of: Array, against: Array) -> bool:
    """Whether the means with these weights of the conditions (shape (k,) each) can be judged against each other.

    Two specimens or more serve both sides, or each side has two or more, and so has every condition; where plugs and sockets are
    re-paired, both kinds of part, each for itself.
    """
    if lonely(design)[(of != 0) | (against != 0)].any():
        return False
    for unit in design.units:
        first, second = (set(unit[side[design.condition] != 0].tolist()) for side in (of, against))
        if len(first & second) < _FEWEST and min(len(first), len(second)) < _FEWEST:
            # One socket for all plugs is no ground for more sockets, but for these plugs.
            if design.repaired and first == second:
                continue
            return False
    return True


def lonely(design: Design) -> np.ndarray:
    """Which conditions have a single specimen, or a single plug or socket that serves no other condition; shape (k,)."""
    found = np.zeros(design.conditions, bool)
    for unit in design.units:
        pairs = np.unique(np.column_stack([unit, design.condition]), axis=0)
        each = np.bincount(pairs[:, 1], minlength=design.conditions)
        found |= (each < _FEWEST) & ~(_elsewhere(pairs, design.conditions) & (len(design.units) > 1))
    return found


def _elsewhere(pairs: Codes, conditions: int) -> np.ndarray:
    """Whether some of a condition's parts serve another one too."""
    serves = np.bincount(pairs[:, 0])[pairs[:, 0]] > 1
    return np.bincount(pairs[:, 1], serves, conditions) > 0
