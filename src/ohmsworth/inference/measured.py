"""Resistances on the scale of analysis, with the meters' parts of the uncertainty on the same scale."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from ohmsworth.errors import ArgumentFault
from ohmsworth.inference.design import Design, build_design
from ohmsworth.inference.engine import Engine, make_engine
from ohmsworth.inference.estimate import Estimate, welch_satterthwaite
from ohmsworth.inference.rebuilt import History
from ohmsworth.readings.study import Scale, Scatter
from ohmsworth.readings.table import Array, Codes
from ohmsworth.resistance import COUNTS, Resistances


@dataclass(frozen=True, slots=True, eq=False)
class Measured:
    """A fitted study and its meters.

    Parameters
    ----------
    scale
        Scale of analysis; with "log" all arrays below are relative uncertainties.
    engine
        The fitted scatter; None when there is nothing to fit (no scatter, or one reading).
    design
        Which observation belongs to what.
    shared
        Source -> standard uncertainty common to all observations, at each.
    independent, emf
        Standard uncertainty new in each observation; that of the thermal EMF.
    independent_source
        What `independent` comes from.
    independent_freedom
        Its degrees of freedom, at each; None where it is as good as known.
    """

    scale: Scale
    engine: Engine | None
    design: Design
    shared: dict[str, Array]
    independent: Array
    emf: Array
    independent_source: str = COUNTS
    independent_freedom: Array | None = None


def measure(resistances: Resistances, scale: Scale, scatter: Scatter) -> Measured:
    """Put resistances on the scale of analysis and fit their scatter.

    Raises
    ------
    ArgumentFault
        On the logarithmic scale when a resistance is not positive.
    """
    value = resistances.value
    if scale == "log" and not (value > 0).all():
        raise ArgumentFault("resistances", float(value.min()), "positive on the logarithmic scale")
    unit = np.abs(value) if scale == "log" else np.ones(len(value))
    design = build_design(
        np.log(value) if scale == "log" else value,
        resistances.condition,
        resistances.specimen,
        resistances.contact,
        resistances.mating,
        resistances.plug,
        resistances.socket,
        resistances.others,
        resistances.factors,
    )
    return Measured(
        scale,
        _fitted(design, scatter),
        design,
        {name: part / unit for name, part in resistances.shared.items()},
        resistances.independent / unit,
        resistances.emf / unit,
        resistances.independent_source,
        resistances.independent_freedom,
    )


def leaning(measured: Measured, history: History | None) -> Measured:
    """The same study leaning on the scatter of past ones; as it is where there is none, or nothing to fit."""
    if history is None or measured.engine is None:
        return measured
    return replace(measured, engine=replace(measured.engine, history=history))


def _fitted(design: Design, scatter: Scatter) -> Engine | None:
    if len(design.y) <= design.conditions:
        return None
    try:
        return make_engine(design, scatter)
    except ArgumentFault:
        return None  # readings that do not differ at all: only the meters' uncertainty is known


def is_rectangular(name: str) -> bool:
    """Whether a shared part comes from a maker's limits (a rectangle), not from a standard uncertainty or from noise."""
    return not name.endswith("calibration") and not name.startswith("noise")


@dataclass(frozen=True, slots=True)
class MeterPart:
    """Uncertainty of a mean that the scatter of readings does not show, on the scale of analysis."""

    source: str
    uncertainty: float
    rectangular: bool
    freedom: float = np.inf


def meter_parts(measured: Measured, member: Codes) -> tuple[MeterPart, ...]:
    """What the meters add to the mean of the observations `member` (their numbers)."""
    parts = [
        MeterPart(name, abs(float(part[member].mean())), is_rectangular(name))
        for name, part in measured.shared.items()
    ]
    parts.append(MeterPart("thermal EMF", float(measured.emf[member].mean()), True))
    parts.append(_independent_part(measured, [_counts_beyond_scatter(measured, member)]))
    return tuple(part for part in parts if part.uncertainty > 0)


def _independent_part(measured: Measured, means: list[tuple[float, float]]) -> MeterPart:
    """What is new in every observation, in a sum or difference of means, each with its variance and degrees of freedom."""
    variances, freedoms = (list(column) for column in zip(*means, strict=True))
    freedom = welch_satterthwaite(variances, freedoms)
    return MeterPart(measured.independent_source, float(np.sqrt(sum(variances))), False, freedom)


def _counts_beyond_scatter(measured: Measured, member: Codes) -> tuple[float, float]:
    """Variance of the mean from the meters' counts, as far as the readings' own scatter does not show it; its freedom.

    What is beyond is the stated variance less the fitted one, and errs by as much as the stated one does.
    """
    number = len(member)
    stated = float((measured.independent[member] ** 2).mean())
    beyond = max(stated - reading_variance(measured, member), 0.0) / number
    spread = _independent_spread(measured, member)
    return beyond, beyond**2 / (spread / number**4) if beyond and spread else np.inf


def _independent_spread(measured: Measured, member: Codes) -> float:
    """Sum of u⁴/ν over the observations, u being what is new in each and ν its degrees of freedom; 0 where it is known."""
    if measured.independent_freedom is None:
        return 0.0
    return float((measured.independent[member] ** 4 / measured.independent_freedom[member]).sum())


def reading_variance(measured: Measured, member: Codes) -> float:
    """Variance of single readings in the conditions of `member`, as fitted."""
    if measured.engine is None:
        return 0.0
    level = measured.design.residual.name
    conditions, counts = np.unique(measured.design.condition[member], return_counts=True)
    each = [measured.engine.fit.of(level, int(c)) for c in conditions]
    return float(np.average(each, weights=counts))


def with_meters(estimate: Estimate, parts: tuple[MeterPart, ...]) -> Estimate:
    """The estimate with the meters' variance added; the meters count as well known, the noise of takes by its freedom."""
    extra = [part.uncertainty**2 for part in parts]
    if not any(extra):
        return estimate
    freedom = welch_satterthwaite(
        [estimate.variance, *extra], [estimate.freedom, *(part.freedom for part in parts)]
    )
    return Estimate(estimate.value, estimate.variance + sum(extra), freedom)


def difference_parts(measured: Measured, of: Codes, against: Codes) -> tuple[MeterPart, ...]:
    """What the meters add to a difference of two means: a gain common to both cancels.

    The thermal EMF need not be the same in both, so it does not cancel.
    """
    parts = [
        MeterPart(name, abs(float(part[of].mean() - part[against].mean())), is_rectangular(name))
        for name, part in measured.shared.items()
    ]
    emf = np.hypot(measured.emf[of].mean(), measured.emf[against].mean())
    counts = [_counts_beyond_scatter(measured, of), _counts_beyond_scatter(measured, against)]
    parts.append(MeterPart("thermal EMF", float(emf), True))
    parts.append(_independent_part(measured, counts))
    return tuple(part for part in parts if part.uncertainty > 0)
