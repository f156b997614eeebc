"""The charts themselves: single values, moving ranges, EWMA and two-sided CUSUM of one check standard.

Centre and standard deviation come from the first checks: the mean, and the mean moving range over d2(2) = 2/√π,
which a slow drift among them does not inflate.

Individuals  centre ± 3σ
Range        |xᵢ − xᵢ₋₁|, up to (1 + 3 d3/d2) times the mean range
EWMA         zᵢ = λxᵢ + (1 − λ)zᵢ₋₁, z₀ the centre; centre ± Lσ √(λ/(2−λ) (1 − (1−λ)²ⁱ))
CUSUM        C₊ᵢ = max(0, C₊ᵢ₋₁ + (xᵢ − centre)/σ − k), C₋ likewise; both up to h

Sources: ISO7870-2, NIST-handbook.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ohmsworth.errors import ArgumentFault
from ohmsworth.inference.control.constants import d2, d3
from ohmsworth.readings.table import Array

#: Individuals' limits in standard deviations.
WIDTH = 3.0
#: EWMA: weight of the newest check, and limits in its standard deviations.
WEIGHT, EWMA_WIDTH = 0.2, 2.86
#: CUSUM: slack and decision interval in standard deviations.
SLACK, DECISION = 0.5, 5.0


@dataclass(frozen=True, slots=True)
class Limits:
    """Centre and standard deviation of one check, the mean moving range, and from how many checks."""

    centre: float
    deviation: float
    range: float
    first: int


@dataclass(frozen=True, slots=True, eq=False)
class Individuals:
    """Values with their limits; `beyond` says which lie outside."""

    value: Array
    lower: float
    upper: float
    beyond: np.ndarray


@dataclass(frozen=True, slots=True, eq=False)
class Ewma:
    """The weighted average after each check with limits that widen to their steady width."""

    value: Array
    lower: Array
    upper: Array
    beyond: np.ndarray


@dataclass(frozen=True, slots=True, eq=False)
class Cusum:
    """Both sums after each check, in standard deviations, and the decision interval."""

    above: Array
    below: Array
    decision: float
    beyond: np.ndarray


def limits_from(values: Array, first: int) -> Limits:
    """Centre and standard deviation from the `first` of the `values` (two or more)."""
    if not 2 <= first <= len(values):
        raise ArgumentFault("first", first, f"2 to {len(values)}")
    begun = np.asarray(values[:first], float)
    mean_range = float(np.abs(np.diff(begun)).mean())
    return Limits(float(begun.mean()), mean_range / d2(2), mean_range, first)


def individuals(values: Array, limits: Limits, width: float = WIDTH) -> Individuals:
    """Single values against centre ± `width` standard deviations."""
    reach = width * limits.deviation
    lower, upper = limits.centre - reach, limits.centre + reach
    return Individuals(values, lower, upper, (values < lower) | (values > upper))


def moving_ranges(values: Array, limits: Limits) -> Individuals:
    """Step from each check to the next; the first has none (NaN)."""
    step = np.append(np.nan, np.abs(np.diff(values)))
    upper = limits.range * (1 + 3 * d3(2) / d2(2))
    return Individuals(step, 0.0, upper, step > upper)


def ewma(values: Array, limits: Limits, weight: float = WEIGHT, width: float = EWMA_WIDTH) -> Ewma:
    """Exponentially weighted moving average, begun at the centre."""
    if not 0 < weight <= 1:
        raise ArgumentFault("weight", weight, "more than 0, at most 1")
    average, found = limits.centre, np.empty(len(values))
    for i, value in enumerate(values.tolist()):
        average = weight * value + (1 - weight) * average
        found[i] = average
    turns = np.arange(1, len(values) + 1)
    spread = np.sqrt(weight / (2 - weight) * (1 - (1 - weight) ** (2 * turns)))
    lower, upper = (limits.centre + way * width * limits.deviation * spread for way in (-1, 1))
    return Ewma(found, lower, upper, (found < lower) | (found > upper))


def cusum(values: Array, limits: Limits, slack: float = SLACK, decision: float = DECISION) -> Cusum:
    """Two-sided cumulative sum of standardised values, begun at zero."""
    if limits.deviation <= 0:
        raise ArgumentFault("limits", "a standard deviation of zero", "checks that differ")
    step = (values - limits.centre) / limits.deviation
    above, below = np.empty(len(step)), np.empty(len(step))
    up = down = 0.0
    for i, z in enumerate(step.tolist()):
        up, down = max(0.0, up + z - slack), max(0.0, down - z - slack)
        above[i], below[i] = up, down
    return Cusum(above, below, decision, (above > decision) | (below > decision))
