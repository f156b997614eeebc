"""The mixed model written out with full matrices, straight from the papers: an independent second computation.

Restricted likelihood: Patterson & Thompson 1971. Covariance, degrees of freedom and scale factor: Kenward & Roger
1997, sections 2 and 3, with V linear in the variance components (their R_ij is then zero).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ohmsworth.inference.elimination import Component

Array = np.ndarray

#: Labels that together number the groups of each level.
NESTING = {
    "specimen": ("specimen",),
    "response": ("specimen", "condition"),
    "contact": ("specimen", "contact"),  # and the condition, where no contact is read under several
    "contact response": ("specimen", "condition", "contact"),
    "mating": ("specimen", "condition", "contact", "mating"),
    "plug": ("plug",),
    "socket": ("socket",),
}


@dataclass(frozen=True)
class Columns:
    """A design as plain columns of numbers; what is not there is None."""

    condition: Array
    specimen: Array
    contact: Array | None = None
    mating: Array | None = None
    plug: Array | None = None
    socket: Array | None = None

    def levels(self) -> dict[str, Array]:
        return {
            name: column for name in ("contact", "mating", "plug", "socket")
            if (column := getattr(self, name)) is not None
        }  # fmt: skip


def same_group(columns: Columns, level: str) -> Array:
    """1 where two observations share the group of `level`, else 0: dV/d(variance)."""
    n = len(columns.condition)
    if level == "reading":
        return np.eye(n)
    same = np.ones((n, n), bool)
    for name in NESTING["contact response" if level == "contact" and not contacts_shared(columns) else level]:
        column = getattr(columns, name)
        if column is not None:
            same &= column[:, None] == column[None, :]
    return same.astype(float)


def contacts_shared(columns: Columns) -> bool:
    """Whether specimens have several contacts, and the same ones under several conditions."""

    def count(*names: str) -> int:
        return len(set(zip(*(getattr(columns, name).tolist() for name in names), strict=True)))

    return count("specimen") < count("specimen", "contact") < count("specimen", "condition", "contact")


def slopes(columns: Columns, components: Sequence[Component]) -> list[Array]:
    """dV/di for every variance component."""
    found = []
    for component in components:
        part = same_group(columns, component.level)
        if component.condition is not None:
            here = (columns.condition == component.condition).astype(float)
            part = part * np.outer(here, here)
        found.append(part)
    return found


def indicators(columns: Columns) -> Array:
    return np.eye(int(columns.condition.max()) + 1)[columns.condition]


def criterion(y: Array, x: Array, v: Array) -> float:
    """−2 × restricted log-likelihood."""
    n, k = x.shape
    inverse = np.linalg.inv(v)
    information = x.T @ inverse @ x
    rest = y - x @ np.linalg.solve(information, x.T @ inverse @ y)
    return float(
        np.linalg.slogdet(v)[1]
        + np.linalg.slogdet(information)[1]
        + rest @ inverse @ rest
        + (n - k) * np.log(2 * np.pi)
    )


@dataclass(frozen=True)
class KenwardRoger:
    plain: Array
    adjusted: Array
    w: Array
    freedom: float
    scale: float


def kenward_roger(x: Array, vs: list[Array], variance: Array, contrast: Array) -> KenwardRoger:
    """Of one contrast, shape (p,), or of several together, shape (p, r)."""
    v = sum(t * part for t, part in zip(variance, vs, strict=True))
    inverse = np.linalg.inv(v)
    phi = np.linalg.inv(x.T @ inverse @ x)
    project = inverse - inverse @ x @ phi @ x.T @ inverse
    m = len(vs)
    information = np.array([[np.trace(project @ a @ project @ b) / 2 for b in vs] for a in vs])
    w = np.linalg.inv(information)
    p = [-x.T @ inverse @ a @ inverse @ x for a in vs]
    q = [[x.T @ inverse @ a @ inverse @ b @ inverse @ x for b in vs] for a in vs]
    bias = sum(w[i, j] * (q[i][j] - p[i] @ phi @ p[j]) for i in range(m) for j in range(m))
    adjusted = phi + 2 * phi @ bias @ phi
    el = contrast.reshape(len(contrast), -1)
    theta = el @ np.linalg.inv(el.T @ phi @ el) @ el.T
    along = [theta @ phi @ a @ phi for a in p]
    a1 = sum(w[i, j] * np.trace(along[i]) * np.trace(along[j]) for i in range(m) for j in range(m))
    a2 = sum(w[i, j] * np.trace(along[i] @ along[j]) for i in range(m) for j in range(m))
    rank = el.shape[1]
    b = (a1 + 6 * a2) / (2 * rank)
    g = ((rank + 1) * a1 - (rank + 4) * a2) / ((rank + 2) * a2)
    c1 = g / (3 * rank + 2 * (1 - g))
    c2 = (rank - g) / (3 * rank + 2 * (1 - g))
    c3 = (rank + 2 - g) / (3 * rank + 2 * (1 - g))
    mean = 1 / (1 - a2 / rank)
    spread = (2 / rank) * (1 + c1 * b) / ((1 - c2 * b) ** 2 * (1 - c3 * b))
    rho = spread / (2 * mean**2)
    freedom = 4 + (rank + 2) / (rank * rho - 1)
    return KenwardRoger(phi, adjusted, w, float(freedom), float(freedom / (mean * (freedom - 2))))
