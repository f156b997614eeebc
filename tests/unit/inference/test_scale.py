"""From the scale of analysis back to ohms."""

import numpy as np
import pytest

from ohmsworth.inference.estimate import Estimate
from ohmsworth.inference.scale import difference_in_ohm, ratio, to_ohm


def estimate(value: float, error: float, freedom: float = np.inf) -> Estimate:
    return Estimate(value, error**2, freedom)


def test_a_logarithm_comes_back_as_a_median_with_an_interval_about_it() -> None:
    value, uncertainty, (low, high) = to_ohm("log", estimate(np.log(2e-3), 0.1), 0.95)
    assert value == pytest.approx(2e-3)
    assert uncertainty == pytest.approx(2e-4)
    assert low * high == pytest.approx(4e-6)
    assert np.log(high / low) == pytest.approx(2 * 1.959964 * 0.1, rel=1e-6)


def test_the_linear_scale_stays_as_it_is() -> None:
    value, uncertainty, (low, high) = to_ohm("linear", estimate(2e-3, 1e-4), 0.95)
    assert (value, uncertainty) == (2e-3, 1e-4)
    assert high - low == pytest.approx(2 * 1.959964e-4, rel=1e-6)


def test_an_interval_beyond_all_numbers_stays_a_number() -> None:
    assert np.isfinite(to_ohm("log", estimate(-6, 1e5, 1), 0.95)[2][1])


def test_small_relative_errors_give_the_law_of_propagation() -> None:
    """For independent medians, half-width² → (a·z·s₁)² + (b·z·s₂)² as the errors become small."""
    first, second = estimate(np.log(3e-3), 1e-4), estimate(np.log(2e-3), 2e-4)
    between = Estimate(first.value - second.value, first.variance + second.variance, np.inf)
    amount, (low, high) = difference_in_ohm("log", first, second, between, 0.95)
    assert amount == pytest.approx(1e-3)
    half = 1.959964 * np.hypot(3e-3 * 1e-4, 2e-3 * 2e-4)
    assert (amount - low, high - amount) == pytest.approx((half, half), rel=1e-3)


def test_what_both_share_cancels_in_the_ratio_and_scales_the_difference() -> None:
    """A common gain of 1 % leaves the ratio alone and the difference uncertain by 1 % of itself."""
    first, second = estimate(np.log(3e-3), 0.01), estimate(np.log(2e-3), 0.01)
    between = Estimate(np.log(1.5), 1e-14, np.inf)
    amount, (low, high) = difference_in_ohm("log", first, second, between, 0.95)
    assert (high - low) / 2 == pytest.approx(1.96 * 0.01 * amount, rel=1e-2)
    times, interval = ratio("log", first, second, between, 0.95)
    assert times == pytest.approx(1.5)
    assert interval == pytest.approx((1.5, 1.5), rel=1e-5)


def test_exchanging_the_two_turns_the_sign() -> None:
    first, second = estimate(np.log(3e-3), 0.2, 4), estimate(np.log(2e-3), 0.1, 4)
    forth = Estimate(first.value - second.value, 0.03, 4)
    back = Estimate(second.value - first.value, 0.03, 4)
    amount, (low, high) = difference_in_ohm("log", first, second, forth, 0.9)
    other, (lower, upper) = difference_in_ohm("log", second, first, back, 0.9)
    assert (other, lower, upper) == pytest.approx((-amount, -high, -low))


def test_fieller_holds_its_equation() -> None:
    """At each end ρ: (a − ρb)² = t² (v₁ − 2ρ c + ρ² v₂)  (Fieller 1954)."""
    first, second = estimate(3.0, 0.2, 6), estimate(2.0, 0.1, 6)
    between = Estimate(1.0, 0.2**2 + 0.1**2 - 2 * 0.005, 6)
    times, ends = ratio("linear", first, second, between, 0.95)
    assert times == 1.5
    assert ends is not None
    for rho in ends:
        spread = first.variance - 2 * rho * 0.005 + rho**2 * second.variance
        assert (3.0 - 2.0 * rho) ** 2 == pytest.approx(2.446911851**2 * spread, rel=1e-6)
    assert ends[0] < 1.5 < ends[1]


def test_a_reference_that_may_be_zero_gives_no_finite_ratio() -> None:
    first, second = estimate(3.0, 0.2, 6), estimate(0.1, 0.1, 6)
    assert ratio("linear", first, second, Estimate(2.9, 0.05, 6), 0.95)[1] is None
    assert ratio("linear", first, estimate(0.0, 0.1, 6), Estimate(3.0, 0.05, 6), 0.95) == (None, None)
