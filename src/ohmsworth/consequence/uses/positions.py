"""One curve at several positions, its circuit solved once for all of them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from ohmsworth.consequence.circuit import Polynomials, Transfer, polynomials_of, value_along
from ohmsworth.consequence.rule import Compute, Curve, Position, shares_of
from ohmsworth.consequence.use import Array


def at_positions(
    curve: Curve, frequency: Array, positions: Iterable[Position]
) -> Iterator[tuple[Position, Compute]]:
    """For each of `positions` what `curve` is at `frequency` (m,) there: one resistance, shape (...), to (..., m)."""
    transfer = curve.solve(frequency)
    for position in positions:
        yield position, _shown(curve, transfer, polynomials_of(transfer, shares_of(curve.circuit, position)))


def _shown(curve: Curve, transfer: Transfer, polynomials: Polynomials) -> Compute:
    return lambda ohm: curve.show(value_along(polynomials, ohm), transfer.ideal)


def one_of(compute: Compute, place: int) -> Compute:
    """`compute` at one of its frequencies alone, shape (...)."""
    return lambda ohm: compute(ohm)[..., place]
