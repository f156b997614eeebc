"""Each specimen's own resistance under each condition, and whether it is within the limit.

The specimen's contacts are its own, so their differences are no uncertainty; re-mating and reading scatter are.
Their variances are pooled over the study, which is why a specimen with two readings has a usable interval.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy import special

from ohmsworth.inference.conformity import probability_within, verdict
from ohmsworth.inference.means import cells_of, variance_shares
from ohmsworth.inference.measured import Measured, is_rectangular
from ohmsworth.readings.table import Array, Codes

#: A rectangular part dominates when everything else together is at most this fraction of it (EA-4/02, S9).
_DOMINATES = 0.3


@dataclass(frozen=True, slots=True, eq=False)
class SpecimenResults:
    """One entry a specimen and condition; ohm. NaN where the data and meters give no uncertainty.

    `specimen` and `condition` are label numbers, `readings` counts resistances.
    """

    specimen: Codes
    condition: Codes
    value: Array
    uncertainty: Array
    freedom: Array
    low: Array
    high: Array
    probability: Array
    verdicts: tuple[str, ...]
    readings: Codes


def specimen_results(
    measured: Measured, value: Array, limit: float | None, coverage: float
) -> SpecimenResults:
    """Estimate every specimen.

    Parameters
    ----------
    measured
        The fitted study.
    value
        Nested mean of every specimen-condition cell on the scale of analysis, in order of first appearance.
    limit
        In ohm, or None.
    coverage
        Of the interval, and the confidence of the verdict.
    """
    design = measured.design
    cell, size = cells_of(design)
    first = np.unique(cell, return_index=True)[1]
    scatter, freedom = _scatter_variance(measured, cell, size)
    meters, dominant, spread = _meter_variance(measured, cell, size)
    variance = scatter + meters
    spread = spread + scatter**2 / freedom
    with np.errstate(divide="ignore", invalid="ignore"):
        effective = np.where(spread > 0, variance**2 / spread, np.inf)
    uncertainty = np.sqrt(np.where(variance > 0, variance, np.nan))
    factor = coverage_factor(uncertainty, effective, dominant, coverage)
    ends = value - factor * uncertainty, value + factor * uncertainty
    bound = None if limit is None else (np.log(limit) if measured.scale == "log" else limit)
    chance = (
        np.full(size, np.nan) if bound is None else probability_within(value, uncertainty, effective, bound)
    )
    ohm, low, high = (np.exp(np.minimum(a, 700.0)) if measured.scale == "log" else a for a in (value, *ends))
    return SpecimenResults(
        design.specimen[first],
        design.condition[first],
        ohm,
        uncertainty * ohm if measured.scale == "log" else uncertainty,
        effective,
        low,
        high,
        chance,
        tuple(verdict(float(p), coverage) for p in chance) if limit is not None else ("",) * size,
        np.bincount(cell, minlength=size),
    )


def coverage_factor(uncertainty: Array, freedom: Array, dominant: Array, coverage: float) -> Array:
    """Coverage factor: Student's t, or that of a rectangle where one rectangular part dominates.

    Source: GUM G.4 and EA-4/02 S9 (k = 1.65 at 95 %, not 2).
    """
    t = special.stdtrit(np.minimum(freedom, 1e9), (1 + coverage) / 2)
    with np.errstate(invalid="ignore"):
        rest = np.sqrt(np.maximum(uncertainty**2 - dominant**2, 0))
        rectangular = (dominant > 0) & (rest <= _DOMINATES * dominant)
    return np.asarray(np.where(rectangular, np.sqrt(3) * coverage, t))


def specimen_variances(measured: Measured) -> tuple[Array, Array]:
    """Variance of each specimen's mean on the scale of analysis: what further matings average down, and what the meters add.

    In the order of `specimen_results`.
    """
    cell, size = cells_of(measured.design)
    return _scatter_variance(measured, cell, size)[0], _meter_variance(measured, cell, size)[0]


def _scatter_variance(measured: Measured, cell: Codes, size: int) -> tuple[Array, Array]:
    """Variance of each cell's nested mean from mating and reading scatter, and its freedom."""
    if measured.engine is None:
        return np.zeros(size), np.full(size, np.inf)
    engine = measured.engine
    inside = {"mating", engine.design.residual.name} - {"specimen", "response"}
    weights = _nested_weights(measured, cell, size, inside)
    variance = weights @ engine.fit.variance
    spread = np.einsum("ci,ij,cj->c", weights, engine.parts.w, weights)
    with np.errstate(divide="ignore", invalid="ignore"):
        freedom = np.where(spread > 0, 2 * variance**2 / spread, np.inf)
    return variance, np.maximum(freedom, 1.0)


def _nested_weights(measured: Measured, cell: Codes, size: int, inside: set[str]) -> Array:
    """Weight of each variance component in the variance of each cell's nested mean, shape (cells, m)."""
    assert measured.engine is not None
    engine = measured.engine
    number = {(c.level, c.condition): i for i, c in enumerate(engine.fit.components)}
    result = np.zeros((size, len(engine.fit.components)))
    first = np.unique(cell, return_index=True)[1]
    for level, share in variance_shares(measured.design, cell, size).items():
        if level not in inside:
            continue
        for c in range(engine.design.conditions):
            column = number.get((level, None), number.get((level, c), -1))
            here = engine.design.condition[first] == c
            if column >= 0:
                result[here, column] += share[here]
    return result


def _meter_variance(measured: Measured, cell: Codes, size: int) -> tuple[Array, Array, Array]:
    """Variance from the meters for each cell, the largest rectangular standard uncertainty in it, and the sum of u⁴/ν."""
    count = np.bincount(cell, minlength=size)
    parts = {
        name: np.bincount(cell, part, size) / count
        for name, part in {**measured.shared, "thermal EMF": measured.emf}.items()
    }
    stated = np.bincount(cell, measured.independent**2, size) / count
    readings = _reading_variance(measured, cell)
    beyond = np.maximum(stated - readings, 0) / count
    total = sum((part**2 for part in parts.values()), beyond)
    dominant = np.max([np.abs(part) for name, part in parts.items() if is_rectangular(name)], axis=0)
    return total, dominant, np.where(beyond > 0, _independent_spread(measured, cell, size), 0) / count**4


def _independent_spread(measured: Measured, cell: Codes, size: int) -> Array:
    """Sum of u⁴/ν in each cell, u being what is new in every observation; 0 where it is known."""
    if measured.independent_freedom is None:
        return np.zeros(size)
    return np.asarray(np.bincount(cell, measured.independent**4 / measured.independent_freedom, size), float)


def _reading_variance(measured: Measured, cell: Codes) -> Array:
    first = np.unique(cell, return_index=True)[1]
    if measured.engine is None:
        return np.zeros(len(first))
    engine = measured.engine
    each = [engine.fit.of(engine.design.residual.name, c) for c in range(engine.design.conditions)]
    return np.array(each)[engine.design.condition[first]]
