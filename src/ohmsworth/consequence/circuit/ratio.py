"""One quantity of a driven circuit per another."""

from __future__ import annotations

import numpy as np

from ohmsworth.consequence.circuit.solve import Loops, Transfer
from ohmsworth.errors import ArgumentFault


def ratio_of(first: Transfer, second: Transfer) -> Transfer:
    """`first` per unit of `second`, both of one circuit and one drive, for all contact resistances alike.

    With y = y0 − T r i and i = (1 + G r)⁻¹ i0 for both, a drive that holds the second at 1 gives the first as y0' − T' r i',
    i' = (1 + G' r)⁻¹ i0', where G' = G − i0 T2/y2, i0' = i0/y2, y0' = y1/y2, T' = T1 − (y1/y2) T2.

    Raises
    ------
    ArgumentFault
        Where the second is 0 with ideal contacts, or the two do not belong together.
    """
    if first.contacts != second.contacts or not np.array_equal(first.through, second.through):
        raise ArgumentFault(
            "second", second.contacts, "a quantity of the same circuit and drive as the first"
        )
    if not np.all(second.ideal != 0):
        raise ArgumentFault("second", second.ideal, "a quantity that is not 0 with ideal contacts")
    ideal = first.ideal / second.ideal
    through = first.through / second.ideal[:, None]
    loops = None
    if first.loops is not None and second.loops is not None:
        lost = second.loops.lost
        loops = Loops(
            first.loops.closing,
            first.loops.alone - through[:, :, None] * lost[:, None, :],
            first.loops.lost - ideal[:, None] * lost,
        )
    return Transfer(
        first.contacts,
        ideal,
        through,
        first.carried - ideal[:, None] * second.carried,
        first.seen - through[:, :, None] * second.carried[:, None, :],
        loops,
    )
