"""The next mating of the next specimen: limits in which the answer is known, and nested scatter by simulation."""

import numpy as np
import pytest
from scipy import stats
from tests.tables import known_resistances

from ohmsworth.inference.conditions import condition_result, future_of
from ohmsworth.inference.future import Future, chance_over, upper_bound
from ohmsworth.inference.measured import measure
from ohmsworth.inference.tolerance import one_sided_factor


@pytest.mark.parametrize(("n", "freedom"), [(2, 1.0), (3, 2.0), (10, 9.0), (10, 18.0)])
def test_the_grid_meets_the_closed_forms(n: int, freedom: float) -> None:
    """A meter's part of next to nothing sends a simple sample over the grid."""
    simple = Future(0.0, 1.0, freedom, n, 0.0, np.inf, 0.0)
    gridded = Future(0.0, 1.0, freedom, n, 0.0, np.inf, 1e-18)
    exact = one_sided_factor(n, freedom, 0.95, 0.95)
    assert upper_bound(simple, 0.95, 0.95) == pytest.approx(exact)
    assert upper_bound(gridded, 0.95, 0.95) == pytest.approx(exact, rel=1e-6)
    for limit in (-1.0, 0.5, 3.0, 20.0):
        assert chance_over(gridded, limit) == pytest.approx(chance_over(simple, limit), abs=1e-9)
        expected = stats.t.sf(limit / np.sqrt(1 + 1 / n), freedom)
        assert chance_over(simple, limit) == pytest.approx(expected, abs=1e-9)


def test_a_known_meter_part_alone_is_normal() -> None:
    future = Future(0.0, 1.0, 1e9, 1e9, 0.0, np.inf, 0.25)
    assert chance_over(future, 1.0) == pytest.approx(stats.norm.sf(1 / np.sqrt(1.25)), rel=1e-6)
    assert upper_bound(future, 0.95, 0.9) == pytest.approx(
        stats.norm.ppf(0.95) + 0.5 * stats.norm.ppf(0.9), rel=1e-6
    )


def test_what_averaging_took_away_comes_back() -> None:
    """Very many specimens of two matings each: the variance of one is between plus half of the matings'."""
    future = Future(0.0, 1.0, 1e9, 1e9, 0.5, 1e9, 0.0)
    assert upper_bound(future, 0.95, 0.95) == pytest.approx(stats.norm.ppf(0.95) * np.sqrt(1.5), rel=1e-4)


@pytest.mark.parametrize("inside", [-0.5, -2.0])
def test_what_would_be_a_negative_variance_is_none(inside: float) -> None:
    future = Future(0.0, 1.0, 4.0, 5, inside, np.inf, 0.0)
    plain = Future(0.0, 1.0, 4.0, 5, 0.0, np.inf, 0.0)
    assert 0 < upper_bound(future, 0.95, 0.95) < upper_bound(plain, 0.95, 0.95)
    assert 0 <= chance_over(future, 3.0) < chance_over(plain, 3.0)


@pytest.mark.parametrize(("specimen", "mating"), [(1.0, 0.3), (0.3, 1.0), (0.0, 1.0)])
def test_a_bound_holds_under_nested_scatter(specimen: float, mating: float) -> None:
    """Three specimens, four matings, planted truth; 0.9 is what 95 % comes to at worst in so few studies."""
    rng = np.random.default_rng(8)
    who, turn = np.repeat(np.arange(3), 4), np.tile(np.arange(4), 3)
    quantile = stats.norm.ppf(0.95) * np.hypot(specimen, mating)
    held, exceeded = [], []
    for _ in range(150):
        y = specimen * rng.standard_normal(3)[who] + mating * rng.standard_normal(12)
        measured = measure(known_resistances(list(y), list(who), mating=list(turn)), "linear", "auto")
        bound = condition_result(measured, 0, None, 0.95).tolerance
        assert bound is not None
        held.append(bound >= quantile)
        future = future_of(measured, 0)
        assert future is not None
        next_one = np.hypot(specimen, mating) * rng.standard_normal()
        exceeded.append(chance_over(future, next_one))
    assert np.mean(held) >= 0.90
    assert np.mean(np.array(exceeded) < 0.1) <= 0.17
    assert np.mean(exceeded) == pytest.approx(0.5, abs=0.1)


def test_re_readings_are_no_new_specimens() -> None:
    """Reading each of three specimens a hundred times moves the bound hardly more than reading it ten times."""
    rng = np.random.default_rng(3)
    middle = np.array([2.0, 2.5, 3.1])
    bounds = []
    for readings in (10, 100):
        who = np.repeat(np.arange(3), readings)
        y = middle[who] + 0.01 * rng.standard_normal(3 * readings)
        measured = measure(
            known_resistances(list(y), list(who), mating=range(3 * readings)), "linear", "auto"
        )
        bounds.append(condition_result(measured, 0, None, 0.95).tolerance)
    simple = middle.mean() + one_sided_factor(3, 2, 0.95, 0.95) * middle.std(ddof=1)
    assert bounds == pytest.approx([simple, simple], rel=0.02)
