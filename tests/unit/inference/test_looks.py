"""How sure a verdict has to be while readings still come in."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from ohmsworth.inference.boundaries import chance_to_cross, crossing_chance, go_on, spent_bounds, start
from ohmsworth.inference.looks import (
    SHEET_SHARE,
    STANDING,
    final_level,
    level_at,
    level_within,
    share_of_contact,
)


def error(planned: int, more: int, alpha: float) -> float:
    """Chance to cross at the bound when one looks at every mating, for a normal statistic."""
    dones = [done for done in range(1, planned + more + 1) if level_at(done, planned, alpha) > 0]
    bounds = [float(stats.norm.isf(level_at(done, planned, alpha))) for done in dones]
    return crossing_chance([done / planned for done in dones], bounds)


@pytest.mark.parametrize("alpha", [0.05, 0.025, 0.4, 1e-4])
@pytest.mark.parametrize(("planned", "more"), [(1, 8), (2, 0), (5, 6), (12, 12), (40, 3)])
def test_all_looks_together_keep_the_level(planned: int, more: int, alpha: float) -> None:
    found = error(planned, more, alpha)
    assert found <= alpha
    assert found >= 0.7 * alpha * SHEET_SHARE  # and do not waste it


def test_ordinary_tests_would_not() -> None:
    assert crossing_chance([k / 12 for k in range(1, 13)], [1.6449] * 12) > 0.15


def test_beyond_the_sheet_the_last_tenth_is_spent() -> None:
    at_end = error(6, 0, 0.05)
    assert at_end < error(6, 20, 0.05) <= at_end + (1 - SHEET_SHARE) * 0.05
    assert level_at(6 + 48, 6, 0.05) > level_at(6 + 60, 6, 0.05) > 0


def test_an_early_verdict_would_stand() -> None:
    """At the bound of an early look, the end of the sheet agrees with a chance of 80 % were the contacts at the margin."""
    share = 0.4
    w = stats.norm.isf(level_within(share, True, 0.05)) * np.sqrt(share)
    at_end = stats.norm.isf(final_level(10, 0.05))
    assert stats.norm.sf((at_end - w) / np.sqrt(1 - share)) == pytest.approx(STANDING)


def test_a_single_look_has_no_early_one() -> None:
    assert final_level(1, 0.05) == pytest.approx(0.045)
    assert final_level(2, 0.05) == pytest.approx(0.036)


@given(planned=st.integers(1, 60), alpha=st.sampled_from((0.05, 0.01, 0.3)))
def test_levels_rise_to_the_end_of_the_sheet(planned: int, alpha: float) -> None:
    levels = [level_at(done, planned, alpha) for done in range(planned + 1)]
    assert levels[0] == 0
    assert (np.diff(levels) >= 0).all()
    assert levels[-1] == final_level(planned, alpha) < alpha


def test_a_contact_waits_for_its_scatter_to_be_known() -> None:
    assert share_of_contact(1.0, 0, 8) == 0
    assert share_of_contact(1.0, 8, 8) == 1
    assert 0 < share_of_contact(1.0, 1, 8) < share_of_contact(1.0, 4, 8) < 1
    assert share_of_contact(0.5, 8, 8) == 0.5
    assert share_of_contact(0.5, 0, 0) == 0.5  # nothing below specimens scatters
    assert share_of_contact(1.0, 12, 8) == 1


def test_paths_that_cross_are_gone() -> None:
    here = go_on(start(), 1.0, 1.5)
    assert here.mass.sum() == pytest.approx(stats.norm.cdf(1.5))
    assert go_on(start(), 1.0, 1.5, True).mass.sum() == pytest.approx(2 * stats.norm.cdf(1.5) - 1)
    assert chance_to_cross(start(), 0.5, 1.0, True) == pytest.approx(2 * stats.norm.sf(1.0))


def test_an_amount_of_nothing_has_a_bound_too() -> None:
    assert 37 < spent_bounds([0.5], [1e-320])[0] < spent_bounds([0.5], [0.0])[0] <= 38
