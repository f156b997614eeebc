"""Plans that measure: accept when the mean lies far enough below the limit, in standard deviations (s-method).

With mean m and standard deviation s of n values that are normal on the scale of analysis, the lot is accepted when
(limit − m)/s is at least k. Its chance to be accepted follows from the non-central t distribution with n − 1 degrees
of freedom; a share p over the limit has the non-centrality z(1 − p) √n.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike
from scipy import stats

from ohmsworth.errors import ArgumentFault
from ohmsworth.inference.lots.attributes import MOST_DRAWN, refuse_unordered
from ohmsworth.readings.table import Array


@dataclass(frozen=True, slots=True)
class VariablesPlan:
    """Draw `sample`; accept when the mean is at least `k` standard deviations below the limit."""

    sample: int
    k: float


def accept_variables(plan: VariablesPlan, share: ArrayLike) -> Array:
    """Chance that a lot with `share` of pieces over the limit is accepted (a supply without end).

    Exact for normal values. Source: MIL-STD-414, ISO 3951-1; non-central t.
    """
    share = np.asarray(share, float)
    root = np.sqrt(plan.sample)
    with np.errstate(divide="ignore"):
        shift = stats.norm.isf(share) * root
    usable = np.isfinite(shift)
    found = stats.nct.sf(plan.k * root, plan.sample - 1, np.where(usable, shift, 0.0))
    return np.asarray(np.where(usable, found, (share < 0.5).astype(float)))


def acceptability_constant(
    sample: int, shares: tuple[float, float], risks: tuple[float, float]
) -> float | None:
    """The constant k for a sample of any size: half-way between what each risk allows.

    None when the sample is too small to hold both risks.
    """
    lowest, highest = _ends(sample, shares, risks)
    return (lowest + highest) / 2 if lowest <= highest else None


def _ends(sample: int, shares: tuple[float, float], risks: tuple[float, float]) -> tuple[float, float]:
    """The least k that holds the consumer's risk and the largest that holds the producer's."""
    root, freedom = np.sqrt(sample), sample - 1
    good, bad = stats.norm.isf(shares[0]) * root, stats.norm.isf(shares[1]) * root
    return (
        float(stats.nct.isf(risks[1], freedom, bad) / root),
        float(stats.nct.ppf(risks[0], freedom, good) / root),
    )


def design_variables(
    shares: tuple[float, float], risks: tuple[float, float], size: int | None = None
) -> VariablesPlan:
    """The smallest s-method plan that holds both risks.

    `shares` and `risks` as for a plan that counts. A lot of `size` pieces that is too small for the sample has to be
    measured whole, which needs no plan.

    Raises
    ------
    ArgumentFault
        When the plan would draw more than MOST_DRAWN pieces, or the whole lot and more.
    """
    refuse_unordered(shares, risks)
    if shares[0] == 0:
        raise ArgumentFault("shares", shares, "an acceptable share above zero: a normal scatter has no end")
    most = MOST_DRAWN if size is None else min(size, MOST_DRAWN)
    low, high = 1, most
    if most < 2 or acceptability_constant(most, shares, risks) is None:
        raise ArgumentFault("shares", shares, f"so far apart that {most} pieces tell them apart")
    while high - low > 1:
        middle = (low + high) // 2
        held = acceptability_constant(middle, shares, risks) is not None
        low, high = (low, middle) if held else (middle, high)
    k = acceptability_constant(high, shares, risks)
    assert k is not None
    return VariablesPlan(high, k)
