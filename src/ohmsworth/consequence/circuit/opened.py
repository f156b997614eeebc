"""A circuit with one of its contacts open for good."""

from __future__ import annotations

import numpy as np

from ohmsworth.consequence.circuit.solve import Transfer
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
    through, carried = transfer.through[:, k] / own, transfer.carried[:, k] / own
    into, out_of = transfer.seen[:, rest, k], transfer.seen[:, k][:, rest]
    return Transfer(
        tuple(transfer.contacts[j] for j in rest),
        transfer.ideal - transfer.carried[:, k] * through,
        transfer.through[:, rest] - into * through[:, None],
        transfer.carried[:, rest] - carried[:, None] * out_of,
        transfer.seen[:, rest][:, :, rest] - into[:, :, None] * (out_of / own[:, None])[:, None, :],
    )
