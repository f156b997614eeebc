"""Arrays that carry their first and second derivatives with respect to the variance components.

Forward differentiation to second order: exact gradients and curvatures of the likelihood without writing
them out, and everything that small-sample inference needs from one pass over the design.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from ohmsworth.readings.table import Array, Codes


@dataclass(frozen=True, slots=True, eq=False)
class Jet:
    """Value of shape S, gradient (m, *S) and second derivatives (m, m, *S)."""

    v: Array
    g: Array
    h: Array

    def __add__(self, other: Jet) -> Jet:
        return Jet(self.v + other.v, self.g + other.g, self.h + other.h)

    def __sub__(self, other: Jet) -> Jet:
        return Jet(self.v - other.v, self.g - other.g, self.h - other.h)

    def __mul__(self, other: Jet) -> Jet:
        cross = self.g[:, None] * other.g[None, :]
        return Jet(
            self.v * other.v,
            self.g * other.v + self.v * other.g,
            self.h * other.v + self.v * other.h + cross + cross.swapaxes(0, 1),
        )

    def apply(self, v: Array, d1: Array, d2: Array) -> Jet:
        """A function with value `v` and derivatives `d1`, `d2` at this jet's value."""
        return Jet(v, d1 * self.g, d1 * self.h + d2 * self.g[:, None] * self.g[None, :])

    def reciprocal(self) -> Jet:
        """1 / self."""
        r = 1 / self.v
        return self.apply(r, -(r**2), 2 * r**3)

    def log(self) -> Jet:
        """Natural logarithm of the size."""
        r = 1 / self.v
        return self.apply(np.log(np.abs(self.v)), r, -(r**2))

    def map(self, linear: Callable[[Array], Array]) -> Jet:
        """A linear map applied to the value and every derivative."""
        return Jet(linear(self.v), linear(self.g), linear(self.h))

    def scale(self, weight: Array) -> Jet:
        """Times a constant array."""
        return Jet(self.v * weight, self.g * weight, self.h * weight)

    def sum_by(self, node: Codes, size: int) -> Jet:
        """Sum the last axis by group."""
        return self.map(lambda a: sum_by(a, node, size))

    def total(self) -> Jet:
        """Sum over the last axis."""
        return Jet(np.asarray(self.v.sum(-1)), self.g.sum(-1), self.h.sum(-1))

    def stretch(self) -> Jet:
        """Insert an axis before the last: shape (n,) becomes (1, n)."""
        return Jet(self.v[..., None, :], self.g[..., None, :], self.h[..., None, :])


def variable(values: Array, index: Codes, m: int) -> Jet:
    """The variance components `values[index]` themselves, as a jet of shape (len(index),)."""
    n = len(index)
    g = np.zeros((m, n))
    g[index, np.arange(n)] = 1
    return Jet(values[index], g, np.zeros((m, m, n)))


def constant(value: Array, m: int) -> Jet:
    """An array that does not depend on the components."""
    return Jet(value, np.zeros((m, *value.shape)), np.zeros((m, m, *value.shape)))


def sum_by(a: Array, node: Codes, size: int) -> Array:
    """Sum the last axis by group."""
    flat = a.reshape(-1, a.shape[-1])
    return np.array([np.bincount(node, row, size) for row in flat], float).reshape(*a.shape[:-1], size)


def matmul(a: Jet, b: Jet) -> Jet:
    """Matrix product."""
    cross = a.g[:, None] @ b.g[None, :]
    return Jet(a.v @ b.v, a.g @ b.v + a.v @ b.g, a.h @ b.v + a.v @ b.h + cross + cross.swapaxes(0, 1))


def inverse_of(matrix: Jet) -> Array:
    """Inverse of the value."""
    return np.asarray(np.linalg.inv(matrix.v), float)


def solve(matrix: Jet, right: Jet, inverse: Array) -> Jet:
    """matrix^-1 right, from the inverse of the matrix's value."""
    v = inverse @ right.v
    g = inverse @ (right.g - matrix.g @ v)
    cross = matrix.g[:, None] @ g[None, :]
    h = inverse @ (right.h - matrix.h @ v - cross - cross.swapaxes(0, 1))
    return Jet(v, g, h)


def logdet(matrix: Jet, inverse: Array) -> Jet:
    """Logarithm of the determinant's size, summed over all matrices."""
    value = np.linalg.slogdet(matrix.v)[1]
    m, square = len(matrix.g), inverse.shape[-2:]
    a = (inverse @ matrix.g).reshape(m, -1, *square)
    first = np.trace(a, axis1=-2, axis2=-1).sum(-1)
    second = np.einsum("nqr,ijnrq->ij", inverse.reshape(-1, *square), matrix.h.reshape(m, m, -1, *square))
    return Jet(np.asarray(value.sum()), first, second - np.einsum("inqr,jnrq->ij", a, a, optimize=True))
