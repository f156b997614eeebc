"""Chances from outcomes: exact sums, brute force, limits."""

from fractions import Fraction
from math import comb

import numpy as np
import pytest
from scipy import special, stats

from ohmsworth.errors import ArgumentFault
from ohmsworth.inference.outcomes import (
    Chance,
    Outcomes,
    Prior,
    chance_after,
    chance_better,
    chances_best,
    ranked,
)


def exact_better(a: int, b: int, c: int, d: int) -> float:
    """P(Beta(a, b) > Beta(c, d)) for whole numbers, by the finite sum in exact fractions.

    Beta(c, d) is below x when c or more of c + d − 1 even draws are, and x ~ Beta(a, b): each term is a Beta integral.
    """
    n = c + d - 1

    def beta(p: int, q: int) -> Fraction:
        return Fraction(1, (p + q - 1) * comb(p + q - 2, p - 1))

    return float(sum(comb(n, j) * beta(a + j, b + n - j) / beta(a, b) for j in range(c, n + 1)))


@pytest.mark.parametrize("four", [(1, 1, 1, 1), (2, 1, 1, 1), (5, 3, 4, 6), (30, 4, 25, 9), (1, 40, 40, 1)])
def test_better_is_the_exact_sum(four: tuple[int, int, int, int]) -> None:
    assert chance_better(Chance(*four[:2]), Chance(*four[2:])) == pytest.approx(exact_better(*four), abs=1e-9)


@pytest.mark.parametrize("four", [(0.4, 0.6, 1.5, 0.7), (700.5, 300.5, 650.0, 350.0), (0.05, 0.05, 0.5, 0.5)])
def test_better_for_any_numbers_against_a_plain_grid(four: tuple[float, float, float, float]) -> None:
    """Midpoints of 400 000 even shares of the first."""
    shares = (np.arange(400_000) + 0.5) / 400_000
    grid = special.betainc(four[2], four[3], stats.beta.ppf(shares, four[0], four[1])).mean()
    assert chance_better(Chance(*four[:2]), Chance(*four[2:])) == pytest.approx(float(grid), abs=2e-5)


def test_both_ways_make_one_and_equals_are_even() -> None:
    one, other = Chance(3.5, 2.0), Chance(9.0, 7.5)
    assert chance_better(one, other) + chance_better(other, one) == pytest.approx(1, abs=1e-9)
    assert chance_better(one, one) == pytest.approx(0.5, abs=1e-9)


def test_the_best_of_three_by_drawing() -> None:
    chances = {"wipe": Chance(3, 4), "clean": Chance(8, 3), "replace": Chance(12, 1.5)}
    found = chances_best(chances)
    assert sum(found.values()) == pytest.approx(1, abs=1e-8)
    rng = np.random.default_rng(3)
    draws = np.array([rng.beta(c.for_it, c.against_it, 200_000) for c in chances.values()])
    shares = np.bincount(draws.argmax(0), minlength=3) / 200_000
    assert list(found.values()) == pytest.approx(shares, abs=4e-3)
    assert ranked(chances) == ("replace", "clean", "wipe")


def test_what_comes_next_adds_up_and_has_the_mean() -> None:
    found = chance_after(Prior(0.7, 3), Outcomes(4, 5))
    next_five = found.of_next(5)
    assert next_five.sum() == pytest.approx(1)
    assert next_five @ np.arange(6) == pytest.approx(5 * found.mean)
    direct = np.mean(stats.binom.pmf(2, 5, np.random.default_rng(1).beta(6.1, 1.9, 400_000)))
    assert next_five[2] == pytest.approx(float(direct), abs=1e-3)


def test_a_prior_counts_as_many_cases_as_it_says() -> None:
    """Half of what is known is the prior's when as many cases have been seen."""
    assert chance_after(Prior(0.8, 10), Outcomes(4, 10)).mean == pytest.approx((0.8 + 0.4) / 2)
    assert chance_after(Prior(0.8, 10), Outcomes(0, 0)).mean == pytest.approx(0.8)


@pytest.mark.parametrize("wrong", [(-1, 3), (4, 3)])
def test_more_good_than_there_were_is_refused(wrong: tuple[int, int]) -> None:
    with pytest.raises(ArgumentFault):
        Outcomes(*wrong)


def test_a_prior_that_is_certain_is_refused() -> None:
    for wrong in ((0.0, 2.0), (1.0, 2.0), (0.5, 0.0), (0.5, float("inf"))):
        with pytest.raises(ArgumentFault):
            Prior(*wrong)
    with pytest.raises(ArgumentFault):
        chances_best({})
