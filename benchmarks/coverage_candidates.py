"""Forms that the engine does not use (yet): tried in the study of coverage before anything is decided.

*Weighted means*: one nested mean a specimen and condition, weighted by the reciprocal of its fitted variance; the variance of
the estimate is scaled by the weighted mean square that the means show themselves, with their degrees of freedom. For equal
numbers of matings and readings that is the exact t. Source of the form: Hartung & Knapp 2001, Statistics in Medicine 20, 3875
(there for studies that are put together).

*Unbounded*: REML with variances that may be negative as long as the covariance stays positive definite, then Kenward-Roger.
"""

from __future__ import annotations

import os

import numpy as np
from coverage_ways import weights
from scipy import optimize, stats

from ohmsworth.inference.design import Design
from ohmsworth.inference.elimination import eliminate, prepare, reml_criterion
from ohmsworth.inference.engine import Engine
from ohmsworth.inference.estimate import Estimate, welch_satterthwaite
from ohmsworth.inference.kenward_roger import contrast_freedom, small_sample
from ohmsworth.inference.means import variance_shares
from ohmsworth.inference.reml import Fit, _rescaled, _spread, _step, expected_information
from ohmsworth.readings.table import number_cells

UNBOUNDED = "unbounded" in os.environ.get("COVERAGE_TRY", "")


def candidates(design: Design, equal: Engine) -> dict[str, Estimate]:
    """Every candidate that the design allows."""
    if design.crossed:
        return {"plug means": _plug_means(design)}
    variance = _cell_variances(design, equal.fit)
    found = {"weighted": _weighted(design, equal, variance)}
    found["plain means"] = _weighted(design, equal, np.ones(len(variance)))
    if design.paired:
        found["weighted own"] = _weighted(design, equal, variance, two=True)
        found["cells"] = _cells(equal, variance) if _some_missing(design) else found["weighted"]
    else:
        found["weighted own"] = _weighted_own(equal, variance)
        found["own, between 2"] = _weighted_own(equal, variance, 2.0)
        found["own, between 1.5"] = _weighted_own(equal, variance, 1.5)
    if not UNBOUNDED:
        return found
    if (equal.fit.variance > 0).all():
        parts, along = equal.parts, weights(design)
        fit = equal.fit
    else:
        fit = unbounded_fit(design)
        parts, along = small_sample(fit), weights(design)
    found["unbounded"] = Estimate(
        float(along @ fit.mean), max(float(along @ parts.adjusted @ along), 0), contrast_freedom(parts, along)
    )
    return found


def _cell_variances(design: Design, fit: Fit) -> np.ndarray:
    """Fitted variance of every specimen-condition cell's nested mean, without what its specimen shares."""
    cell = number_cells([design.specimen, design.condition])
    size = int(cell.max()) + 1
    outer = ("response",) if design.paired else ("specimen",)
    names = [level.name for level in design.chain]
    total = np.zeros(size)
    for name, share in variance_shares(design, cell, size).items():
        total += share * fit.of(name, 0)
    inner = design.residual.name
    total += sum(fit.of(name, 0) for name in outer if name in names)
    assert inner in names
    return total if (total > 0).all() else np.ones(size)


def _weighted(design: Design, engine: Engine, variance: np.ndarray, two: bool = False) -> Estimate:
    """Least squares on the cells' means with weights; specimens as fixed effects where they are shared."""
    means = engine.means
    keep = np.isin(means.condition, [0, design.conditions - 1]) if two else np.ones(len(variance), bool)
    y, c, s, v = means.value[keep], means.condition[keep], means.specimen[keep], variance[keep]
    c = np.unique(c, return_inverse=True)[1]
    k = int(c.max()) + 1
    columns = np.eye(k)[c]
    if design.paired:
        s = np.unique(s, return_inverse=True)[1]
        columns = np.hstack([columns, np.eye(int(s.max()) + 1)[s][:, 1:]])
    root = 1 / np.sqrt(v)
    x, z = columns * root[:, None], y * root
    inverse = np.linalg.inv(x.T @ x)
    beta = inverse @ x.T @ z
    freedom = len(y) - columns.shape[1]
    square = float(((z - x @ beta) ** 2).sum() / freedom)
    along = np.zeros(columns.shape[1])
    along[k - 1], along[0] = 1, -1
    return Estimate(float(along @ beta), square * float(along @ inverse @ along), freedom)


def _some_missing(design: Design) -> bool:
    """Whether a specimen was not read under every condition."""
    cells = len(np.unique(design.specimen * design.conditions + design.condition))
    return cells < design.conditions * len(np.unique(design.specimen))


def _cells(engine: Engine, variance: np.ndarray) -> Estimate:
    """Kenward-Roger on the cells' means: what specimens share may be negative, the rest is one scale of the fitted variances."""
    means = engine.means
    y, v, c = means.value, variance, means.condition
    s = np.unique(means.specimen, return_inverse=True)[1]
    x, z = np.eye(int(c.max()) + 1)[c], np.eye(int(s.max()) + 1)[s]
    parts = np.stack([z @ z.T, np.diag(v / v.mean())])
    theta = np.array([0.0, 1.0]) * float(((y - x @ np.linalg.lstsq(x, y, rcond=None)[0]) ** 2).mean())
    state = _dense(y, x, parts, theta)
    for _ in range(60):
        step = np.linalg.solve(state["information"], state["score"])
        for halving in range(40):
            new = _dense(y, x, parts, theta + step * 0.5**halving)
            if new is not None and new["loglik"] >= state["loglik"] - 1e-12:
                break
        else:
            break
        gain = new["loglik"] - state["loglik"]
        theta, state = theta + step * 0.5**halving, new
        if gain < 1e-10:
            break
    along = np.zeros(x.shape[1])
    along[-1], along[0] = 1, -1
    return _dense_estimate(x, parts, state, along)


def _dense(y: np.ndarray, x: np.ndarray, parts: np.ndarray, theta: np.ndarray) -> dict | None:
    """Restricted likelihood with its score and expected information; None where V is not positive definite."""
    v = np.einsum("i,iab->ab", theta, parts)
    try:
        root = np.linalg.cholesky(v)
    except np.linalg.LinAlgError:
        return None
    if root.diagonal().min() < 1e-4 * root.diagonal().max():
        return None
    inverse = np.linalg.inv(v)
    phi = np.linalg.inv(x.T @ inverse @ x)
    p = inverse - inverse @ x @ phi @ x.T @ inverse
    py = p @ y
    pv = p @ parts
    return {
        "loglik": -np.log(root.diagonal()).sum() + np.linalg.slogdet(phi)[1] / 2 - float(y @ py) / 2,
        "score": (np.einsum("a,iab,b->i", py, parts, py) - np.trace(pv, axis1=1, axis2=2)) / 2,
        "information": np.einsum("iab,jba->ij", pv, pv) / 2,
        "inverse": inverse,
        "phi": phi,
        "beta": phi @ x.T @ inverse @ y,
    }


def _dense_estimate(x: np.ndarray, parts: np.ndarray, state: dict, along: np.ndarray) -> Estimate:
    """Kenward and Roger's variance and freedom of one contrast."""
    inverse, phi, w = state["inverse"], state["phi"], np.linalg.inv(state["information"])
    ix = inverse @ x
    p = np.stack([-ix.T @ part @ ix for part in parts])
    q = np.array([[ix.T @ a @ inverse @ b @ ix for b in parts] for a in parts])
    bias = np.einsum("ij,ijab->ab", w, q - np.einsum("iab,bc,jcd->ijad", p, phi, p))
    adjusted = phi + 2 * phi @ bias @ phi
    slopes = np.einsum("iab,a,b->i", p, phi @ along, phi @ along)
    plain = float(along @ phi @ along)
    spread = float(slopes @ w @ slopes)
    freedom = 2 * plain**2 / spread if spread > 0 else np.inf
    return Estimate(float(along @ state["beta"]), max(float(along @ adjusted @ along), 0.0), freedom)


def _weighted_own(engine: Engine, variance: np.ndarray, power: float | None = None) -> Estimate:
    """Each condition's own weighted mean and mean square; Welch and Satterthwaite's degrees of freedom."""
    found = []
    for condition in (engine.design.conditions - 1, 0):
        mine = engine.means.condition == condition
        y, w = engine.means.value[mine], 1 / variance[mine]
        mean = float(w @ y / w.sum())
        found.append((mean, float(w @ (y - mean) ** 2) / (len(y) - 1) / w.sum(), len(y) - 1.0))
    (a, va, fa), (b, vb, fb) = found
    freedom = welch_satterthwaite([va, vb], [fa, fb])
    if power is not None and fa != fb:
        freedom = between(va, vb, fa, fb, freedom, power)
    return Estimate(a - b, va + vb, freedom)


def between(va: float, vb: float, fa: float, fb: float, welch: float, power: float) -> float:
    """Freedom whose 95 % factor lies between Welch's and Cochran's, by how unequal the numbers are."""
    small, large = min(fa, fb) + 1, max(fa, fb) + 1
    towards = (1 - small / large) ** power

    def t(f: float) -> float:
        return float(stats.t.ppf(0.975, f))

    cochran = (va * t(fa) + vb * t(fb)) / (va + vb)
    factor = (1 - towards) * t(welch) + towards * cochran
    return float(optimize.brentq(lambda f: t(f) - factor, 0.9, 1000))


def _plug_means(design: Design) -> Estimate:
    """t on one mean a plug (of its pairs' means, each less its socket's mean); exact where every plug meets every socket."""
    plug, socket = (level.node for level in design.crossed)
    pair = number_cells([plug, socket])
    first = np.unique(pair, return_index=True)[1]
    value = np.bincount(pair, design.y) / np.bincount(pair)
    plug, socket, condition = plug[first], socket[first], design.condition[first]
    p, k = int(plug.max()) + 1, design.conditions
    columns = np.hstack([np.eye(p)[plug], np.eye(int(socket.max()) + 1)[socket][:, 1:]])
    effect = np.linalg.lstsq(columns, value, rcond=None)[0][:p]
    of = condition[np.unique(plug, return_index=True)[1]]
    count = np.bincount(of, minlength=k)
    mean = np.bincount(of, effect, k) / count
    square = float(((effect - mean[of]) ** 2).sum() / (p - k))
    return Estimate(float(mean[-1] - mean[0]), square * (1 / count[-1] + 1 / count[0]), p - k)


def unbounded_fit(design: Design) -> Fit:
    """REML over all components for which the covariance is positive definite."""
    prepared = prepare(design)
    spread = _spread(prepared)
    unit = _rescaled(prepared, spread)
    m, n = len(prepared.components), len(design.y)
    variance = np.full(m, 1.0 / m)
    free = np.ones(m, bool)

    def at(v):
        with np.errstate(all="ignore"):
            moments = eliminate(unit, v)
            jet, _ = reml_criterion(moments, n)
        if v[0] <= 0 or not np.isfinite(float(jet.v)) or not np.isfinite(jet.h).all():
            return None
        return jet, expected_information(moments)

    jet, information = at(variance)
    for _ in range(100):
        step = _step(jet, information, free)
        if -float(jet.g @ step) < 1e-8:
            break
        for halving in range(30):
            trial = variance + step * 0.5**halving
            new = at(trial)
            if new is not None and float(new[0].v) < float(jet.v):
                break
        else:
            break
        variance, (jet, information) = trial, new
    moments = eliminate(prepared, variance * spread)
    criterion, beta = reml_criterion(moments, n)
    return Fit(
        design, prepared.components, variance * spread, beta + prepared.shift, moments, float(criterion.v)
    )
