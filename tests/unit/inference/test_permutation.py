"""Exact tests count every arrangement, and large ones are drawn with a seed."""

from itertools import permutations

import numpy as np
import pytest
from scipy import stats

from ohmsworth.inference import permutation
from ohmsworth.inference.permutation import sign_flips, two_groups


def test_two_groups_counts_what_brute_force_counts() -> None:
    rng = np.random.default_rng(1)
    for _ in range(20):
        first, second = rng.normal(0, 1, 3).round(1), rng.normal(0.5, 1, 2).round(1)
        pool = np.concatenate([first, second])
        observed = abs(first.mean() - second.mean())
        gaps = [abs(np.mean(p[:3]) - np.mean(p[3:])) for p in permutations(pool)]
        expected = np.mean([gap >= observed - 1e-9 for gap in gaps])
        found = two_groups(first, second, 0)
        assert found is not None
        assert found.p_value == pytest.approx(expected, abs=1e-12)
        assert found.complete


def test_a_common_offset_changes_nothing() -> None:
    first, second = np.array([1.0, 2.0, 3.0]), np.array([4.0, 6.0, 5.0])
    assert two_groups(first, second, 0) == two_groups(first + 1e6, second + 1e6, 0)


def test_nothing_to_compare_is_none() -> None:
    empty, one = np.array([]), np.array([1.0])
    assert two_groups(empty, one, 0) is None
    assert two_groups(one, empty, 0) is None
    assert sign_flips(empty, 0) is None


def test_no_difference_at_all_is_certain_chance() -> None:
    found = sign_flips(np.zeros(4), 0)
    assert found is not None
    assert found.p_value == 1.0


def test_large_designs_are_drawn_and_agree_with_the_t_test() -> None:
    rng = np.random.default_rng(2)
    first, second = rng.normal(0, 1, 60), rng.normal(0.3, 1, 60)
    one, two = two_groups(first, second, 5), two_groups(first, second, 5)
    assert one == two
    assert one is not None
    assert not one.complete
    assert one.p_value == pytest.approx(stats.ttest_ind(first, second).pvalue, rel=0.3)
    flips = sign_flips(first - second, 5)
    assert flips is not None
    assert flips.p_value == pytest.approx(stats.ttest_1samp(first - second, 0).pvalue, rel=0.3)
    assert flips.p_value > 0


def test_drawn_p_values_are_near_the_exact_ones(monkeypatch: pytest.MonkeyPatch) -> None:
    differences = np.random.default_rng(3).normal(0.5, 1, 10)
    exact = sign_flips(differences, 0)
    monkeypatch.setattr(permutation, "MOST_ARRANGEMENTS", 500)
    drawn = sign_flips(differences, 0)
    assert exact is not None
    assert drawn is not None
    assert exact.complete
    assert not drawn.complete
    assert drawn.p_value == pytest.approx(exact.p_value, abs=0.06)
