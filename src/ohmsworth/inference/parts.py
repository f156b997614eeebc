"""Which plug or socket is high with every partner: the predicted effect of each re-paired part.

With the variances as fitted, V = Σ θⱼ Zⱼ Zⱼ' and P = V⁻¹ − V⁻¹X(X'V⁻¹X)⁻¹X'V⁻¹, the best linear unbiased prediction of the
difference l'b of one part from the middle of its kind (l: one for the part, less one over their number for each of those
read under the same conditions), and the mean square of its error, are

    u = t z'P y,     M = t l'l − t² z'P z + 2 Σ_jk W_jk c_j'P c_k,     z = Z l,  c_j = d_j z − t Vⱼ P z

where t is the variance of the kind, d_j = 1 where component j is t itself, else 0, and W the covariance of the components.
The last term is what their estimation costs, twice, since the first two come out too small by as much again. Degrees of
freedom by Satterthwaite. A part that was read little is drawn towards the middle of its kind.

Sources: Henderson (prediction), PrasadRao (its error), Satterthwaite.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from scipy import sparse, stats
from scipy.sparse.linalg import SuperLU, splu

from ohmsworth.inference.design import PARTS, Level
from ohmsworth.inference.engine import Engine
from ohmsworth.inference.measured import Measured
from ohmsworth.readings.table import Array, Codes, Labels
from ohmsworth.resistance import Resistances

#: Beyond so many resistances, or resistances times parts, no effects are predicted.
MOST_RESISTANCES = 5000
MOST_WORK = 1_000_000
#: A residual variance below this share of all is taken as this share: V could not be inverted otherwise.
_SMALLEST_SHARE = 1e-9


@dataclass(frozen=True, slots=True)
class PartEffect:
    """One plug or socket, on the scale of analysis.

    Parameters
    ----------
    kind, name
        "plug" or "socket", and its name.
    value
        Predicted effect: how far it lies above the middle of its kind, whatever it is paired with.
    low, high
        Prediction interval; None where its kind was found not to scatter, or no other was read under its conditions.
    partners, above
        How many parts it was paired with, and with how many of these it lies above what they and the condition explain.
    readings
        Resistances that it took part in.
    conditions
        Label numbers of the conditions that it was read under.
    """

    kind: str
    name: str
    value: float
    low: float | None
    high: float | None
    partners: int
    above: int
    readings: int
    conditions: tuple[int, ...]


@dataclass(frozen=True, slots=True, eq=False)
class _Inverse:
    """What P is applied with: V = `nested` + Z diag(`variance`) Z', and Woodbury's identity for the second part.

    `fixed` is V⁻¹X, `slopes` holds Zj of every component, `z` that of the crossed parts together, shape (n, q).
    """

    nested: SuperLU
    slopes: tuple[sparse.csr_array, ...]
    z: Array
    variance: Array
    x: Array
    fixed: Array

    def solve(self, columns: Array) -> Array:
        """V⁻¹ times `columns`, shape (n, r)."""
        first, along = self.nested.solve(columns), self.nested.solve(self.z)
        small = np.eye(len(self.variance)) + (self.z.T @ along) * self.variance
        return np.asarray(first - (along * self.variance) @ np.linalg.solve(small, self.z.T @ first))

    def project(self, columns: Array) -> Array:
        """P times `columns`."""
        solved = self.solve(columns)
        return np.asarray(solved - self.fixed @ np.linalg.solve(self.x.T @ self.fixed, self.x.T @ solved))


def part_effects(resistances: Resistances, measured: Measured, coverage: float) -> tuple[PartEffect, ...]:
    """Predict the effect of every plug and every socket.

    Parameters
    ----------
    resistances
        Whose labels name the parts.
    measured
        Their fit.
    coverage
        Of the prediction intervals.

    Returns
    -------
    tuple of PartEffect
        Plugs first; empty where plugs and sockets are not re-paired, or the study is too large (MOST_RESISTANCES,
        MOST_WORK).
    """
    engine = measured.engine
    if engine is None or not measured.design.repaired:
        return ()
    size = sum(level.size for level in engine.design.crossed)
    if len(resistances) > MOST_RESISTANCES or len(resistances) * size > MOST_WORK:
        return ()
    inverse = _inverse(engine)
    y = engine.design.y
    effects = _by_level(engine, inverse.z.T @ inverse.project((y - y.mean())[:, None])[:, 0])
    found: list[PartEffect] = []
    start = 0
    for level in engine.design.crossed:
        inside = slice(start, start + level.size)
        start += level.size
        if level.name not in PARTS:
            continue
        weights = _from_the_middle(level, engine.design.condition)
        own = next(i for i, c in enumerate(engine.fit.components) if c.level == level.name)
        variance, freedom = _error(engine, inverse, own, inverse.z[:, inside] @ weights, (weights**2).sum(0))
        half = stats.t.ppf((1 + coverage) / 2, freedom) * np.sqrt(variance)
        known = (engine.fit.variance[own] > 0) & weights.any(0)
        rest = _unexplained(engine, effects, level)
        names = _labels(resistances, level.name)
        for k, value in enumerate((effects[level.name] @ weights).tolist()):
            member = np.flatnonzero(level.node == k)
            partners, above = _partners(resistances, level.name, member, rest)
            low, high = (value - float(half[k]), value + float(half[k])) if known[k] else (None, None)
            name = names.names[names.codes[member[0]]]
            under = tuple(np.unique(engine.design.condition[member]).tolist())
            found.append(PartEffect(level.name, name, value, low, high, partners, above, len(member), under))
    return tuple(found)


def _from_the_middle(level: Level, condition: Codes) -> Array:
    """Columns l that take each part less the mean of those read under the same conditions, shape (parts, parts)."""
    read = np.zeros((level.size, int(condition.max()) + 1), bool)
    read[level.node, condition] = True
    same = (read[:, None, :] == read[None, :, :]).all(2)
    return np.asarray(np.eye(level.size) - same / same.sum(0))


def _inverse(engine: Engine) -> _Inverse:
    """V by its components, ready to be solved with."""
    design, fit = engine.design, engine.fit
    levels = {level.name: level for level in design.levels}
    crossed = {level.name for level in design.crossed}
    least = _SMALLEST_SHARE * float(fit.variance.max())
    n = len(design.y)
    slopes: list[sparse.csr_array] = []
    nested = sparse.csc_array((n, n))
    for component, variance in zip(fit.components, fit.variance.tolist(), strict=True):
        level = levels[component.level]
        here = np.ones(n) if component.condition is None else design.condition == component.condition
        slope = _indicators(level, here)
        slopes.append(slope)
        if component.level not in crossed:
            share = max(variance, least) if level is design.residual else variance
            nested = nested + share * (slope @ slope.T)
    x = np.eye(design.conditions)[design.condition]
    z = np.hstack([_indicators(level, np.ones(n)).toarray() for level in design.crossed])
    t = np.repeat(
        [fit.of(level.name, 0) for level in design.crossed], [level.size for level in design.crossed]
    )
    bare = _Inverse(splu(sparse.csc_matrix(nested)), tuple(slopes), z, t, x, x)
    return replace(bare, fixed=bare.solve(x))


def _indicators(level: Level, weight: Array) -> sparse.csr_array:
    """Z of a level, shape (n, groups), its rows weighted."""
    n = len(level.node)
    return sparse.csr_array((weight, (np.arange(n), level.node)), shape=(n, level.size))


def _by_level(engine: Engine, score: Array) -> dict[str, Array]:
    """The predicted effects of each crossed level, t z'Py."""
    found, start = {}, 0
    for level in engine.design.crossed:
        found[level.name] = engine.fit.of(level.name, 0) * score[start : start + level.size]
        start += level.size
    return found


def _error(engine: Engine, inverse: _Inverse, own: int, z: Array, size: Array) -> tuple[Array, Array]:
    """Mean square error of the predictions of one kind of part, and its degrees of freedom; `size` is l'l."""
    t, w = float(engine.fit.variance[own]), engine.parts.w
    pz = inverse.project(z)
    seen = (z * pz).sum(0)  # z'P z
    summed = [slope.T @ pz for slope in inverse.slopes]
    spread = np.array([(part**2).sum(0) for part in summed])  # z'P Vj P z
    first = t * size - t**2 * seen
    gradient = t**2 * spread
    gradient[own] += size - 2 * t * seen
    along = [slope @ part for slope, part in zip(inverse.slopes, summed, strict=True)]  # Vj P z
    changed = [(j == own) * z - t * column for j, column in enumerate(along)]  # cj
    projected = [inverse.project(column) for column in changed]
    cost = sum(
        w[j, k] * (one * other).sum(0) for j, one in enumerate(changed) for k, other in enumerate(projected)
    )
    uncertain = np.einsum("jk,ji,ik->k", gradient, w, gradient)
    with np.errstate(divide="ignore", invalid="ignore"):
        freedom = np.where(uncertain > 0, 2 * first**2 / uncertain, np.inf)
    return np.maximum(first + 2 * cost, 0.0), np.maximum(freedom, 1.0)


def _unexplained(engine: Engine, effects: dict[str, Array], level: Level) -> Array:
    """Observations less their condition's mean and the predicted effects of the other kind of part."""
    rest = engine.design.y - engine.fit.mean[engine.design.condition]
    for other in engine.design.crossed:
        if other is not level:
            rest = rest - effects[other.name][other.node]
    return np.asarray(rest)


def _labels(resistances: Resistances, kind: str) -> Labels:
    """The names of one kind of part; where it has no column the specimens are that part."""
    column = resistances.plug if kind == "plug" else resistances.socket
    return column or resistances.specimen


def _partners(resistances: Resistances, kind: str, member: Codes, rest: Array) -> tuple[int, int]:
    """How many partners a part had, and with how many of them its readings lie above what else explains."""
    other = _labels(resistances, "socket" if kind == "plug" else "plug").codes[member]
    partners, number = np.unique(other, return_inverse=True)
    return len(partners), int((np.bincount(number, rest[member]) > 0).sum())
