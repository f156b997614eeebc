"""How sure the expected cost of a course is, where the chances that remedies help are known from few cases.

For chances q of the remedies the expected cost of a course is that of `courses.py`, with the course as it stands. The chances are
drawn from what is known of each, Beta distributions, all remedies of all courses together; the interval holds the middle of the
costs that result. It says how far the *expected* cost may be off, not what one contact will cost.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from ohmsworth.advice.courses import MEASURE, Prices, labour_of
from ohmsworth.advice.remedies import Remedy
from ohmsworth.readings.table import Array

#: So many draws that the ends of an interval move by some hundredths of its width from seed to seed.
DRAWS = 4000


@dataclass(frozen=True, slots=True)
class CostRange:
    """How far the expected cost of one course may lie, and how often it is the cheapest of all that were asked about.

    Parameters
    ----------
    low, high
        In the shop's money.
    cheapest
        Share of the draws, 0 to 1; equals share it.
    """

    low: float
    high: float
    cheapest: float


def expected_cost(
    names: Sequence[str],
    chance_matters: float,
    remedies: Sequence[Remedy],
    prices: Prices,
    helps: Mapping[str, Array],
) -> Array:
    """Expected cost of a course for given chances that its remedies help.

    Parameters
    ----------
    names
        Of the course: remedies in their order, MEASURE perhaps before them; none is to leave it.
    chance_matters
        That the contact as found matters, 0 to 1.
    remedies, prices
        As in `best_courses`.
    helps
        Chance that each remedy helps by its name, arrays of one shape.
    """
    by_name = {one.name: one for one in remedies}
    shape = np.broadcast_shapes(*(np.shape(one) for one in helps.values()))
    value = np.full(shape, prices.failure)
    for name in reversed(names[1:]):
        one = by_name[name]
        value = labour_of(one, prices) + one.material + (1 - helps[name]) * value
    if not names:
        return chance_matters * value
    if names[0] == MEASURE:
        return prices.retest_minutes / 60 * prices.labour + chance_matters * value
    first = by_name[names[0]]
    bad = chance_matters * (1 - helps[first.name]) + (1 - chance_matters) * first.harm
    return np.asarray(labour_of(first, prices) + first.material + bad * value)


def cost_ranges(
    courses: Sequence[Sequence[str]],
    chance_matters: float,
    remedies: Sequence[Remedy],
    prices: Prices,
    seed: int,
    coverage: float = 0.95,
) -> tuple[CostRange, ...]:
    """How far the expected cost of each of some courses may lie.

    Parameters
    ----------
    courses
        Names of each, as in `expected_cost`.
    chance_matters, remedies, prices
        As there.
    seed
        Of the draws.
    coverage
        Of the intervals.
    """
    rng = np.random.default_rng(seed)
    helps: dict[str, Array] = {
        one.name: rng.beta(one.chance.for_it, one.chance.against_it, DRAWS) for one in remedies
    } or {"": np.zeros(DRAWS)}
    costs = np.array([expected_cost(names, chance_matters, remedies, prices, helps) for names in courses])
    least = costs <= costs.min(0) * (1 + 1e-12)
    shares = (least / least.sum(0)).mean(1)
    low, high = np.quantile(costs, [(1 - coverage) / 2, (1 + coverage) / 2], axis=1)
    return tuple(
        CostRange(float(a), float(b), float(share)) for a, b, share in zip(low, high, shares, strict=True)
    )
