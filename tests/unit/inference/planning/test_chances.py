"""Chances against a general library, against themselves, and against drawn numbers."""

import numpy as np
import pytest
from scipy import stats

from ohmsworth.inference.planning.bounded import chance_bounded
from ohmsworth.inference.planning.chances import chances_between, chances_beyond
from ohmsworth.inference.planning.compared import Contrast, chance_to_detect, chance_to_settle
from ohmsworth.inference.planning.levels import Levels, future_known


@pytest.mark.parametrize("freedom", [1.0, 2.0, 3.7, 40.0, 800.0])
@pytest.mark.parametrize("shift", [-4.0, 0.0, 0.7, 5.0, 25.0])
def test_the_tail_is_that_of_the_general_library(shift: float, freedom: float) -> None:
    critical = np.array([0.3, 2.0, 12.7, 300.0])
    expected = [stats.nct.sf(c, freedom, shift) for c in critical]
    assert chances_beyond(shift, critical, freedom) == pytest.approx(expected, abs=1e-10)


def test_far_out_the_tail_stays_right() -> None:
    # Where the shift is enormous and the degrees of freedom are few, T/shift is one over a chi variable.
    found = chances_beyond(1e6, np.array([2e6]), 1.0)[0]
    assert found == pytest.approx(2 * stats.norm.cdf(0.5) - 1, abs=1e-6)
    assert chances_beyond(np.inf, np.array([2.0]), 5.0)[0] == 1
    assert chances_beyond(-np.inf, np.array([2.0]), 5.0)[0] == 0


def test_with_certain_scatter_it_is_normal() -> None:
    assert chances_beyond(2.5, np.array([1.645]), 1e12)[0] == pytest.approx(stats.norm.sf(-0.855), rel=1e-9)
    assert chances_between(-1.0, 1.0, np.array([1.645]), 1e12)[0] == 0


@pytest.mark.parametrize(("low", "high", "freedom"), [(-4.0, 4.0, 4.0), (-2.5, 3.5, 11.0), (-9.0, 1.0, 2.0)])
def test_between_is_the_share_of_drawn_intervals(low: float, high: float, freedom: float) -> None:
    rng = np.random.default_rng(1)
    z, s = rng.normal(size=400_000), np.sqrt(rng.chisquare(freedom, 400_000) / freedom)
    t = float(stats.t.ppf(0.95, freedom))
    drawn = np.mean((z - t * s > low) & (z + t * s < high))
    assert chances_between(low, high, np.array([t]), freedom)[0] == pytest.approx(drawn, abs=0.003)


def test_between_exceeds_the_bound_by_adding_up() -> None:
    """P(A and B) ≥ P(A) + P(B) − 1, and the bound is nothing where margins are narrow."""
    t = np.array([stats.t.ppf(0.95, 6)])
    both = chances_between(-2.0, 2.0, t, 6.0)[0]
    one = chances_beyond(2.0, t, 6.0)[0]
    assert both > max(2 * one - 1, 0)
    assert both > 0.01


@pytest.mark.parametrize("own", [False, True])
@pytest.mark.parametrize("n", [3, 6, 20])
def test_at_no_difference_the_chance_is_the_level(n: int, own: bool) -> None:
    found = chance_to_detect(Contrast(0.1, 0.0, 2 * (n - 1), own), 0.0, 0.05)
    # Welch's own approximation costs a little of the level with few specimens, never adds to it.
    assert found <= 0.05 + 1e-9
    assert found == pytest.approx(0.05, abs=1e-9 if not own else 0.016)


@pytest.mark.parametrize("n", [3, 5, 12])
def test_own_variances_are_those_of_welchs_test(n: int) -> None:
    rng = np.random.default_rng(n)
    a, b = rng.normal(1.5, 1, (20_000, n)), rng.normal(0, 1, (20_000, n))
    drawn = np.mean(stats.ttest_ind(a, b, axis=1, equal_var=False).pvalue < 0.05)
    assert chance_to_detect(Contrast(2 / n, 0, 2 * (n - 1), True), 1.5, 0.05) == pytest.approx(
        drawn, abs=0.012
    )


def test_without_scatter_the_truth_decides() -> None:
    exact = Contrast(0.0, 0.0, 4)
    assert chance_to_detect(exact, 0.1, 0.05) == 1
    assert chance_to_detect(exact, 0.0, 0.05) == 0
    assert chance_to_settle(exact, 0.1, (-0.2, 0.2), 0.05) == 1
    assert chance_to_settle(exact, 0.2, (-0.2, 0.2), 0.05) == 0
    assert chance_to_settle(Contrast(0.1, 0.0, 0), 0.0, (-9, 9), 0.05) == 0


def test_what_is_fixed_is_not_averaged_and_counts_as_known() -> None:
    loose = chance_to_settle(Contrast(0.001, 0.0, 4), 0.0, (-0.2, 0.2), 0.05)
    tight = chance_to_settle(Contrast(0.001, 0.02, 4), 0.0, (-0.2, 0.2), 0.05)
    assert tight < loose
    known = chance_to_settle(Contrast(0.0, 0.005, 4), 0.0, (-0.2, 0.2), 0.05)
    assert known == pytest.approx(2 * stats.norm.cdf(0.2 / np.sqrt(0.005) - 1.644854) - 1, abs=1e-6)


def test_future_scatter_of_one_mating_is_a_simple_sample() -> None:
    future = future_known(Levels(0.3, 0, 0.2, 0.1), 12, 1, 1)
    assert future.simple
    assert future.between == pytest.approx(0.3**2 + 0.2**2 + 0.1**2)
    assert (future.between_freedom, future.specimens) == (11, 12)


@pytest.mark.parametrize(("matings", "readings"), [(3, 2), (1, 2), (4, 1)])
def test_a_future_mating_scatters_as_specimens_and_matings_do(matings: int, readings: int) -> None:
    """Readings that can be told apart are left out; those that cannot count with the mating."""
    future = future_known(Levels(0.3, 0, 0.2, 0.1), 12, matings, readings)
    told_apart = readings > 1
    assert future.between + future.inside == pytest.approx(0.3**2 + 0.2**2 + (0 if told_apart else 0.1**2))
    assert future.inside_freedom <= 12 * matings * readings or np.isinf(future.inside_freedom)


def test_a_bound_by_quantiles_is_the_closed_form_where_there_is_one() -> None:
    """A little scatter inside the specimens changes a simple sample's chance only a little."""
    simple = chance_bounded(future_known(Levels(0.3, 0, 0, 0), 10, 1, 1), 1.0, 0.95, 0.95)
    nearly = chance_bounded(future_known(Levels(0.3, 0, 0.003, 0), 10, 2, 1), 1.0, 0.95, 0.95)
    assert nearly == pytest.approx(simple, abs=0.002)
