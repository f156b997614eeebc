"""Upper tolerance bounds against published factors.

Status beside each: published (read or quoted), memory (recalled, then reproduced), exact mathematics.
"""

import numpy as np
import pytest
from scipy import integrate, optimize, stats
from tests.published.data_files import numbers
from tests.published.printed import assert_printed
from tests.tables import known_resistances

from ohmsworth.errors import ArgumentFault
from ohmsworth.inference.conditions import condition_result
from ohmsworth.inference.measured import measure
from ohmsworth.inference.tolerance import one_sided_factor, probability_over

# ISO 16269-6:2014 and Natrella, NBS Handbook 91, Table A-7, memory: one-sided k for 95 % with 95 % confidence.
FACTORS = {
    2: "26.26", 3: "7.656", 4: "5.144", 5: "4.203", 6: "3.708", 7: "3.399", 8: "3.187", 9: "3.031", 10: "2.911",
    15: "2.566", 20: "2.396", 25: "2.292", 30: "2.220", 40: "2.125", 50: "2.065", 100: "1.927",
}  # fmt: skip


@pytest.mark.parametrize(("n", "printed"), FACTORS.items())
@pytest.mark.parametrize("scale", ["linear", "log"])
def test_simple_samples(n: int, printed: str, scale: str) -> None:
    """Through a condition's result: (bound − mean)/standard deviation of n single readings."""
    y = np.random.default_rng(n).normal(0, 1, n)
    value = 3e-3 + 1e-4 * y if scale == "linear" else np.exp(y / 10 - 6)
    measured = measure(known_resistances(value, range(n)), scale, "auto")
    bound = condition_result(measured, 0, None, 0.95).tolerance
    assert bound is not None
    f = np.asarray if scale == "linear" else np.log
    assert_printed(printed, float((f(bound) - f(value).mean()) / f(value).std(ddof=1)))


def factor_by_integration(n: float, freedom: float, content: float, confidence: float) -> float:
    """Exact mathematics: P(mean + k s > quantile) = confidence, integrated over the distribution of s."""

    def reached(k: float) -> float:
        def over(s2: float) -> float:
            shift = k * np.sqrt(s2 / freedom) - stats.norm.ppf(content)
            return float(stats.chi2.pdf(s2, freedom) * stats.norm.cdf(np.sqrt(n) * shift))

        low, high = stats.chi2.ppf([1e-13, 1 - 1e-13], freedom)
        middle = stats.chi2.ppf([0.001, 0.1, 0.5, 0.9], freedom)
        return integrate.quad(over, low, high, points=middle, limit=400)[0] - confidence

    return float(optimize.brentq(reached, 0.5, 60, xtol=1e-10))


@pytest.mark.parametrize(
    ("n", "freedom", "content", "confidence"),
    [
        (43, 42, 0.90, 0.99),
        (5, 4, 0.95, 0.95),
        (3.4, 2.2, 0.95, 0.95),
        (500, 30, 0.95, 0.95),
        (12, 200, 0.99, 0.9),
    ],
)
def test_factor_by_integration(n: float, freedom: float, content: float, confidence: float) -> None:
    expected = factor_by_integration(n, freedom, content, confidence)
    assert one_sided_factor(n, freedom, content, confidence) == pytest.approx(expected, rel=1e-6)


def test_the_handbooks_approximation() -> None:
    """NIST/SEMATECH e-Handbook 7.2.6.3, published: 1.8751896 for n = 43, 90 %, 99 %.

    That is Natrella's approximation; by exact mathematics (above) the factor is 1.873954, which is held here, and the
    approximation lies within 0.1 % of it.
    """
    found = one_sided_factor(43, 42, 0.90, 0.99)
    assert_printed("1.873954", found)
    z, zg = stats.norm.ppf(0.90), stats.norm.ppf(0.99)
    a, b = 1 - zg**2 / (2 * 42), z**2 - zg**2 / 43
    natrella = (z + np.sqrt(z**2 - a * b)) / a
    assert_printed("1.8751896", natrella)
    assert found == pytest.approx(natrella, rel=1e-3)


def test_check_standard() -> None:
    """NIST/SEMATECH e-Handbook 2.6.2, memory: mean 97.07, standard deviation 0.0268 of 25 days.

    Exact mathematics: the 95 %/95 % bound is the mean and 2.292 (n = 25, above) of these.
    """
    days = numbers("nist_mpc62_check137.csv", "value")
    found = condition_result(measure(known_resistances(days, range(25)), "linear", "auto"), 0, None, 0.95)
    assert_printed("97.07", found.value)
    assert found.uncertainty is not None
    assert found.tolerance is not None
    deviation = np.sqrt(25) * found.uncertainty
    assert_printed("0.0268", deviation)
    assert_printed("2.292", (found.tolerance - found.value) / deviation)


def test_prediction_of_one_more() -> None:
    """Exact mathematics: t √(1 + 1/n); half of the next values lie above the mean."""
    assert probability_over(0.0, 1.0, 5, 0.0) == pytest.approx(0.5)
    limit = stats.t.ppf(0.9, 4) * np.sqrt(1 + 1 / 5)
    assert probability_over(0.0, 1 + 1 / 5, 4, limit) == pytest.approx(0.1)
    assert probability_over(1.0, 0.0, 4, 2.0) == 0.0


def test_very_many_degrees_of_freedom_are_normal() -> None:
    many, infinite = one_sided_factor(50, 9e4, 0.95, 0.95), one_sided_factor(50, np.inf, 0.95, 0.95)
    assert many == pytest.approx(infinite, rel=2e-3)


@pytest.mark.parametrize(("n", "freedom"), [(0.0, 3.0), (3.0, 0.0)])
def test_nothing_known_is_refused(n: float, freedom: float) -> None:
    with pytest.raises(ArgumentFault):
        one_sided_factor(n, freedom, 0.95, 0.95)
