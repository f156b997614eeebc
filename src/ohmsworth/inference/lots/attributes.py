"""Plans that count: draw a sample, accept the lot when few enough of it are bad.

The number of bad ones in a sample is hypergeometric when the size of the lot is given, binomial for a running supply.
A double plan decides at once on a clearly good or clearly bad first sample and draws a second one otherwise.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike
from scipy import stats

from ohmsworth.errors import ArgumentFault
from ohmsworth.readings.table import Array

#: A plan of more than this is none for a shop; the shares asked for lie too close together.
MOST_DRAWN = 5000
#: Single plans that accept more than this are large already; no double plan is looked for beside them.
MOST_ACCEPTED = 20
#: Shares are whole numbers of pieces; a product such as 0.06 × 50 must not fall short of 3 by rounding.
_HAIR = 1e-9


@dataclass(frozen=True, slots=True)
class SinglePlan:
    """Draw `sample`; accept the lot when at most `accepted` of them are bad."""

    sample: int
    accepted: int


@dataclass(frozen=True, slots=True)
class DoublePlan:
    """Draw `sample`: accept at most `accepted` bad, reject from `rejected` on; else draw `second` more.

    After both, accept when at most `accepted_both` are bad in all.
    """

    sample: int
    accepted: int
    rejected: int
    second: int
    accepted_both: int


def accept_single(plan: SinglePlan, share: ArrayLike, size: int | None = None) -> Array:
    """Chance that a lot is accepted: the operating-characteristic curve.

    Parameters
    ----------
    plan
        The sample and the acceptance number.
    share
        Share of bad pieces, 0 to 1. In a lot of given size the nearest whole number of them.
    size
        Size of the lot; None for a supply without end.

    Notes
    -----
    Exact: hypergeometric or binomial distribution (ISO 2859-1, 105E use the binomial).
    """
    share = np.asarray(share, float)
    if size is None:
        return np.asarray(stats.binom.cdf(plan.accepted, plan.sample, share))
    return _accept_of(plan, np.rint(share * size), size)


def _accept_of(plan: SinglePlan, bad: ArrayLike, size: int) -> Array:
    return np.asarray(stats.hypergeom.cdf(plan.accepted, size, np.asarray(bad, int), plan.sample))


def _at_ends(plan: SinglePlan, shares: tuple[float, float], size: int | None) -> tuple[float, float]:
    """Chance to accept at the acceptable share (rounded down to pieces) and the rejectable one (rounded up)."""
    if size is None:
        return float(accept_single(plan, shares[0])), float(accept_single(plan, shares[1]))
    bad = _pieces(shares, size)
    return float(_accept_of(plan, bad[0], size)), float(_accept_of(plan, bad[1], size))


def _pieces(shares: tuple[float, float], size: int) -> tuple[int, int]:
    return math.floor(shares[0] * size + _HAIR), math.ceil(shares[1] * size - _HAIR)


def design_single(shares: tuple[float, float], risks: tuple[float, float], size: int | None) -> SinglePlan:
    """The smallest single plan that holds both risks.

    Parameters
    ----------
    shares
        Acceptable and rejectable share of bad pieces.
    risks
        Producer's risk: that a lot with the acceptable share is rejected; consumer's: that one with the rejectable
        share is accepted. Both are held, not only approached.
    size
        Size of the lot, or None.

    Raises
    ------
    ArgumentFault
        When no plan of up to MOST_DRAWN pieces holds them.
    """
    refuse_unordered(shares, risks)
    most = MOST_DRAWN if size is None else size
    for accepted in range(most):
        plan = _smallest_sample(accepted, shares, risks[1], size, most)
        if plan is None:
            break
        if _at_ends(plan, shares, size)[0] >= 1 - risks[0] - _HAIR:
            return plan
    if size is not None:
        return SinglePlan(size, _pieces(shares, size)[0])  # every piece: no risk is left
    raise ArgumentFault("shares", shares, f"so far apart that {MOST_DRAWN} pieces tell them apart")


def _smallest_sample(
    accepted: int, shares: tuple[float, float], consumer: float, size: int | None, most: int
) -> SinglePlan | None:
    low, high = accepted, most  # the chance falls as the sample grows
    if _at_ends(SinglePlan(high, accepted), shares, size)[1] > consumer:
        return None
    while high - low > 1:
        middle = (low + high) // 2
        held = _at_ends(SinglePlan(middle, accepted), shares, size)[1] <= consumer
        low, high = (low, middle) if held else (middle, high)
    return SinglePlan(high, accepted)


def largest_accepted(sample: int, share: float, risk: float, size: int | None) -> int:
    """The acceptance number for a sample of any size that still holds the consumer's risk; −1 when none does."""
    accepted = -1
    while accepted < sample - 1:
        plan = SinglePlan(sample, accepted + 1)
        if _at_ends(plan, (0.0, share), size)[1] > risk:
            break
        accepted += 1
    return accepted


def refuse_unordered(shares: tuple[float, float], risks: tuple[float, float]) -> None:
    """Refuse shares that are not in order and risks that are none."""
    if not 0 <= shares[0] < shares[1] < 1:
        raise ArgumentFault("shares", shares, "acceptable below rejectable, both from 0 to 1")
    if not all(0 < risk < 0.5 for risk in risks):
        raise ArgumentFault("risks", risks, "between 0 and one half")


def accept_double(plan: DoublePlan, share: ArrayLike, size: int | None = None) -> Array:
    """Chance that a double plan accepts a lot with `share` of bad pieces (as in :func:`accept_single`)."""
    share = np.asarray(share, float)
    total = np.asarray(accept_single(SinglePlan(plan.sample, plan.accepted), share, size))
    for found in range(plan.accepted + 1, plan.rejected):
        left = plan.accepted_both - found
        if left < 0:
            continue
        total = total + _found(plan.sample, found, share, size) * _second(plan, found, left, share, size)
    return np.asarray(total)


def _found(sample: int, found: int, share: Array, size: int | None) -> Array:
    """Chance of exactly `found` bad pieces in the first sample."""
    if size is None:
        return np.asarray(stats.binom.pmf(found, sample, share))
    return np.asarray(stats.hypergeom.pmf(found, size, np.rint(share * size).astype(int), sample))


def _second(plan: DoublePlan, found: int, left: int, share: Array, size: int | None) -> Array:
    """Chance of at most `left` bad pieces in the second sample, drawn from what the first one left over."""
    if size is None:
        return np.asarray(stats.binom.cdf(left, plan.second, share))
    bad = np.clip(np.rint(share * size).astype(int) - found, 0, size - plan.sample)
    return np.asarray(stats.hypergeom.cdf(left, size - plan.sample, bad, plan.second))


def average_sample(plan: DoublePlan, share: ArrayLike, size: int | None = None) -> Array:
    """Pieces that a double plan draws on average: the first sample, and the second where it is needed."""
    share = np.asarray(share, float)
    open_after_first = sum(
        (_found(plan.sample, found, share, size) for found in range(plan.accepted + 1, plan.rejected)),
        np.zeros_like(share),
    )
    return np.asarray(plan.sample + plan.second * open_after_first)


def design_double(shares: tuple[float, float], risks: tuple[float, float], size: int | None) -> DoublePlan:
    """The double plan of two equal samples that draws least on average from a lot with the acceptable share.

    It holds both risks. `shares`, `risks` and `size` as in :func:`design_single`, whose plan (as a double plan that
    never needs its second sample) is taken where no double plan draws less, or it accepts more than MOST_ACCEPTED.
    """
    single = design_single(shares, risks, size)
    best = DoublePlan(single.sample, single.accepted, single.accepted + 1, 0, single.accepted)
    if single.accepted > MOST_ACCEPTED:
        return best
    least = float(single.sample)
    for accepted in range(single.accepted + 1):
        for both in range(accepted + 1, single.accepted + 3):
            plan = _smallest_double(accepted, both, shares, risks, size, single.sample)
            if plan is None:
                continue
            drawn = float(average_sample(plan, _low(shares, size), size))
            if drawn < least - _HAIR:
                best, least = plan, drawn
    return best


def _low(shares: tuple[float, float], size: int | None) -> float:
    return shares[0] if size is None else _pieces(shares, size)[0] / size


def _high(shares: tuple[float, float], size: int | None) -> float:
    return shares[1] if size is None else _pieces(shares, size)[1] / size


def _smallest_double(
    accepted: int,
    both: int,
    shares: tuple[float, float],
    risks: tuple[float, float],
    size: int | None,
    most: int,
) -> DoublePlan | None:
    """The smallest equal samples with these acceptance numbers that hold both risks; None when there are none."""

    def plan_of(sample: int) -> DoublePlan:
        return DoublePlan(sample, accepted, both + 1, sample, both)

    def accepts_bad(sample: int) -> bool:
        return float(accept_double(plan_of(sample), _high(shares, size), size)) > risks[1]

    low, high = accepted, most if size is None else min(most, size // 2)
    if high <= low or accepts_bad(high):
        return None
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if accepts_bad(middle) else (low, middle)
    good = float(accept_double(plan_of(high), _low(shares, size), size))
    return plan_of(high) if good >= 1 - risks[0] - _HAIR else None
