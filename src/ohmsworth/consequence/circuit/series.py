"""What a quantity is when chosen contacts share one resistance: only they are kept, and those in series become one."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from ohmsworth.consequence.circuit.forms import Polynomials, along, forms_of
from ohmsworth.consequence.circuit.solve import Loops, Transfer

Array = npt.NDArray[np.float64]
Complex = npt.NDArray[np.complex128]

#: Part of the largest of them within which two currents are told to be the same one.
_SAME = 1e-11


def polynomials_of(transfer: Transfer, weights: Array) -> Polynomials:
    """`transfer` where contact k has `weights`[k] times one resistance, as a ratio of polynomials in it.

    Notes
    -----
    The same quantity as `along` of all its forms. Contacts of weight 0 are ideal and take no part. Contacts in series
    carry one current whatever drives the circuit, so that only the sum of their resistances counts: they become one
    contact with the sum of their weights. What is left has fewer subsets, and no powers of the resistance that are
    nothing but rounding.
    """
    groups: list[list[int]] = []
    kept = weights != 0 if transfer.loops is None else (weights != 0) | transfer.loops.closing
    for k in np.flatnonzero(kept).tolist():
        mates = next((group for group in groups if _in_series(transfer, group[0], k)), None)
        if mates is None:
            groups.append([k])
        else:
            mates.append(k)
    first = [group[0] for group in groups]
    narrow = Transfer(
        tuple(transfer.contacts[k] for k in first),
        transfer.ideal,
        transfer.through[:, first],
        transfer.carried[:, first],
        transfer.seen[:, first][:, :, first],
        _loops(transfer, first),
    )
    return along(forms_of(narrow), np.array([float(weights[group].sum()) for group in groups]))


def _loops(transfer: Transfer, kept: list[int]) -> Loops | None:
    """What the `kept` contacts have of the loops."""
    if transfer.loops is None:
        return None
    alone, lost = transfer.loops.alone[:, kept][:, :, kept], transfer.loops.lost[:, kept]
    return Loops(transfer.loops.closing[kept], alone, lost)


def _in_series(transfer: Transfer, one: int, other: int) -> bool:
    """Whether the currents of two contacts are the same, one way or the other, and so is what a volt across either does."""
    rows = np.concatenate((transfer.through[:, :, None], transfer.seen), axis=2)
    if transfer.loops is not None:
        if transfer.loops.closing[one] or transfer.loops.closing[other]:
            return False
        rows = np.concatenate((rows, transfer.loops.alone[:, :, transfer.loops.closing]), axis=2)
    columns = np.concatenate((transfer.carried[:, None, :], transfer.seen), axis=1)
    return any(
        _alike(rows[:, one], way * rows[:, other]) and _alike(columns[:, :, one], way * columns[:, :, other])
        for way in (1, -1)
    )


def _alike(one: Complex, other: Complex) -> bool:
    """Whether two rows, shape (m, n), are the same at every frequency but for rounding."""
    size = np.maximum(np.abs(one), np.abs(other)).max(axis=1)
    return bool(np.all(np.abs(one - other).max(axis=1) <= _SAME * size))
