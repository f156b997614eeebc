"""Arrays that carry their first and second derivatives with respect to the variance components.

Forward differentiation to second order: exact gradients and curvatures of the likelihood without writing
them out, and everything that small-sample inference needs from one pass over the design.
"""

from __future__ import annotations

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
        """Natural logarithm."""
        r = 1 / self.v
        return self.apply(np.log(self.v), r, -(r**2))

    def scale(self, weight: Array) -> Jet:
        """Times a constant array."""
        return Jet(self.v * weight, self.g * weight, self.h * weight)

    def sum_by(self, node: Codes, size: int) -> Jet:
        """Sum the last axis by group."""
        return Jet(_sum_by(self.v, node, size), _sum_by(self.g, node, size), _sum_by(self.h, node, size))

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


def _sum_by(a: Array, node: Codes, size: int) -> Array:
    flat = a.reshape(-1, a.shape[-1])
    # Groups are runs in most designs; a sparse product is no slower than a loop of counts and handles all.
    summed = np.array([np.bincount(node, row, size) for row in flat], float)
    return summed.reshape(*a.shape[:-1], size)
