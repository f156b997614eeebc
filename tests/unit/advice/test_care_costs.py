"""Costs with their intervals: at the mean chances they are the courses' own, and they narrow with what the records say."""

from dataclasses import replace

import numpy as np
import pytest
from scipy import stats
from tests.unit.advice.remedy import remedy

from ohmsworth.advice.care_costs import DRAWS, cost_ranges, expected_cost
from ohmsworth.advice.courses import Prices, best_courses
from ohmsworth.inference.outcomes import Outcomes

PRICES = Prices(labour=60.0, failure=90.0, retest_minutes=2.0)
REMEDIES = (remedy("a", 2.0, 0.0, 0.5, 0.1), remedy("b", 10.0, 3.0, 0.8))


@pytest.mark.parametrize("chance", [0.0, 0.3, 1.0])
def test_at_the_mean_chances_the_cost_is_that_of_the_course(chance: float) -> None:
    means = {one.name: np.array([one.chance.mean]) for one in REMEDIES}
    for course in best_courses(chance, REMEDIES, PRICES):
        found = expected_cost(course.names, chance, REMEDIES, PRICES, means)
        assert float(np.broadcast_to(found, 1)[0]) == pytest.approx(course.costs.total, rel=1e-12)


def test_the_interval_is_that_of_a_straight_line_in_one_chance() -> None:
    """By hand: one remedy, sure to matter: c + (1 − q) F, so the ends follow from the Beta distribution's own."""
    one = replace(REMEDIES[0], seen=Outcomes(3, 7), harm=0.0)
    (found,) = cost_ranges([("a",)], 1.0, (one,), PRICES, 1, 0.9)
    low, high = stats.beta.ppf([0.05, 0.95], 1 + 3, 1 + 4)
    cost = 4 / 60 * 60.0
    assert found.low == pytest.approx(cost + (1 - high) * 90, rel=0.05)
    assert found.high == pytest.approx(cost + (1 - low) * 90, rel=0.05)
    assert found.cheapest == 1


def test_leaving_it_has_no_interval_and_the_shares_add_up() -> None:
    courses = [(), ("measure again", "a", "b"), ("a", "b"), ("b", "a")]
    found = cost_ranges(courses, 0.4, REMEDIES, PRICES, 1)
    assert found[0].low == found[0].high == pytest.approx(36.0)
    assert sum(one.cheapest for one in found) == pytest.approx(1)
    assert DRAWS > 1000


def test_more_cases_narrow_the_interval() -> None:
    few, many = (
        cost_ranges([("a",)], 1.0, (replace(REMEDIES[0], seen=Outcomes(n, 2 * n)),), PRICES, 1)[0]
        for n in (2, 200)
    )
    assert many.high - many.low < 0.2 * (few.high - few.low)


def test_nothing_to_do_is_left() -> None:
    (found,) = cost_ranges([()], 0.5, (), PRICES, 1)
    assert found.low == found.high == 45.0
