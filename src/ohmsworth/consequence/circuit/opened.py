"""A circuit with one of its contacts open for good."""

from __future__ import annotations

import numpy as np

from ohmsworth.consequence.circuit.solve import Loops, Transfer
from ohmsworth.errors import ArgumentFault, UnknownName


def opened(transfer: Transfer, contact: str) -> Transfer:
    """`transfer` where nothing passes `contact`, as a function of the other contacts.

    With k the open contact, its volts are what makes its current 0: v_k = (i0_k − Σ G_kj v_j)/G_kk over the others, and so
    y0' = y0 − T_k i0_k/G_kk, i0' = i0 − G_k i0_k/G_kk, T' = T − T_k G_k/G_kk, G' = G − G_k G_k/G_kk.

    Raises
    ------
    UnknownName
        When there is no such contact.
    ArgumentFault
        When it stands alone between parts of a circuit, which would hang in the air without it.
    """
    if contact not in transfer.contacts:
        raise UnknownName("contact", contact, transfer.contacts)
    k = transfer.contacts.index(contact)
    rest = [j for j in range(len(transfer.contacts)) if j != k]
    own = transfer.seen[:, k, k]
    if not np.all(np.abs(own) > 0):
        raise ArgumentFault("contact", contact, "a contact beside which another way is left")
    loops = _loops(transfer, k, rest)
    through, carried = transfer.through[:, k] / own, transfer.carried[:, k] / own
    into, out_of = transfer.seen[:, rest, k], transfer.seen[:, k][:, rest]
    return Transfer(
        tuple(transfer.contacts[j] for j in rest),
        transfer.ideal - transfer.carried[:, k] * through,
        transfer.through[:, rest] - into * through[:, None],
        transfer.carried[:, rest] - carried[:, None] * out_of,
        transfer.seen[:, rest][:, :, rest] - into[:, :, None] * (out_of / own[:, None])[:, None, :],
        loops,
    )


def _loops(transfer: Transfer, k: int, rest: list[int]) -> Loops | None:
    """What is left of the loops: A' = A − G_k A_k/G_kk, B' = B − T_k A_k/G_kk."""
    if transfer.loops is None:
        return None
    row = transfer.loops.alone[:, k][:, rest] / transfer.seen[:, k, k, None]
    return Loops(
        transfer.loops.closing[rest],
        transfer.loops.alone[:, rest][:, :, rest] - transfer.seen[:, rest, k, None] * row[:, None, :],
        transfer.loops.lost[:, rest] - transfer.carried[:, k, None] * row,
    )
