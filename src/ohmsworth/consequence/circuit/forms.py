"""A quantity as a ratio of two multilinear forms in the contact resistances.

Each resistance enters the equations in one place, so every determinant is linear in each of them: y = N(r)/D(r), with
one coefficient for each subset S of the contacts, N(r) = Σ n_S Π r_k over k in S, and D alike. All draws of resistances at
all frequencies are then products of two matrices.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import combinations
from typing import Any

import numpy as np
import numpy.typing as npt

from ohmsworth.consequence.circuit.solve import Loops, Transfer
from ohmsworth.errors import UnknownName

Array = npt.NDArray[np.float64]
Complex = npt.NDArray[np.complex128]

#: With more contacts than this, forms have too many coefficients to pay.
MOST_CONTACTS = 6
#: Part of its products below which a determinant is nothing but their rounding.
_ROUNDING = 1e-14
#: Determinants up to this size are written out.
_WRITTEN_OUT = 3
#: Ohm that a contact which closes a loop of ideal ones has more than it is given: all of them ideal share their current.
LEAST_OHM = 1e-9


@dataclass(frozen=True, slots=True, eq=False)
class Forms:
    """Coefficients of both forms, shape (m, 2^K); bit k of the last index says whether contact k is in the subset."""

    contacts: tuple[str, ...]
    numerator: Complex
    denominator: Complex


def forms_of(transfer: Transfer) -> Forms:
    """The forms of `transfer`, for at most MOST_CONTACTS contacts.

    D_S = det G_SS and N_S = det [[y0, T_S], [i0_S, G_SS]], by Cramer's rule. A determinant that is lost in the rounding of
    its own products is 0: contacts in series, say, see the same current, and nothing is left of their product.
    """
    if transfer.loops is not None:
        return _with_loops(transfer, transfer.loops)
    size = len(transfer.contacts)
    # Frequencies go last here, so that all of them are reckoned in one stroke.
    through, carried, seen = (
        np.moveaxis(each, 0, -1) for each in (transfer.through, transfer.carried, transfer.seen)
    )
    numerator = np.empty((2**size, len(transfer.ideal)), dtype=np.complex128)
    denominator = np.empty_like(numerator)
    for count in range(size + 1):
        subsets = [list(s) for s in combinations(range(size), count)]
        places = [sum(1 << k for k in s) for s in subsets]
        bordered = np.empty((count + 1, count + 1, len(subsets), len(transfer.ideal)), dtype=np.complex128)
        bordered[0, 0] = transfer.ideal
        for k, s in enumerate(subsets):
            bordered[0, 1:, k], bordered[1:, 0, k] = carried[s], through[s]
            bordered[1:, 1:, k] = seen[s][:, s]
        denominator[places], numerator[places] = _cleaned(bordered[1:, 1:]), _cleaned(bordered)
    return Forms(transfer.contacts, numerator.T, denominator.T)


def _with_loops(transfer: Transfer, loops: Loops) -> Forms:
    """The forms of a transfer with contacts that close loops: such a contact takes part in every subset.

    In its column stands what an ampere through it does, and where it is of the subset what its own resistance does.
    """
    size = len(transfer.contacts)
    numerator = np.empty((len(transfer.ideal), 2**size), dtype=np.complex128)
    denominator = np.empty_like(numerator)
    for place in range(2**size):
        inside = place >> np.arange(size) & 1 == 1
        kept = np.flatnonzero(inside | loops.closing)
        grid = np.where(inside, transfer.seen, loops.alone)[:, kept][:, :, kept]
        bordered = np.empty((len(grid), len(kept) + 1, len(kept) + 1), dtype=np.complex128)
        bordered[:, 0, 0], bordered[:, 1:, 0] = transfer.ideal, transfer.through[:, kept]
        bordered[:, 0, 1:] = np.where(inside, transfer.carried, loops.lost)[:, kept]
        bordered[:, 1:, 1:] = grid
        numerator[:, place] = _cleaned(np.moveaxis(bordered, 0, -1))
        denominator[:, place] = _cleaned(np.moveaxis(grid, 0, -1))
    for k in np.flatnonzero(loops.closing):
        there = np.arange(2**size) >> k & 1 == 1
        for form in (numerator, denominator):
            form[:, ~there] += LEAST_OHM * form[:, there]
    return Forms(transfer.contacts, numerator, denominator)


def _cleaned(matrix: Complex) -> Complex:
    """Determinants of the first two axes, 0 where they are lost in rounding."""
    size = len(matrix)
    if size < 2:
        return np.ones(matrix.shape[2:], dtype=np.complex128) if size == 0 else np.asarray(matrix[0, 0])
    found = _factored(matrix) if size > _WRITTEN_OUT else _expanded(matrix, -1)
    return np.asarray(np.where(np.abs(found) <= _ROUNDING * _size_of_products(np.abs(matrix)), 0, found))


def _factored(matrix: Complex) -> Complex:
    """Determinants by factorisation. It divides by the last pivot, and where that is exactly 0 so is the determinant."""
    with np.errstate(divide="ignore", invalid="ignore"):
        found = np.linalg.det(np.moveaxis(matrix, (0, 1), (-2, -1)))
    return np.asarray(np.where(np.isfinite(found), found, 0))


def _size_of_products(size: Array) -> Array:
    """The sum of the products' magnitudes, or what it cannot exceed."""
    if len(size) <= _WRITTEN_OUT:
        return np.asarray(_expanded(size, 1))
    column = np.maximum(size.max(0), 1e-300)
    return np.asarray(column.prod(0) * (size / column).sum(1).prod(0))


def _expanded(matrix: npt.NDArray[Any], sign: int) -> npt.NDArray[Any]:
    """Expansion by the first row with alternating signs (a determinant) or without, quicker than factorising when small."""
    if len(matrix) == 1:
        return np.asarray(matrix[0, 0])
    total = np.zeros(matrix.shape[2:], dtype=matrix.dtype)
    for column in range(len(matrix)):
        rest = [c for c in range(len(matrix)) if c != column]
        total = total + sign**column * matrix[0, column] * _expanded(matrix[1:, rest], sign)
    return total


def monomials(ohm: Array) -> Array:
    """Products of the resistances over every subset, shape (..., 2^K) for `ohm` of shape (..., K)."""
    result = np.ones((*ohm.shape[:-1], 1))
    for k in range(ohm.shape[-1]):
        result = np.concatenate((result, result * ohm[..., k : k + 1]), -1)
    return result


def weights_of(contacts: tuple[str, ...], shares: Mapping[str, float]) -> Array:
    """`shares` by name of a contact as an array in the order of `contacts`, zero for those not named."""
    for name in shares:
        if name not in contacts:
            raise UnknownName("contact", name, contacts)
    return np.array([float(shares.get(name, 0.0)) for name in contacts])


@dataclass(frozen=True, slots=True, eq=False)
class Polynomials:
    """A quantity when each contact has a share of one resistance R: a ratio of polynomials in R, shape (m, K + 1)."""

    numerator: Complex
    denominator: Complex


def along(forms: Forms, weights: Array) -> Polynomials:
    """`forms` where contact k has `weights`[k] times one resistance."""
    products = monomials(weights)
    size = len(forms.contacts)
    degree = np.array([bin(s).count("1") for s in range(2**size)])
    by_degree = np.where(degree[:, None] == np.arange(size + 1), products[:, None], 0.0)
    return Polynomials(forms.numerator @ by_degree, forms.denominator @ by_degree)


def value_along(polynomials: Polynomials, ohm: npt.ArrayLike) -> Complex:
    """The quantity at each resistance `ohm` of any shape, shape (..., m)."""
    r = np.asarray(ohm, dtype=float)[..., None]
    powers = r ** np.arange(polynomials.numerator.shape[1])
    return np.asarray((powers @ polynomials.numerator.T) / (powers @ polynomials.denominator.T))


def value_with(polynomials: Polynomials, impedance: Complex) -> Complex:
    """The quantity where the contacts share an impedance that has a value at each frequency, shape (..., m).

    The forms are determinants of a linear circuit: a complex impedance stands in them as a resistance does. Where it is no
    number, neither is the quantity.
    """
    powers = np.asarray(impedance)[..., None] ** np.arange(polynomials.numerator.shape[1])
    with np.errstate(invalid="ignore"):
        return np.asarray(
            (powers * polynomials.numerator).sum(-1) / (powers * polynomials.denominator).sum(-1)
        )
