"""Wires that are all off in the same way: then the description or the meter is at fault, and hardly every wire.

A cable that is longer, hotter or of other wire than described has every conductor's resistance multiplied by one factor. Leads
that were not taken off add the same to every reading.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from ohmsworth.cables.expected import Expected

#: Fewer wires than these have nothing in common.
FEWEST = 2
#: So many of the wires that were read must be outside of their bounds.
LEAST_SHARE = 2 / 3
#: More than this on every reading is nothing that leads have, ohm (source "practice").
MOST_OF_LEADS = 2.0
#: The share of the wires that an explanation must bring within their bounds.
_HOLDS_FOR = 0.9
#: An explanation that leaves so much less unexplained than the other stands alone.
_CLEARER = 0.5


@dataclass(frozen=True, slots=True)
class SharedCause:
    """What wires have in common that are outside of their bounds.

    Parameters
    ----------
    wires
        Their names.
    read
        How many wires were read.
    factor
        By which every conductor's resistance would have to be multiplied; None where that explains nothing.
    offset
        Ohm that every reading would have to have too much; None where that explains nothing.
    """

    wires: tuple[str, ...]
    read: int
    factor: float | None
    offset: float | None


def shared_cause(
    read: Mapping[str, float], expected: Mapping[str, Expected], outside: Sequence[str]
) -> SharedCause | None:
    """The one factor or offset that brings all wires within their bounds; None where there is none.

    Parameters
    ----------
    read
        Ohm of each wire by its name, those with a path that no other way bridges.
    expected
        What each should read.
    outside
        Names of those that are over their bounds, or of those that are under; not of both.

    Notes
    -----
    Medians, so that a bad termination among them changes nothing; an explanation need not hold for one wire in ten.
    """
    if len(outside) < max(FEWEST, LEAST_SHARE * len(read)):
        return None
    names = [*read]
    ohm = np.array([read[name] for name in names])
    wire, contacts, low, high = (
        np.array([getattr(expected[name], field) for name in names])
        for field in ("wire", "contacts", "low", "high")
    )
    usual = contacts + wire
    of_wire, of_all = float(np.median((ohm - contacts) / wire)), float(np.median(ohm / usual))
    offset = float(np.median(ohm - usual))
    # Of another cable the conductor alone is multiplied; where a unit slipped, the contacts with it.
    moved = {"offset": ohm - offset}
    if of_wire > 0:
        moved["wire"] = contacts + (ohm - contacts) / of_wire
    if of_all > 0:
        moved["all"] = ohm / of_all
    left = {
        kind: float(np.mean(np.abs(values - usual) / (high - low)))
        for kind, values in moved.items()
        if np.mean((low <= values) & (values <= high)) >= _HOLDS_FOR
    }
    if "wire" in left:
        left.pop("all", None)
    if abs(offset) > MOST_OF_LEADS:
        left.pop("offset", None)
    if len(left) == 2 and len(set(wire)) > 1:
        best, other = sorted(left, key=left.__getitem__)
        if left[best] < _CLEARER * left[other]:
            left.pop(other)
    if not left:
        return None
    factor = of_wire if "wire" in left else of_all if "all" in left else None
    return SharedCause(tuple(outside), len(names), factor, offset if "offset" in left else None)
