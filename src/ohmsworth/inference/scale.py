"""From the scale of analysis back to ohms: differences and ratios with their intervals.

On the logarithmic scale a difference of means is a ratio of medians; the difference in ohm then follows by
combining the two medians' own intervals (Donner & Zou). On the linear scale it is the other way round, and the
ratio comes from Fieller's theorem.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from scipy import stats

from ohmsworth.inference.estimate import Estimate
from ohmsworth.readings.study import Scale

Interval = tuple[float, float]


def to_ohm(scale: Scale, estimate: Estimate, coverage: float) -> tuple[float, float, Interval]:
    """Median (log) or mean (linear), its standard uncertainty and interval, in ohm."""
    low, high = estimate.interval(coverage)
    if scale == "linear":
        return estimate.value, estimate.standard_error, (low, high)
    value = float(np.exp(estimate.value))
    return value, value * estimate.standard_error, (antilog(low), antilog(high))


def difference_in_ohm(
    scale: Scale, first: Estimate, second: Estimate, between: Estimate, coverage: float
) -> tuple[float, Interval]:
    """First minus second in ohm with its interval."""
    if scale == "linear":
        return between.value, between.interval(coverage)
    a, b = antilog(first.value), antilog(second.value)
    # One factor for all three, that of the comparison, so that the pieces fit together.
    half = float(stats.t.ppf((1 + coverage) / 2, between.freedom))
    correlation = _correlation(first, second, between)
    ends = [
        (antilog(e.value - half * e.standard_error), antilog(e.value + half * e.standard_error))
        for e in (first, second)
    ]
    low = a - b - _mover(a - ends[0][0], ends[1][1] - b, correlation)
    high = a - b + _mover(ends[0][1] - a, b - ends[1][0], correlation)
    return a - b, (low, high)


def ratio(
    scale: Scale,
    first: Estimate,
    second: Estimate,
    between: Estimate,
    coverage: float,
    scatter: tuple[Estimate, Estimate, Estimate] | None = None,
) -> tuple[float | None, Interval | None]:
    """First divided by second, with its interval (None where the data allow no finite one).

    `scatter` holds the same three without the meters' parts, for the degrees of freedom; None where no meter
    has a part in them.
    """
    if scale == "log":
        low, high = between.interval(coverage)
        return antilog(between.value), (antilog(low), antilog(high))
    if second.value == 0:
        return None, None
    times = first.value / second.value
    if scatter is not None:
        # Of first − ρ second, in which a gain common to both has no part (and adds no freedom).
        whole = _spread_at(times, first, second, between)
        share = _spread_at(times, *scatter) / whole if whole > 0 else 1.0
        between = replace(between, freedom=scatter[2].freedom / share**2 if share > 0 else np.inf)
    return times, _fieller(first, second, between, coverage)


def _spread_at(rho: float, first: Estimate, second: Estimate, between: Estimate) -> float:
    """Variance of first − ρ second."""
    return rho * between.variance + (1 - rho) * (first.variance - rho * second.variance)


def antilog(value: float) -> float:
    """exp(value), as large as numbers go."""
    return float(np.exp(min(value, 700.0)))


def _correlation(first: Estimate, second: Estimate, between: Estimate) -> float:
    spread = 2 * first.standard_error * second.standard_error
    if spread == 0:
        return 0.0
    correlation = (first.variance + second.variance - between.variance) / spread
    return float(np.clip(correlation, -1, 1))


def _mover(one: float, other: float, correlation: float) -> float:
    size = max(abs(one), abs(other))  # squared after division: bounds may be as large as numbers go
    if size == 0:
        return 0.0
    a, b = one / size, other / size
    return size * float(np.sqrt(max(a**2 + b**2 - 2 * correlation * a * b, 0.0)))


def _fieller(first: Estimate, second: Estimate, between: Estimate, coverage: float) -> Interval | None:
    t2 = float(stats.t.ppf((1 + coverage) / 2, between.freedom)) ** 2
    covariance = (first.variance + second.variance - between.variance) / 2
    a = second.value**2 - t2 * second.variance
    if a <= 0:
        return None
    b = first.value * second.value - t2 * covariance
    c = first.value**2 - t2 * first.variance
    root = b**2 - a * c
    if root < 0:
        return None
    return float((b - np.sqrt(root)) / a), float((b + np.sqrt(root)) / a)
