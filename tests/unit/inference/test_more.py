"""How many specimens and matings would settle it."""

import numpy as np
import pytest

from ohmsworth.inference.more import Scatter, chance_to_settle, specimens_needed

MARGINS = (-0.2, 0.2)


def test_the_chance_is_that_of_simulated_studies() -> None:
    """Paired, no difference: the share of drawn studies whose 90 % interval lies inside the margin."""
    rng = np.random.default_rng(0)
    n, sd = 12, 0.25
    draws = rng.normal(0.03, sd, (20000, n))
    half = 1.795885 * draws.std(axis=1, ddof=1) / np.sqrt(n)  # t(0.95, 11)
    settled = np.mean((draws.mean(1) - half > -0.2) & (draws.mean(1) + half < 0.2))
    chance = chance_to_settle(Scatter(sd**2, 0, 0, True), 0.03, MARGINS, n, 1, 0.05)
    assert chance == pytest.approx(settled, abs=0.015)


def test_the_answer_is_the_fewest_that_do() -> None:
    scatter = Scatter(0.04, 0.02, 0, False)
    needed = specimens_needed(scatter, 0.05, MARGINS, 2, 0.05)
    assert needed is not None
    assert chance_to_settle(scatter, 0.05, MARGINS, needed.specimens, 2, 0.05) == needed.power >= 0.8
    assert chance_to_settle(scatter, 0.05, MARGINS, needed.specimens - 1, 2, 0.05) < 0.8


def test_more_matings_need_no_more_specimens() -> None:
    scatter = Scatter(0.01, 0.08, 0, False)
    few, many = (specimens_needed(scatter, 0.05, MARGINS, m, 0.05) for m in (1, 4))
    assert few is not None
    assert many is not None
    assert many.specimens < few.specimens


@pytest.mark.parametrize("difference", [0.0, 0.19, 0.21, 1.0])
def test_beyond_and_inside_are_both_an_answer(difference: float) -> None:
    chance = chance_to_settle(Scatter(1e-4, 0, 0, False), difference, MARGINS, 50, 1, 0.05)
    assert chance == pytest.approx(1 if difference in {0.0, 1.0} else 0.99, abs=0.05)


def test_right_on_the_margin_or_with_a_coarse_meter_nothing_settles_it() -> None:
    assert specimens_needed(Scatter(0.04, 0, 0, False), 0.2, MARGINS, 1, 0.05) is None
    assert specimens_needed(Scatter(1e-6, 0, 0.2**2, False), 0.1, MARGINS, 1, 0.05) is None


def test_one_specimen_never_settles_anything() -> None:
    assert chance_to_settle(Scatter(0.04, 0, 0, True), 0, MARGINS, 1, 9, 0.05) == 0


def test_no_lower_margin() -> None:
    """On logarithms a fall by more than the whole resistance cannot be: only the upper side is in question."""
    assert chance_to_settle(Scatter(0.01, 0, 0, True), 0.0, (-np.inf, 0.2), 30, 1, 0.05) > 0.99
