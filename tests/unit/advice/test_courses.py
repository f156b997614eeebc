"""The cheapest course: against every order there is, a published rule, and drawing."""

from itertools import permutations

import numpy as np
import pytest
from tests.unit.advice.remedy import remedy

from ohmsworth.advice.courses import MEASURE, Prices, best_courses, pays_above
from ohmsworth.advice.remedies import Remedy
from ohmsworth.errors import ArgumentFault

PRICES = Prices(labour=60.0, failure=90.0, retest_minutes=2.0)


def spent_on(order: tuple[Remedy, ...], p: float, prices: Prices) -> float:
    """Expected cost of one order, to the end, by plain summing over where it stops."""
    if not order:
        return p * prices.failure
    cost, bad, first = 0.0, 1.0, True
    for one in order:
        cost += bad * ((one.minutes + prices.retest_minutes) / 60 * prices.labour + one.material)
        bad *= (p * (1 - one.chance.mean) + (1 - p) * one.harm) if first else 1 - one.chance.mean
        first = False
    return cost + bad * prices.failure


def some_remedies(seed: int, number: int) -> list[Remedy]:
    rng = np.random.default_rng(seed)
    return [
        remedy(f"R{i}", rng.uniform(1, 20), rng.uniform(0, 30), rng.uniform(0.1, 0.95), rng.uniform(0, 0.1))
        for i in range(number)
    ]


@pytest.mark.parametrize("seed", range(12))
def test_no_order_is_cheaper(seed: int) -> None:
    remedies = some_remedies(seed, 4)
    p = float(np.random.default_rng(100 + seed).uniform())
    found = best_courses(p, remedies, PRICES)
    orders = [order for k in range(5) for order in permutations(remedies, k)]
    # Measuring again is a remedy that takes no time of its own and never helps.
    nothing = remedy(MEASURE, 0.0, 0.0, 1e-12)
    orders += [(nothing, *order) for order in orders]
    assert found[0].costs.total == pytest.approx(min(spent_on(order, p, PRICES) for order in orders))
    by_name = {one.name: one for one in (nothing, *remedies)}
    for course in found:
        order = tuple(by_name[name] for name in course.names)
        assert course.costs.total == pytest.approx(spent_on(order, p, PRICES))
        same_start = [o for o in orders if o[:1] == order[:1]]
        assert course.costs.total == pytest.approx(min(spent_on(o, p, PRICES) for o in same_start))


def test_with_failing_beyond_all_price_the_order_is_by_cost_over_chance() -> None:
    """Source: least-cost-testing (memory): the smallest (cost)/(chance of success) first."""
    seen = set()
    for seed in range(8):
        remedies = [
            remedy(one.name, one.minutes, one.material, one.chance.mean) for one in some_remedies(seed, 6)
        ]
        prices = Prices(60.0, 1e7, 2.0)
        found = best_courses(1.0, remedies, prices)[0].names
        key = {one.name: (one.minutes + 2.0 + one.material) / one.chance.mean for one in remedies}
        assert found == tuple(sorted(key, key=lambda name: key[name]))
        seen.add(found)
    assert len(seen) > 4


def test_costs_by_drawing() -> None:
    """What a shop would spend on 2 000 000 such contacts."""
    remedies = [remedy("wipe", 3, 0.5, 0.5, 0.05), remedy("replace", 20, 12, 0.95)]
    found = next(c for c in best_courses(0.6, remedies, PRICES) if c.names == ("wipe", "replace"))
    rng = np.random.default_rng(8)
    draw = rng.uniform(size=(4, 2_000_000))
    bad = np.where(draw[0] < 0.6, draw[1] > 0.5, draw[1] < 0.05)
    ends_bad = bad & (draw[3] > 0.95)
    assert found.costs.labour + found.costs.material == pytest.approx(5.5)
    assert found.costs.further == pytest.approx((bad * 34.0).mean(), rel=0.01)
    assert found.costs.failing == pytest.approx((ends_bad * 90.0).mean(), rel=0.02)
    assert found.chance_bad == pytest.approx(ends_bad.mean(), rel=0.02)


@pytest.mark.parametrize("seed", range(6))
def test_it_pays_from_where_it_costs_the_same_as_leaving(seed: int) -> None:
    remedies = some_remedies(seed, 3)
    prices = Prices(20.0, 90.0, 2.0)
    paying = 0
    for name in (MEASURE, *(one.name for one in remedies)):
        p = pays_above(name, remedies, prices)
        if p is None:
            sure = next(c for c in best_courses(1.0, remedies, prices) if c.names[:1] == (name,))
            assert sure.costs.total >= prices.failure
            continue
        paying += 1
        course = next(c for c in best_courses(p, remedies, prices) if c.names[:1] == (name,))
        assert course.costs.total == pytest.approx(p * prices.failure)
    assert paying > 0


def test_break_even_of_one_remedy_in_closed_form() -> None:
    """Work and test cost 8, q = 0.8, F = 90, no harm: p = (c + t)/(q F), for nothing follows but to stop."""
    one = remedy("clean", 6, 0.0, 0.8)
    assert pays_above("clean", [one], PRICES) == pytest.approx(8 / (0.8 * 90))
    assert pays_above("clean", [one], Prices(60.0, 9.0, 2.0)) is None


def test_a_contact_that_cannot_matter_is_left_alone() -> None:
    found = best_courses(0.0, some_remedies(1, 4), PRICES)[0]
    assert found.names == ()
    assert found.costs.total == 0


def test_wrong_arguments_are_refused() -> None:
    one = remedy("wipe", 3, 0.5, 0.5)
    with pytest.raises(ArgumentFault):
        best_courses(1.1, [one], PRICES)
    with pytest.raises(ArgumentFault):
        best_courses(0.5, [one, one], PRICES)
    with pytest.raises(ArgumentFault):
        Prices(-1.0, 0.0, 0.0)
