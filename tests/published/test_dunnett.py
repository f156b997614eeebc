"""Several comparisons with one reference: Dunnett's factors.

Dunnett 1964, two-sided 5 % table, equal numbers (from memory, reproduced); and scipy's own Dunnett test (a
general-purpose reference library), which integrates in another way.
"""

import numpy as np
import pytest
from scipy import stats
from tests.published.printed import assert_printed

from ohmsworth.inference.simultaneous import coverage_of_each


def factor(correlation: np.ndarray, freedom: float) -> float:
    return float(stats.t.ppf((1 + coverage_of_each(correlation, freedom, 0.95, seed=1)) / 2, freedom))


@pytest.mark.parametrize(
    ("comparisons", "freedom", "printed"),
    [(2, 10, "2.57"), (3, 16, "2.59"), (4, 20, "2.65"), (5, 60, "2.58")],
)
def test_dunnetts_table(comparisons: int, freedom: float, printed: str) -> None:
    equal = np.full((comparisons, comparisons), 0.5) + 0.5 * np.eye(comparisons)
    assert_printed(printed, factor(equal, freedom))


def test_unequal_groups_as_another_library_has_them() -> None:
    rng = np.random.default_rng(11)
    groups = [rng.normal(0, 1, n) for n in (4, 7, 5)]
    control = rng.normal(0, 1, 6)
    found = stats.dunnett(*groups, control=control, rng=np.random.default_rng(5)).confidence_interval(0.95)
    n = np.array([len(g) for g in groups])
    share = np.sqrt(n / (n + len(control)))
    correlation = np.outer(share, share)
    np.fill_diagonal(correlation, 1.0)
    freedom = n.sum() + len(control) - 4
    pooled = sum(((g - g.mean()) ** 2).sum() for g in (*groups, control)) / freedom
    half = (found.high - found.low) / 2
    theirs = half / np.sqrt(pooled * (1 / n + 1 / len(control)))
    assert factor(correlation, freedom) == pytest.approx(theirs.mean(), abs=0.01)


def test_one_comparison_needs_nothing_and_equal_ones_no_more() -> None:
    assert coverage_of_each(np.eye(1), 5.0, 0.95, seed=1) == pytest.approx(0.95)
    assert factor(np.ones((3, 3)), 8.0) == pytest.approx(stats.t.ppf(0.975, 8.0), abs=5e-3)


def test_many_are_held_together_by_a_bound() -> None:
    each = coverage_of_each(np.eye(40), 30.0, 0.95, seed=1)
    assert each**40 == pytest.approx(0.95)
