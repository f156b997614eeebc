"""Each condition's population: its median or mean, a bound for most of it, and the chance of the next being over."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ohmsworth.inference.engine import Engine, condition_mean
from ohmsworth.inference.estimate import Estimate
from ohmsworth.inference.future import Future, chance_over, future_value, upper_bound
from ohmsworth.inference.kenward_roger import variance_freedom
from ohmsworth.inference.means import cells_of, variance_shares
from ohmsworth.inference.measured import Measured, MeterPart, meter_parts, with_meters
from ohmsworth.inference.scale import to_ohm
from ohmsworth.inference.tolerance import probability_over
from ohmsworth.readings.table import Codes

#: A tolerance bound holds for at least this share of future matings.
CONTENT = 0.95


@dataclass(frozen=True, slots=True, eq=False)
class ConditionResult:
    """One condition, in ohm; None where the data cannot say.

    Parameters
    ----------
    condition
        Label number.
    specimens, readings
        How many took part.
    value, uncertainty, low, high
        Median (log) or mean (linear) of the population with its interval.
    freedom
        Effective degrees of freedom.
    tolerance
        Upper bound below which at least CONTENT of next matings of next specimens lie, with the study's
        coverage as confidence.
    probability_within
        That the median or mean is within the limit.
    probability_over
        That the next mating of the next specimen is over the limit.
    estimate, parts
        The same on the scale of analysis, scatter alone, and what the meters add.
    """

    condition: int
    specimens: int
    readings: int
    value: float
    uncertainty: float | None
    low: float | None
    high: float | None
    freedom: float | None
    tolerance: float | None
    probability_within: float | None
    probability_over: float | None
    estimate: Estimate | None
    parts: tuple[MeterPart, ...]


def condition_result(
    measured: Measured, condition: int, limit: float | None, coverage: float
) -> ConditionResult:
    """Estimate one condition's population."""
    design = measured.design
    member = np.flatnonzero(design.condition == condition)
    specimens = len(np.unique(design.specimen[member]))
    parts = meter_parts(measured, member)
    if measured.engine is None:
        return _meters_only(measured, condition, specimens, member, parts, limit, coverage)
    estimate = condition_mean(measured.engine, condition)
    total = with_meters(estimate, parts)
    value, uncertainty, (low, high) = to_ohm(measured.scale, total, coverage)
    bound = _on_scale(measured, limit)
    future = future_of(measured, condition) if specimens > 1 else None
    return ConditionResult(
        condition,
        specimens,
        len(member),
        value,
        uncertainty,
        low,
        high,
        total.freedom,
        _tolerance(measured, future, coverage) if future else None,
        _chance_within(total, bound),
        None if bound is None or future is None else chance_over(future, bound),
        estimate,
        parts,
    )


def _meters_only(
    measured: Measured,
    condition: int,
    specimens: int,
    member: Codes,
    parts: tuple[MeterPart, ...],
    limit: float | None,
    coverage: float,
) -> ConditionResult:
    """Without scatter to fit, the mean and the meters' uncertainty are all there is."""
    total = with_meters(_mean_alone(measured, member), parts)
    value, uncertainty, (low, high) = to_ohm(measured.scale, total, coverage)
    known = total.variance > 0
    within = _chance_within(total, _on_scale(measured, limit)) if known else None
    return ConditionResult(
        condition,
        specimens,
        len(member),
        value,
        uncertainty if known else None,
        low if known else None,
        high if known else None,
        None,
        None,
        within,
        None,
        None,
        parts,
    )


def chance_within(measured: Measured, condition: int, limit: float) -> float | None:
    """Probability that one condition's median or mean is within the limit (ohm); None where nothing is known of it."""
    member = np.flatnonzero(measured.design.condition == condition)
    engine = measured.engine
    estimate = _mean_alone(measured, member) if engine is None else condition_mean(engine, condition)
    total = with_meters(estimate, meter_parts(measured, member))
    if engine is None and total.variance == 0:
        return None
    return _chance_within(total, _on_scale(measured, limit))


def _mean_alone(measured: Measured, member: Codes) -> Estimate:
    """The mean of observations whose scatter is not known."""
    return Estimate(float(measured.design.y[member].mean()), 0.0, np.inf)


def _chance_within(total: Estimate, bound: float | None) -> float | None:
    if bound is None:
        return None
    return 1 - probability_over(total.value, total.variance, total.freedom, bound)


def _on_scale(measured: Measured, limit: float | None) -> float | None:
    if limit is None:
        return None
    return float(np.log(limit)) if measured.scale == "log" else limit


def future_of(measured: Measured, condition: int) -> Future | None:
    """What is known of one future mating of one future specimen, on the scale of analysis."""
    design, engine = measured.design, measured.engine
    if engine is None:
        return None
    estimate = condition_mean(engine, condition)
    total = with_meters(estimate, meter_parts(measured, np.flatnonzero(design.condition == condition)))
    cell, size = cells_of(design)
    mine = design.condition[np.unique(cell, return_index=True)[1]] == condition
    inside = {
        level: float(share[mine].mean()) for level, share in variance_shares(design, cell, size).items()
    }
    known = max(total.variance - estimate.variance, 0.0)
    nested = future_value(engine, condition, inside, total.value, known)
    return nested or _crossed_future(engine, condition, total)


def _crossed_future(engine: Engine, condition: int, total: Estimate) -> Future | None:
    """Where specimens are no level of their own: the sum of all variances, as if it were one mean square (Satterthwaite).

    Reading scatter is the meters' affair, not the contact's; it is left out where it can be told apart.
    """
    names = [level.name for level in engine.design.levels]
    kept = [name for name in names if name != "reading"] or names
    for chosen in (kept, names):
        weights = np.array(
            [float(c.level in chosen and c.condition in (None, condition)) for c in engine.fit.components]
        )
        variance = float(weights @ engine.fit.variance)
        if variance > 0 and total.variance > 0:
            freedom = max(variance_freedom(engine.parts, weights, variance), 1.0)
            return Future(total.value, variance, freedom, variance / total.variance, 0.0, np.inf, 0.0)
    return None


def _tolerance(measured: Measured, future: Future, coverage: float) -> float:
    bound = upper_bound(future, CONTENT, coverage)
    return float(np.exp(min(bound, 700.0)) if measured.scale == "log" else bound)
