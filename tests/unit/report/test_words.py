"""Numbers in sentences: no finer than they are known, never without a unit."""

from __future__ import annotations

import pytest

from ohmsworth.report.words import amount, count, estimate, in_quotes, like, listed, natural, p_value, times


@pytest.mark.parametrize(
    ("value", "low", "high", "told"),
    [
        (2.6149e-3, 2.41e-3, 2.88e-3, "2.61 mΩ (2.41 to 2.88 mΩ)"),
        (2.61493e-3, 2.6136e-3, 2.6163e-3, "2.6149 mΩ (2.6136 to 2.6163 mΩ)"),
        (17e-6, -200e-6, 240e-6, "20 µΩ (−200 to 240 µΩ)"),
        (-1.3e-3, -1.9e-3, -0.7e-3, "−1.30 mΩ (−1.90 to −0.70 mΩ)"),
        (2.6149e-3, None, None, "2.61 mΩ (interval not known)"),
        (0.0, -1e-6, 1e-6, "0.0 µΩ (−1.0 to 1.0 µΩ)"),
    ],
)
def test_an_estimate_has_two_digits_of_its_uncertainty(
    value: float, low: float | None, high: float | None, told: str
) -> None:
    assert estimate(value, low, high) == told


def test_a_length_has_its_own_unit() -> None:
    assert estimate(0.0356, 0.031, 0.041, "m") == "35.6 mm (31.0 to 41.0 mm)"
    assert like(12.3456, 11.9, 12.8, "V") == "12.35 V"


@pytest.mark.parametrize(
    ("value", "low", "high", "told"),
    [
        (3.1234, 2.51, 3.92, "3.12 times (2.51 to 3.92)"),
        (1.0, 1.0, 1.0, "1.000 times (1.000 to 1.000)"),
        (5.87, None, None, "5.87 times (interval not known)"),
        (32.0, 0.0017, 581871.0, "32 times (0.0017 to 580 000)"),
        (0.5, 1e-9, 3.0, "0.50 times (less than 0.001 to 3.0)"),
        (0.00002, 0.00001, 0.00003, "less than 0.001 times (less than 0.001 to less than 0.001)"),
        (2.0, -0.5, 4.5, "2.0 times (−0.5 to 4.5)"),
        (3.0, 0.4, 19.4, "3.0 times (0.4 to 19.4)"),
        (None, None, None, "a ratio that the data cannot give"),
    ],
)
def test_a_ratio(value: float | None, low: float | None, high: float | None, told: str) -> None:
    assert times(value, low, high) == told


@pytest.mark.parametrize(
    ("value", "low", "high", "told"),
    [
        (0.063, -0.002, 1200.0, "63 mΩ (−2.0 mΩ to 1.2 kΩ)"),
        (-0.063, -1200.0, 0.002, "−63 mΩ (−1.2 kΩ to 2.0 mΩ)"),
    ],
)
def test_ends_that_are_far_apart_leave_the_value_its_digits(
    value: float, low: float, high: float, told: str
) -> None:
    assert estimate(value, low, high) == told


@pytest.mark.parametrize(
    ("value", "unit", "told"),
    [
        (0.0, "dB", "0 dB"), (-1e-13, "dB", "0 dB"), (0.0002, "dB", "under 0.001 dB"), (-0.0002, "dB", "under 0.001 dB"),
        (-0.0012, "dB", "−0.001 dB"), (3.456, "dB", "3.46 dB"), (74.93, "dB", "74.9 dB"), (0.0, "V", "0 V"),
        (47.9, "V", "47.9 V"),
    ],
)  # fmt: skip
def test_a_small_effect_is_no_zero(value: float, unit: str, told: str) -> None:
    assert amount(value, unit) == told


@pytest.mark.parametrize(
    ("p", "told"),
    [(0.0312, "0.031"), (2e-7, "< 0.0001"), (0.0, "< 0.0001"), (0.999, "1.0"), (None, "–")],
)
def test_a_p_value_is_never_zero(p: float | None, told: str) -> None:
    assert p_value(p) == told


def test_counts_and_lists() -> None:
    assert [count(n, "specimen") for n in (1, 2, 1200)] == ["1 specimen", "2 specimens", "1 200 specimens"]
    assert listed(["a"]) == "a"
    assert listed(["a", "b", "c"]) == "a, b and c"
    assert listed(list("abcdefgh")) == "a, b, c, d, e, f and 2 more"


def test_numbers_in_names_are_sorted_as_numbers() -> None:
    assert sorted(["ch 10", "ch 2", "b", "ch 2a"], key=natural) == ["b", "ch 2", "ch 2a", "ch 10"]


def test_the_only_condition_has_no_name() -> None:
    assert in_quotes("all") == "the contacts"
    assert in_quotes("it's") == "'it's'"
