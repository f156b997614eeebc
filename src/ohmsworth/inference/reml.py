"""Restricted maximum likelihood (REML) estimates of the scatter at each level, exact at the zero bound."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from ohmsworth.errors import ArgumentFault
from ohmsworth.inference.design import Design
from ohmsworth.inference.elimination import Component, Moments, Prepared, eliminate, prepare, reml_criterion
from ohmsworth.inference.first_guess import first_guess
from ohmsworth.inference.jet import Jet
from ohmsworth.readings.table import Array, Codes

_MOST_STEPS = 200
#: An unbounded fit that needs more is on its way to a singular V, where the likelihood has no maximum.
_FEWER_STEPS = 20
#: A step is halved at most so often; where V becomes singular nearby, no smaller one leads anywhere either.
_MOST_HALVINGS, _FEWER_HALVINGS = 40, 8
#: A step that promises to lower −2 log-likelihood by less than this is the last one.
_SETTLED = 1e-8
#: Share of the criterion below which its own rounding hides what a step gains.
_ROUNDING = 1e-11
#: Curvature, relative to that of single components, below which a direction counts as flat.
_FLAT = 1e-10
#: A residual variance is not told apart from zero below this share of the largest variance.
_SMALLEST_SHARE = 1e-13


@dataclass(frozen=True, slots=True, eq=False)
class Fit:
    """A fitted mixed model.

    Parameters
    ----------
    design
        What was fitted.
    components, variance
        Variance components and their REML estimates (squared unit of y), zero where at the bound.
    mean
        Estimated coefficients of the fixed part, by default the condition means, shape (p,), unit of y.
    moments
        log|V|, A'V⁻¹A and their derivatives at the estimates.
    criterion
        −2 × restricted log-likelihood.
    """

    design: Design
    components: tuple[Component, ...]
    variance: Array
    mean: Array
    moments: Moments
    criterion: float

    @property
    def at_bound(self) -> bool:
        """Whether some level's scatter was estimated as zero."""
        return bool((self.variance[1:] == 0).any()) if len(self.variance) > 1 else False

    def of(self, level: str, condition: int) -> float:
        """Variance of `level` under `condition`; 0 if the level is not in the model."""
        for component, value in zip(self.components, self.variance, strict=True):
            if component.level == level and component.condition in (None, condition):
                return float(value)
        return 0.0


def fit_reml(design: Design, split: frozenset[str] = frozenset()) -> Fit:
    """Fit the scatter of every level by REML.

    Parameters
    ----------
    design
        The design; y may be on any scale.
    split
        Names of levels whose scatter is separate for each condition.

    Raises
    ------
    ArgumentFault
        When the observations leave no scatter at all to estimate (all equal within conditions).
    """
    prepared = prepare(design, split)
    spread = _spread(prepared)
    # A few steps of the last binary digit are rounding, not scatter.
    if spread <= (16 * float(np.spacing(np.abs(design.y).max()))) ** 2:
        raise ArgumentFault("y", "no scatter at all", "readings that differ")
    # Scaling y to unit variance keeps the steps well conditioned whatever the unit.
    unit = _rescaled(prepared, spread)
    variance, _ = _minimise(unit)
    moments = eliminate(prepared, variance * spread)
    criterion, beta = reml_criterion(moments, len(design.y))
    return Fit(
        design, prepared.components, variance * spread, _shifted(prepared, beta), moments, float(criterion.v)
    )


def fit_unbounded(fit: Fit, split: frozenset[str]) -> Fit | None:
    """The same model with components let below zero, as far as the restricted likelihood allows it.

    Where a component's estimate is held at zero, the others make up for it, and small-sample inference goes wide; let go, they
    are in a balanced design the mean squares of the analysis of variance, whose t is exact. With unequal numbers of readings the
    likelihood may have no maximum then; so the levels are held at zero one more at a time, from the inside out. None where
    there is no such fit.

    Parameters
    ----------
    fit
        The fit within the bounds; it is where the steps start.
    split
        Names of levels whose scatter is separate for each condition, as in `fit`.
    """
    prepared = prepare(fit.design, split)
    spread = _spread(prepared)
    unit = _rescaled(prepared, spread)
    inside_out = list(dict.fromkeys(component.level for component in fit.components))
    for held in range(1, len(inside_out)):
        loose = np.array([component.level not in inside_out[:held] for component in fit.components])
        if not (loose & (fit.variance == 0)).any():
            return None
        try:
            variance, settled = _minimise(unit, fit.variance / spread, loose)
            if settled:
                moments = eliminate(prepared, variance * spread)
                criterion, beta = reml_criterion(moments, len(fit.design.y))
                mean = _shifted(prepared, beta)
                return Fit(fit.design, fit.components, variance * spread, mean, moments, float(criterion.v))
        except np.linalg.LinAlgError:
            continue
    return None


def _shifted(prepared: Prepared, beta: Array) -> Array:
    """Coefficients of y, from those of y less its shift; a constant is among what the fixed part can make."""
    x = prepared.design.fixed
    return np.asarray(beta + prepared.shift * np.linalg.solve(x @ x.T, x.sum(1)))


def _spread(prepared: Prepared) -> float:
    """Mean square about what the fixed part alone would fit."""
    x, y = prepared.design.fixed, prepared.design.y - prepared.shift
    rest = y - x.T @ np.linalg.solve(x @ x.T, x @ y)
    return float((rest**2).sum() / max(len(y) - len(x), 1))


def _rescaled(prepared: Prepared, spread: float) -> Prepared:
    unit = np.ones(len(prepared.sums))
    unit[-1] /= np.sqrt(spread)
    return replace(
        prepared,
        sums=prepared.sums * unit[:, None],
        products=prepared.products * np.outer(unit, unit),
        shift=0.0,
    )


def _evaluate(prepared: Prepared, variance: Array) -> tuple[Jet, Array]:
    moments = eliminate(prepared, variance)
    jet, _ = reml_criterion(moments, len(prepared.design.y))
    return jet, expected_information(moments)


def expected_information(moments: Moments) -> Array:
    """tr(P Vi P Vj): expected curvature of −2 log-likelihood, shape (m, m)."""
    k = moments.q.v.shape[0] - 1
    a = moments.q
    phi = np.linalg.inv(a.v[:k, :k])
    first = phi @ a.g[:, :k, :k]
    second = np.trace(phi @ a.h[:, :, :k, :k], axis1=-2, axis2=-1)
    return np.asarray(-moments.logdet.h - second + np.einsum("iab,jba->ij", first, first))


def _minimise(
    prepared: Prepared, start: Array | None = None, loose: np.ndarray | None = None
) -> tuple[Array, bool]:
    """Newton steps inside the bounds; a component is held at zero while its slope says so, unless it is a loose one.

    Returns where they end, and whether that is a minimum as far as steps can tell.
    """
    m = len(prepared.components)
    room = _Room(np.unique(prepared.index[0]), np.zeros(m, bool) if loose is None else loose)
    variance = first_guess(prepared) if start is None else start
    jet, information = _evaluate(prepared, variance)
    for _ in range(_MOST_STEPS if loose is None else _FEWER_STEPS):
        free = (variance > 0) | (jet.g < 0) | room.loose
        if not free.any():
            return variance, True
        step = _moderate(_step(jet, information, free), variance)
        if -float(jet.g @ step) < _SETTLED + _ROUNDING * abs(float(jet.v)):
            # Newton's error is squared by each step: one more, unchecked, ends below rounding.
            return room.inside(variance + step, variance), True
        moved = _walk(prepared, variance, step, jet, room)
        if moved is None:
            return variance, False
        variance, jet, information = moved
    return variance, False


def _step(jet: Jet, information: Array, free: np.ndarray) -> Array:
    """Newton's step where the curvature allows, Fisher's where not.

    Along a direction in which the design cannot tell components apart there is no curvature, and no step.
    """
    step = np.zeros(len(free))
    for curvature in (jet.h, information):
        block, slope = curvature[np.ix_(free, free)], jet.g[free]
        if (block.diagonal() <= 0).any():
            continue
        unit = 1 / np.sqrt(block.diagonal())  # components may differ by many powers of ten
        bends, along = np.linalg.eigh(block * np.outer(unit, unit))
        flat = np.abs(bends) < _FLAT
        if (bends[~flat] < 0).any():
            continue
        towards = (along.T @ (unit * slope))[~flat] / bends[~flat]
        step[free] = -unit * (along[:, ~flat] @ towards)
        return step
    steepest = float(np.abs(slope).max(initial=0.0))
    if steepest > 0:
        step[free] = -slope / steepest  # nowhere curved as a minimum is: simply downhill
    return step


def _moderate(step: Array, variance: Array) -> Array:
    """No step is longer than a hundred times what is there: where hardly anything bends, Newton would go beyond all halving."""
    longest = float(np.abs(step).max())
    most = 100 * max(1.0, float(np.abs(variance).max()))
    return step * (most / longest) if longest > most else step


@dataclass(frozen=True, slots=True, eq=False)
class _Room:
    """Where components may be: numbers of the residual ones, and which of the others may be below zero."""

    residual: Codes
    loose: np.ndarray

    def inside(self, trial: Array, variance: Array) -> Array:
        """`trial` inside the bounds: a residual variance cannot be zero; at most nine tenths of the way there."""
        trial[self.residual] = np.maximum(trial[self.residual], 0.1 * variance[self.residual])
        # Beside scatter that is larger by more than that, sums lose the residual and then the condition means.
        trial[self.residual] = np.maximum(trial[self.residual], _SMALLEST_SHARE * trial.max())
        return np.asarray(np.where(self.loose, trial, np.maximum(trial, 0.0)))


def _walk(
    prepared: Prepared, variance: Array, step: Array, jet: Jet, room: _Room
) -> tuple[Array, Jet, Array] | None:
    """The longest of the halved steps that lowers the criterion; None when none does."""
    for halving in range(_FEWER_HALVINGS if room.loose.any() else _MOST_HALVINGS):
        trial = room.inside(variance + step * 0.5**halving, variance)
        try:
            new, information = _evaluate(prepared, trial)
        except np.linalg.LinAlgError:
            continue  # so far out that nothing can be computed: not so far
        if new.v <= jet.v + 1e-13 * abs(float(jet.v)) and not np.array_equal(trial, variance):
            return trial, new, information
    return None
