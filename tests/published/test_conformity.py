"""Conformity against published examples. All from memory, then reproduced; the normal quantiles are exact mathematics."""

import numpy as np
import pytest
from tests.published.printed import assert_printed

from ohmsworth.inference.conformity import OPEN, guard_factor, probability_within, verdict


def test_breakdown_of_a_zener_diode() -> None:
    """JCGM 106:2012, 7.3.2 example 1: upper limit −5.40 V, measured −5.47 V, u = 0.05 V: 92 % conform."""
    found = float(probability_within(-5.47, 0.05, np.inf, -5.40))
    assert_printed("0.92", found)
    assert verdict(found, 0.95) == OPEN


@pytest.mark.parametrize(
    ("probability", "printed"),
    [(0.80, "0.84"), (0.90, "1.28"), (0.95, "1.64"), (0.99, "2.33"), (0.999, "3.09")],
)
def test_distance_from_the_limit(probability: float, printed: str) -> None:
    """JCGM 106:2012, 7.3.3, Table 1: (limit − value)/u for a probability of conformity."""
    assert_printed(printed, guard_factor(probability))
    assert probability_within(-guard_factor(probability), 1.0, np.inf, 0.0) == pytest.approx(probability)


def test_guard_band() -> None:
    """ISO 14253-1:2017, one-sided, 95 %: 1.645 u."""
    assert_printed("1.645", guard_factor(0.95))
