"""Many frequencies at once: the limits of one tone, of tones that are alike, and of tones that go their own ways."""

import numpy as np
import pytest

from ohmsworth.inference.over_tones import coverage_of_each_tone, independent_tones, tone_correlation


def test_one_tone_needs_nothing_more() -> None:
    assert coverage_of_each_tone(np.ones((1, 1)), 6.0, 0.95, 1) == 0.95


def test_tones_that_are_alike_count_as_one() -> None:
    alike = np.full((8, 8), 1 - 1e-9) + 1e-9 * np.eye(8)
    each = coverage_of_each_tone(alike, 6.0, 0.95, 1)
    assert each == pytest.approx(0.95, abs=0.005)
    assert independent_tones(each, 0.95, 8) == pytest.approx(1.0, abs=0.12)


@pytest.mark.parametrize("freedom", [2.0, 6.0, np.inf])
def test_independent_tones_need_what_sidak_says(freedom: float) -> None:
    """With own S at each tone the T are independent: 0.95^(1/m) exactly; 20000 draws tell 5 % to 0.15 %."""
    each = coverage_of_each_tone(np.eye(10), freedom, 0.95, 1)
    assert independent_tones(each, 0.95, 10) == pytest.approx(10.0, rel=0.06)
    assert each <= 1 - 0.05 / 10


def test_the_same_question_has_the_same_answer() -> None:
    apart = 0.7 * np.ones((5, 5)) + 0.3 * np.eye(5)
    first, again = (coverage_of_each_tone(apart, 4.0, 0.9, 7) for _ in range(2))
    assert first == again
    assert 0.9 < first < 0.98


def test_a_correlation_is_taken_for_less_than_is_found() -> None:
    rng = np.random.default_rng(2)
    common = rng.standard_normal((30, 1))
    values = common + 0.5 * rng.standard_normal((30, 4))
    values -= values.mean(0)
    found, cautious = np.corrcoef(values.T), tone_correlation(values, 29)
    off = ~np.eye(4, dtype=bool)
    assert (cautious[off] < found[off]).all()
    assert (cautious[off] > 0.5).all()
    np.testing.assert_allclose(cautious.diagonal(), 1.0)


@pytest.mark.parametrize("freedom", [0, 1, 2])
def test_too_few_specimens_say_nothing_of_it(freedom: int) -> None:
    assert (tone_correlation(np.ones((3, 4)), freedom) == np.eye(4)).all()


def test_tones_never_count_as_more_than_there_are() -> None:
    """Bonferroni's bound asks for a little more than Šidák's: ln 0.95/ln(1 − 0.05/11) is 11.26."""
    bound = 1 - 0.05 / 11
    assert independent_tones(bound, 0.95, 100) == pytest.approx(11.26, abs=0.005)
    assert independent_tones(bound, 0.95, 11) == 11.0
