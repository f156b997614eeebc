"""Consumer's and producer's risk against published examples."""

import numpy as np
import pytest
from scipy import stats
from tests.published.printed import assert_printed

from ohmsworth.inference.risk import (
    POLICIES,
    Population,
    global_risks,
    guard_for_risk,
    known_better,
    population_of,
    specific_risks,
)

RESISTORS = Population(1500.0, 0.12, 0.04)


def test_precision_resistors() -> None:
    """JCGM 106:2012, 9.5 example, memory: 1500 Ω ± 0.2 Ω, u0 = 0.12 Ω, um = 0.04 Ω, guard band 0.02 Ω."""
    found = global_risks(RESISTORS, 1499.8, 1500.2, 0.02)
    assert_printed("0.01", found.consumer)
    assert_printed("0.07", found.producer)
    # A second computation, by the bivariate normal distribution.
    assert found.consumer == pytest.approx(0.009878, abs=1e-6)
    assert found.producer == pytest.approx(0.069027, abs=1e-6)


def test_a_zener_diode_passed() -> None:
    """JCGM 106:2012, 7.3.2 example 1, memory: 92 % conform, so 8 % is the risk of passing it."""
    found = specific_risks(-5.47, 0.05, np.inf, -5.40)
    assert_printed("0.08", found.consumer)
    assert_printed("0.92", found.producer)


@pytest.mark.parametrize("guard", [-0.02, 0.0, 0.03, 0.08])
def test_one_limit_by_the_bivariate_normal(guard: float) -> None:
    """Exact mathematics: true value and reading are jointly normal."""
    population, limit = population_of("log", 2e-3, 0.2, 0.05), float(np.log(3e-3))
    whole = stats.multivariate_normal([population.mean] * 2, [[0.2**2, 0.2**2], [0.2**2, 0.2**2 + 0.05**2]])
    both = float(whole.cdf([limit, limit - guard]))
    good = float(stats.norm.cdf(limit, population.mean, 0.2))
    passed = float(stats.norm.cdf(limit - guard, population.mean, np.hypot(0.2, 0.05)))
    found = global_risks(population, -np.inf, limit, guard)
    assert found.consumer == pytest.approx(passed - both, abs=1e-6)
    assert found.producer == pytest.approx(good - both, abs=1e-6)


def test_policies() -> None:
    """ISO 14253-1:2017, memory: 1.645 u one-sided at 95 %; U is two standard uncertainties."""
    assert_printed("1.645", POLICIES["1.645 u"])
    assert POLICIES["none"] == 0.0
    assert POLICIES["U"] == 2.0


def test_what_a_reading_adds_to_what_was_known() -> None:
    """JCGM 106:2012, 6.2, exact mathematics: inverse variances add."""
    middle, left = known_better(Population(0.0, 2.0, 1.0), 1.0)
    assert middle == pytest.approx(0.8)
    assert left == pytest.approx((1 / 4 + 1) ** -0.5)


def test_a_guard_band_holds_its_risk() -> None:
    population = population_of("log", 2e-3, 0.2, 0.05)
    limit = float(np.log(3e-3))
    guard = guard_for_risk(population, limit, 0.001)
    assert global_risks(population, -np.inf, limit, guard).consumer == pytest.approx(0.001, rel=1e-6)
    assert guard_for_risk(population, limit, 0.9) == -np.inf
