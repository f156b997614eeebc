"""Accept, reject, or not yet: the verdict on a lot with the uncertainty of its measurements taken in.

Counting: a piece that is too close to the limit to call is counted both ways; the lot is accepted when it would be with all of
them bad, rejected when it would be with all of them good. Measuring: the mean is moved by the guard band towards the limit to
accept, away from it to reject; the observed standard deviation holds the measurement's own scatter to accept (that is on the
buyer's side), and is freed of it to reject.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ohmsworth.inference.lots.attributes import DoublePlan, SinglePlan, largest_accepted
from ohmsworth.inference.lots.variables import VariablesPlan, acceptability_constant

ACCEPT, REJECT, NOT_YET = "accept", "reject", "cannot tell yet"


@dataclass(frozen=True, slots=True)
class Counted:
    """Pieces measured so far, by their own verdicts."""

    within: int
    over: int
    close: int

    @property
    def measured(self) -> int:
        """How many in all."""
        return self.within + self.over + self.close


@dataclass(frozen=True, slots=True)
class LotVerdict:
    """The verdict, how many more pieces it needs, and the number (acceptance number or k) that it was held against.

    `why` is "" for a verdict; else "sample" (too few measured), "close" (pieces too close to call), "meter" (the part that all
    readings share), "scatter" (matings and readings) or "moving" (readings that do not settle).
    """

    verdict: str
    more: int
    number: float
    why: str = ""


def judge_counts(
    found: Counted,
    plan: SinglePlan | DoublePlan,
    shares: tuple[float, float],
    risks: tuple[float, float],
    size: int | None,
) -> LotVerdict:
    """Judge a lot by counting.

    A sample larger than planned is held against the largest acceptance number that keeps the consumer's risk.
    """
    n = found.measured
    if isinstance(plan, DoublePlan) and plan.second > 0:
        if plan.sample <= n < plan.sample + plan.second:
            return _between_samples(found, plan)
        whole = SinglePlan(plan.sample + plan.second, plan.accepted_both)
    else:
        whole = SinglePlan(plan.sample, plan.accepted)
    allowed = whole.accepted
    if n > whole.sample:
        allowed = max(allowed, largest_accepted(n, shares[1], risks[1], size))
    if found.over > allowed:
        return LotVerdict(REJECT, 0, allowed)
    first = plan.sample
    if n < first:
        return LotVerdict(NOT_YET, first - n, allowed, "sample")
    if found.over + found.close <= allowed:
        return LotVerdict(ACCEPT, 0, allowed)
    return LotVerdict(NOT_YET, 0, allowed, "close")


def undecided_by_movement(found: LotVerdict) -> LotVerdict:
    """What is left of a verdict where the readings do not settle: an incomplete sample stays one, the rest is open."""
    return found if found.why == "sample" else LotVerdict(NOT_YET, 0, found.number, "moving")


def _between_samples(found: Counted, plan: DoublePlan) -> LotVerdict:
    """After the first sample of a double plan, before the second is complete."""
    left = plan.sample + plan.second - found.measured
    if found.over >= plan.rejected:
        return LotVerdict(REJECT, 0, plan.rejected - 1)
    if found.measured == plan.sample:
        if found.over + found.close <= plan.accepted:
            return LotVerdict(ACCEPT, 0, plan.accepted)
        if found.over <= plan.accepted:
            return LotVerdict(NOT_YET, 0, plan.accepted, "close")
    return LotVerdict(NOT_YET, left, plan.accepted_both, "sample")


@dataclass(frozen=True, slots=True)
class Values:
    """A sample of values on the scale of analysis.

    Parameters
    ----------
    mean, deviation
        Of the sample.
    sample
        How many pieces.
    shared
        Guard band for what all readings share.
    noise
        Standard deviation of the measurement in one piece's value.
    """

    mean: float
    deviation: float
    sample: int
    shared: float
    noise: float

    def distance(self, limit: float) -> float:
        """From mean to limit in observed standard deviations, nothing taken off."""
        return _ratio(limit - self.mean, self.deviation)

    def ends(self, limit: float) -> tuple[float, float]:
        """The same at its least and at its most, with the measurement's part for and against."""
        true = np.sqrt(max(self.deviation**2 - self.noise**2, 0.0))
        room = limit - self.mean
        return _ratio(room - self.shared, self.deviation), _ratio(room + self.shared, float(true))


def _ratio(room: float, deviation: float) -> float:
    if deviation > 0:
        return room / deviation
    return float(np.copysign(np.inf, room)) if room else 0.0


def judge_values(
    found: Values,
    plan: VariablesPlan,
    limit: float,
    shares: tuple[float, float],
    risks: tuple[float, float],
) -> LotVerdict:
    """Judge a lot by mean and standard deviation; `limit` is an upper one, on the scale of analysis."""
    if found.sample < plan.sample:
        return LotVerdict(NOT_YET, plan.sample - found.sample, plan.k, "sample")
    k = acceptability_constant(found.sample, shares, risks)
    k = plan.k if k is None else k
    least, most = found.ends(limit)
    if least >= k:
        return LotVerdict(ACCEPT, 0, k)
    if most < k:
        return LotVerdict(REJECT, 0, k)
    without_meter = Values(found.mean, found.deviation, found.sample, 0.0, 0.0)
    by_meter = found.shared > 0 and without_meter.distance(limit) >= k
    return LotVerdict(NOT_YET, 0, k, "meter" if by_meter else "scatter")
