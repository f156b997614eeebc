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

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from ohmsworth.inference.blocks import Blocks, eliminate_block, find_blocks
from ohmsworth.inference.design import Design, Level
from ohmsworth.inference.jet import Jet, constant, inverse_of, logdet, matmul, solve, variable
from ohmsworth.readings.table import Array, Codes, number_cells


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
    sums of its [X, y − shift]; `products[c]` the sum of their products over residual component c. `blocks` are those of the
    crossed levels, whose components come last.
    """

    design: Design
    components: tuple[Component, ...]
    index: tuple[Codes, ...]
    levels: tuple[Level, ...]
    parent: tuple[Codes, ...]
    blocks: tuple[Blocks, ...]
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
    columns = np.vstack([design.fixed, design.y - shift])
    sums = np.array([np.bincount(base.node, column, base.size) for column in columns], float)
    count = np.bincount(base.node, minlength=base.size).astype(float)
    products = _products(columns, residual_index[base.node])
    outermost = inner[-1] if inner else base
    blocks = find_blocks(design.crossed, outermost.node, outermost.size)
    return Prepared(
        design, tuple(components), tuple(index), inner, parent, blocks, count, sums, products, shift
    )


def _alike(design: Design) -> Level:
    """Observations that nothing but their residual tells apart, where there is no nested level."""
    node = number_cells([design.condition, *(level.node for level in design.crossed)])
    return Level("all", node, int(node.max()) + 1)


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
    """log|det V| and A' V^-1 A (A = [X, y − shift]) with derivatives: shapes () and (k+1, k+1).

    `negative` counts the negative eigenvalues of V, which it may have where components do.
    """

    logdet: Jet
    q: Jet
    negative: int


def eliminate(prepared: Prepared, variance: Array) -> Moments:
    """Evaluate log|V| and A'V⁻¹A at the variance components `variance` (shape (m,)); only residual ones must be positive.

    Raises
    ------
    numpy.linalg.LinAlgError
        Where V is singular.
    """
    m = len(variance)
    residual = variable(variance, prepared.index[0], m)
    weight = residual.reciprocal()
    negative = 0
    log_determinant = residual.log().scale(prepared.count).total()
    q = _initial(prepared, variance)
    p = weight.scale(prepared.count)
    s = weight.stretch() * constant(prepared.sums, m)
    for i, level in enumerate(prepared.levels):
        t = variable(variance, prepared.index[i + 1], m)
        d = constant(np.ones(level.size), m) + t * p
        if (d.v == 0).any():
            raise np.linalg.LinAlgError("singular")
        negative += int(np.sign(-t.v[d.v < 0]).sum())
        inverse = d.reciprocal()
        log_determinant = log_determinant + d.log().total()
        q = q - _outer(s, (t * inverse).stretch() * s)
        p, s = p * inverse, s * inverse.stretch()
        if i < len(prepared.parent):
            size = prepared.levels[i + 1].size
            p, s = p.sum_by(prepared.parent[i], size), s.sum_by(prepared.parent[i], size)
    first = m - len(prepared.design.crossed)
    for blocks in prepared.blocks:
        more, taken, turned = eliminate_block(blocks, variance, first, p, s)
        log_determinant, q, negative = log_determinant + more, q - taken, negative + turned
    return Moments(log_determinant, q, negative)


def _initial(prepared: Prepared, variance: Array) -> Jet:
    """Q before any elimination: the products of each residual component over its variance."""
    residuals = len(prepared.products)
    weight = variable(variance, np.arange(residuals), len(variance)).reciprocal()
    return weight.map(lambda w: np.einsum("...c,cab->...ab", w, prepared.products))


def _outer(a: Jet, b: Jet) -> Jet:
    """Sum over groups of a b', shape (k+1, k+1)."""
    cross = np.einsum("ian,jbn->ijab", a.g, b.g, optimize=True)
    return Jet(
        a.v @ b.v.T,
        a.g @ b.v.T + a.v @ b.g.swapaxes(-1, -2),
        a.h @ b.v.T + a.v @ b.h.swapaxes(-1, -2) + cross + cross.swapaxes(0, 1),
    )


def reml_criterion(moments: Moments, observations: int) -> tuple[Jet, Array]:
    """−2 × restricted log-likelihood with derivatives, and the generalised least-squares estimate.

    What is free of the mean, K'y, must have a positive definite covariance; V itself need not. By the additivity of inertia
    K'VK has as many negative eigenvalues as V has more than X'V⁻¹X.

    Raises
    ------
    numpy.linalg.LinAlgError
        Where K'VK is not positive definite.

    Source: Patterson & Thompson 1971; the constant is that of the usual software, (n − k) log 2π.
    """
    a, b, c = _blocks(moments.q)
    if moments.negative and int((np.linalg.eigvalsh(a.v) < 0).sum()) != moments.negative:
        raise np.linalg.LinAlgError("not positive definite")
    k = a.v.shape[0]
    inverse = inverse_of(a)
    beta = solve(a, b, inverse)
    rest = c - matmul(b.map(lambda x: x.swapaxes(-1, -2)), beta)
    total = moments.logdet + logdet(a, inverse) + rest.map(lambda x: x[..., 0, 0])
    constant_term = (observations - k) * np.log(2 * np.pi)
    return Jet(total.v + constant_term, total.g, total.h), beta.v[:, 0]


def _blocks(q: Jet) -> tuple[Jet, Jet, Jet]:
    return (
        q.map(lambda x: x[..., :-1, :-1]),
        q.map(lambda x: x[..., :-1, -1:]),
        q.map(lambda x: x[..., -1:, -1:]),
    )
