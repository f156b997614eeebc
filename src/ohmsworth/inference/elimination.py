"""The likelihood of nested and crossed random effects by eliminating them one level at a time.

For a group whose members hold together precision p, weighted sums s (of the conditions' indicators and the
observations) and whose own random effect has variance t, integrating that effect out gives

    log|V| += log(1 + t p),   Q -= t s s' / (1 + t p),   s -> s / (1 + t p),   p -> p / (1 + t p)

where Q collects A' V^-1 A for A = [X, y]. The work is proportional to the number of groups, whatever the
imbalance. Carried out on jets, one pass also gives the first and second derivatives with respect to every
variance component, which is all that REML and Kenward-Roger need: with V linear in the components,

    d(X'V^-1X)/di = -X'V^-1 Vi V^-1 X     d2 log|V|/di dj = -tr(V^-1 Vi V^-1 Vj)
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from scipy.sparse import csr_array

from ohmsworth.inference.design import Design, Level
from ohmsworth.inference.jet import Jet, constant, variable
from ohmsworth.readings.table import Array, Codes


@dataclass(frozen=True, slots=True)
class Component:
    """A variance component: the level it belongs to and, if scatter differs, the condition (else None)."""

    level: str
    condition: int | None


@dataclass(frozen=True, slots=True, eq=False)
class Prepared:
    """A design made ready for many evaluations: readings are summed up by the innermost group once.

    `index[l]` gives the component number of each node of level l, inner levels first; index 0 is
    the residual (by innermost group). `count` and `sums` hold the number of observations of each innermost group and the
    sums of its [X, y − shift]; `products[c]` the sum of their products over residual component c.
    """

    design: Design
    components: tuple[Component, ...]
    index: tuple[Codes, ...]
    levels: tuple[Level, ...]
    parent: tuple[Codes, ...]
    count: Array
    sums: Array
    products: Array
    shift: float


def prepare(design: Design, split: frozenset[str] = frozenset()) -> Prepared:
    """Sum readings up by innermost group, and number the variance components.

    Parameters
    ----------
    design
        The design.
    split
        Names of chain levels whose variance is separate for each condition.
    """
    inner = design.chain[-2::-1]  # groups from the inside out, without the residual
    base = inner[0] if inner else _alike(design)
    components: list[Component] = []
    residual_index = _number(design, design.residual.name, base, split, components)
    index = [residual_index]
    index += [_number(design, level.name, level, split, components) for level in inner]
    for level in design.crossed:
        components.append(Component(level.name, None))
    parent = tuple(_parents(low, high) for low, high in pairwise(inner))
    shift = float(design.y.mean())  # keeps the sums of squares exact for large offsets
    columns = np.vstack([np.eye(design.conditions)[:, design.condition], design.y - shift])
    sums = np.array([np.bincount(base.node, column, base.size) for column in columns], float)
    count = np.bincount(base.node, minlength=base.size).astype(float)
    products = _products(columns, residual_index[base.node])
    return Prepared(design, tuple(components), tuple(index), inner, parent, count, sums, products, shift)


def _alike(design: Design) -> Level:
    """Observations that nothing but their residual tells apart, where there is no nested level."""
    return design.residual if design.crossed else Level("all", design.condition, design.conditions)


def _number(
    design: Design, name: str, level: Level, split: frozenset[str], components: list[Component]
) -> Codes:
    start = len(components)
    if name not in split:
        components.append(Component(name, None))
        return np.full(level.size, start)
    components += [Component(name, c) for c in range(design.conditions)]
    index = np.empty(level.size, np.int64)
    index[level.node] = design.condition + start
    return index


def _parents(low: Level, high: Level) -> Codes:
    parent = np.empty(low.size, np.int64)
    parent[low.node] = high.node
    return parent


def _products(columns: Array, component: Codes) -> Array:
    """Sum of a a' over the observations of each residual component, shape (components, k+1, k+1)."""
    parts = (columns[:, component == c] for c in range(int(component.max()) + 1))
    return np.stack([part @ part.T for part in parts])


@dataclass(frozen=True, slots=True, eq=False)
class Moments:
    """log|V| and A' V^-1 A (A = [X, y − shift]) with derivatives: shapes () and (k+1, k+1)."""

    logdet: Jet
    q: Jet


def eliminate(prepared: Prepared, variance: Array) -> Moments:
    """Evaluate log|V| and A'V⁻¹A at the variance components `variance` (shape (m,))."""
    m = len(variance)
    residual = variable(variance, prepared.index[0], m)
    weight = residual.reciprocal()
    logdet = residual.log().scale(prepared.count).total()
    q = _initial(prepared, variance)
    p = weight.scale(prepared.count)
    s = weight.stretch() * constant(prepared.sums, m)
    for i, level in enumerate(prepared.levels):
        t = variable(variance, prepared.index[i + 1], m)
        d = constant(np.ones(level.size), m) + t * p
        inverse = d.reciprocal()
        logdet = logdet + d.log().total()
        q = q - _outer(s, (t * inverse).stretch() * s)
        p, s = p * inverse, s * inverse.stretch()
        if i < len(prepared.parent):
            size = prepared.levels[i + 1].size
            p, s = p.sum_by(prepared.parent[i], size), s.sum_by(prepared.parent[i], size)
    if prepared.design.crossed:
        logdet, q = _eliminate_crossed(prepared, variance, logdet, q, p, s)
    return Moments(logdet, q)


def _initial(prepared: Prepared, variance: Array) -> Jet:
    """Q before any elimination: the products of each residual component over its variance."""
    residuals = len(prepared.products)
    weight = variable(variance, np.arange(residuals), len(variance)).reciprocal()
    return _map(weight, lambda w: np.einsum("...c,cab->...ab", w, prepared.products))


def _outer(a: Jet, b: Jet) -> Jet:
    """Sum over groups of a b', shape (k+1, k+1)."""
    cross = np.einsum("ian,jbn->ijab", a.g, b.g, optimize=True)
    return Jet(
        a.v @ b.v.T,
        a.g @ b.v.T + a.v @ b.g.swapaxes(-1, -2),
        a.h @ b.v.T + a.v @ b.h.swapaxes(-1, -2) + cross + cross.swapaxes(0, 1),
    )


def _eliminate_crossed(
    prepared: Prepared, variance: Array, logdet: Jet, q: Jet, p: Jet, s: Jet
) -> tuple[Jet, Jet]:
    """Integrate out all crossed levels together, by dense algebra on their groups.

    With W = Z' diag(p) Z and G = diag(t): M = I + G W, log|V| += log|M|, Q -= S' M^-1 G S, S = Z's.
    """
    crossed, m = prepared.design.crossed, len(variance)
    node = (prepared.levels[-1] if prepared.levels else prepared.design.residual).node
    outer_size = p.v.shape[-1]
    z = _incidence(crossed, node, outer_size)
    first = m - len(crossed)
    index = np.repeat(np.arange(first, m), [level.size for level in crossed])
    w = _map(p, lambda a: _each(a, lambda row: (z.T @ z.multiply(row[:, None])).toarray()))
    big_s = _map(s, lambda a: _each(a, lambda row: z.T @ row))  # shape (k+1, q)
    g = variable(variance, index, m)
    gw = Jet(g.v[:, None], g.g[:, :, None], g.h[:, :, :, None]) * w
    matrix = Jet(gw.v + np.eye(len(index)), gw.g, gw.h)
    gs = _map(g.stretch() * big_s, lambda a: a.swapaxes(-1, -2))  # G S, shape (q, k+1)
    solved = _solve(matrix, gs)
    return logdet + _logdet(matrix), q - _matmul(big_s, solved)


def _incidence(crossed: tuple[Level, ...], node: Codes, n: int) -> csr_array:
    """Z: which group of each crossed level every outermost group of the chain belongs to, shape (n, q)."""
    place = np.empty((len(crossed), n), np.int64)
    start = 0
    for row, level in zip(place, crossed, strict=True):
        row[node] = level.node + start
        start += level.size
    ones = np.ones(place.size)
    return csr_array((ones, (np.tile(np.arange(n), len(crossed)), place.ravel())), shape=(n, start))


def _each(a: Array, work: Callable[[Array], Array]) -> Array:
    """`work` on every vector along the last axis of `a`."""
    flat = a.reshape(-1, a.shape[-1])
    done = np.stack([work(row) for row in flat])
    return done.reshape(*a.shape[:-1], *done.shape[1:])


def _map(jet: Jet, linear: object) -> Jet:
    """A linear map applied to the value and every derivative."""
    return Jet(linear(jet.v), linear(jet.g), linear(jet.h))  # type: ignore[operator]


def _matmul(a: Jet, b: Jet) -> Jet:
    cross = a.g[:, None] @ b.g[None, :]
    return Jet(a.v @ b.v, a.g @ b.v + a.v @ b.g, a.h @ b.v + a.v @ b.h + cross + cross.swapaxes(0, 1))


def _solve(matrix: Jet, right: Jet) -> Jet:
    """matrix^-1 right, with derivatives."""
    inverse = np.linalg.inv(matrix.v)
    v = inverse @ right.v
    g = inverse @ (right.g - matrix.g @ v)
    cross = matrix.g[:, None] @ g[None, :]
    h = inverse @ (right.h - matrix.h @ v - cross - cross.swapaxes(0, 1))
    return Jet(v, g, h)


def _logdet(matrix: Jet) -> Jet:
    inverse = np.linalg.inv(matrix.v)
    a = inverse @ matrix.g
    g = np.trace(a, axis1=-2, axis2=-1)
    second = np.einsum("qr,...rq->...", inverse, matrix.h)
    h = second - np.einsum("iqr,jrq->ij", a, a, optimize=True)
    return Jet(np.asarray(np.linalg.slogdet(matrix.v)[1]), g, h)


def reml_criterion(moments: Moments, observations: int) -> tuple[Jet, Array]:
    """−2 × restricted log-likelihood with derivatives, and the generalised least-squares estimate.

    Source: Patterson & Thompson 1971; the constant is that of the usual software, (n − k) log 2π.
    """
    a, b, c = _blocks(moments.q)
    k = a.v.shape[0]
    beta = _solve(a, b)
    rest = c - _matmul(_map(b, lambda x: x.swapaxes(-1, -2)), beta)
    total = moments.logdet + _logdet(a) + _map(rest, lambda x: x[..., 0, 0])
    constant_term = (observations - k) * np.log(2 * np.pi)
    return Jet(total.v + constant_term, total.g, total.h), beta.v[:, 0]


def _blocks(q: Jet) -> tuple[Jet, Jet, Jet]:
    return (
        _map(q, lambda x: x[..., :-1, :-1]),
        _map(q, lambda x: x[..., :-1, -1:]),
        _map(q, lambda x: x[..., -1:, -1:]),
    )
