"""The cheapest design is the cheapest: against looking at every design."""

import pytest

from ohmsworth.errors import ArgumentFault
from ohmsworth.inference.planning import (
    DETECT,
    EQUIVALENCE,
    LIMIT,
    Goal,
    Layout,
    Levels,
    Prices,
    best_within,
    chance_of,
    cheapest_options,
    minutes,
    smallest_p,
)

LEVELS = Levels(specimen=0.15, response=0.06, mating=0.12, reading=0.03)
GOALS = [
    Goal(DETECT, difference=0.25),
    Goal(DETECT, difference=0.25, paired=True),
    Goal(EQUIVALENCE, margins=(-0.3, 0.25), difference=0.05),
    Goal(LIMIT, room=0.7),
]


@pytest.mark.parametrize("goal", GOALS, ids=lambda g: f"{g.kind}{' paired' * g.paired}")
@pytest.mark.parametrize("prices", [(10, 2, 1), (1, 5, 1), (0, 1, 0)])
def test_no_design_with_the_chance_is_cheaper(goal: Goal, prices: tuple[float, float, float]) -> None:
    cost = Prices(*prices, conditions=1 if goal.kind == LIMIT else 2, paired=goal.paired)
    best = cheapest_options(lambda layout: chance_of(goal, LEVELS, layout), cost, 0.8, 40)[0]
    assert best.chance >= 0.8
    assert best.minutes == minutes(cost, best.layout)
    every = [Layout(n, m, r) for n in range(2, 41) for m in range(1, 7) for r in range(1, 5)]
    cheaper = [one for one in every if minutes(cost, one) < best.minutes - 1e-9]
    assert all(chance_of(goal, LEVELS, one) < 0.8 for one in cheaper)


def test_options_differ_in_matings_and_come_cheapest_first() -> None:
    found = cheapest_options(
        lambda layout: chance_of(GOALS[0], LEVELS, layout), Prices(10, 2, 1, 2, False), 0.8, 2000
    )
    assert [o.minutes for o in found] == sorted(o.minutes for o in found)
    assert len({o.layout.matings for o in found}) == len(found) == 6


def test_dear_specimens_ask_for_matings() -> None:
    def matings(price: float) -> int:
        cost = Prices(price, 1, 0.5, 2, False)
        return cheapest_options(lambda x: chance_of(GOALS[0], LEVELS, x), cost, 0.8, 99)[0].layout.matings

    assert matings(0) == 1
    assert matings(60) > 1


def test_what_specimens_there_are_is_not_exceeded() -> None:
    def chance(layout: Layout) -> float:
        return chance_of(GOALS[0], LEVELS, layout)

    cost = Prices(1, 1, 1, 2, False)
    assert all(o.layout.specimens <= 9 for o in cheapest_options(chance, cost, 0.8, 9))
    assert cheapest_options(chance, cost, 0.8, 2) == []
    assert cheapest_options(chance, cost, 0.8, 1) == []


def test_half_the_effort_is_spent_as_well_as_can_be() -> None:
    def chance(layout: Layout) -> float:
        return chance_of(GOALS[0], LEVELS, layout)

    cost = Prices(4, 2, 1, 2, False)
    found = best_within(chance, cost, 60, 2000)
    assert found is not None
    assert found.minutes <= 60
    every = [Layout(n, m, r) for n in range(2, 20) for m in range(1, 7) for r in range(1, 5)]
    assert found.chance == pytest.approx(max(chance(o) for o in every if minutes(cost, o) <= 60))
    assert best_within(chance, cost, 5, 2000) is None


def test_minutes_count_paired_specimens_once() -> None:
    layout = Layout(3, 2, 2)
    assert minutes(Prices(10, 2, 1, 2, False), layout) == 6 * 10 + 6 * 2 * (2 + 2)
    assert minutes(Prices(10, 2, 1, 2, True), layout) == 3 * 10 + 6 * 2 * (2 + 2)


def test_the_smallest_exact_p() -> None:
    assert smallest_p(Goal(DETECT), 3) == pytest.approx(0.1)
    assert smallest_p(Goal(DETECT, paired=True), 6) == 0.03125
    assert smallest_p(Goal(LIMIT), 6) is None


def test_another_goal_is_refused() -> None:
    with pytest.raises(ArgumentFault, match="goal"):
        chance_of(Goal("guess"), LEVELS, Layout(3, 1, 1))
