"""Three verdicts against a margin, three against a limit: never a bare yes on a coin flip."""

import numpy as np
import pytest

from ohmsworth.inference import conformity
from ohmsworth.inference.conformity import guard_factor, probability_within
from ohmsworth.inference.equivalence import ENOUGH, OPEN, TOO_SMALL, tost_coverage, verdict_against_margin


@pytest.mark.parametrize(
    ("low", "high", "margin", "expected"),
    [
        (-0.5, 0.5, 1.0, TOO_SMALL),
        (0.2, 0.9, 1.0, TOO_SMALL),  # significantly different and still too small to matter
        (1.1, 2.0, 1.0, ENOUGH),
        (-2.0, -1.1, 1.0, ENOUGH),
        (-0.5, 1.5, 1.0, OPEN),
        (-3.0, 3.0, 1.0, OPEN),
        (-1.0, 0.5, 1.0, OPEN),  # touching is not inside
        (1.0, 2.0, 1.0, OPEN),  # nor beyond
        (0.5, 0.6, None, OPEN),
        (np.nan, np.nan, 1.0, OPEN),
    ],
)
def test_the_margin_decides(low: float, high: float, margin: float | None, expected: str) -> None:
    assert verdict_against_margin(low, high, margin) == expected


def test_two_one_sided_tests_at_five_percent_use_the_ninety_percent_interval() -> None:
    assert tost_coverage(0.95) == pytest.approx(0.90)


@pytest.mark.parametrize(
    ("probability", "expected"),
    [(0.95, "within"), (0.9499, "too close to call"), (0.5, "too close to call"), (0.05, "over"),
     (0.0501, "too close to call"), (None, "too close to call"), (np.nan, "too close to call")],
)  # fmt: skip
def test_the_limit_decides_only_with_confidence(probability: float | None, expected: str) -> None:
    assert conformity.verdict(probability, 0.95) == expected


def test_a_value_without_uncertainty_is_within_or_not() -> None:
    assert probability_within([1.0, 3.0, 2.0], 0.0, np.inf, 2.0).tolist() == [1.0, 0.0, 1.0]


def test_an_unknown_uncertainty_gives_no_probability() -> None:
    assert np.isnan(probability_within(1.0, np.nan, np.inf, 2.0))


def test_few_degrees_of_freedom_make_a_verdict_harder() -> None:
    few, many = probability_within(1.0, 0.5, [2, 1e12], 2.0)
    assert 0.5 < few < many
    assert guard_factor(0.95, 2) > guard_factor(0.95)


def test_value_plus_guard_band_is_just_enough() -> None:
    for freedom in (2, 7, np.inf):
        value = 2.0 - guard_factor(0.95, freedom) * 0.1
        assert probability_within(value, 0.1, freedom, 2.0) == pytest.approx(0.95, rel=1e-7)
