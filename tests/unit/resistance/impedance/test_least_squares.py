"""Weighted complex fits, and what weights cost that are estimates themselves."""

import numpy as np
import pytest
from scipy import stats
from tests.unit.resistance.impedance.curves import F, curve, series

from ohmsworth.resistance.impedance.curve import Curve
from ohmsworth.resistance.impedance.least_squares import consistency, fitted, weighted
from ohmsworth.resistance.impedance.shapes import columns_of

COLUMNS = columns_of("series", F)


def test_against_the_normal_equations_with_correlated_parts() -> None:
    random = np.random.default_rng(2)
    root = random.normal(0, 1e-6, (len(F), 2, 2)) + 2e-6 * np.eye(2)
    covariance = root @ np.swapaxes(root, 1, 2)
    z = series(0.005, 2e-8) + 1e-6 * random.normal(size=len(F))
    found = fitted(weighted(Curve(F, z, covariance, np.full(len(F), np.inf), {})), COLUMNS)
    whole, rows, y = np.zeros((32, 32)), np.zeros((32, 2)), np.zeros(32)
    for k in range(len(F)):
        at = slice(2 * k, 2 * k + 2)
        whole[at, at] = np.linalg.inv(covariance[k])
        rows[at] = [COLUMNS[k].real, COLUMNS[k].imag]
        y[at] = z[k].real, z[k].imag
    inverse = np.linalg.inv(rows.T @ whole @ rows)
    assert found.plain == pytest.approx(inverse, rel=1e-8)
    assert found.covariance == pytest.approx(inverse, rel=1e-8)  # weights known for certain cost nothing
    assert found.value == pytest.approx(inverse @ rows.T @ whole @ y, rel=1e-8)
    left = y - rows @ found.value
    assert found.square == pytest.approx(left @ whole @ left, rel=1e-7)


@pytest.mark.parametrize("degrees", [8.0, 20.0])
def test_what_estimated_weights_cost(degrees: float) -> None:
    """2000 draws: variance told and seen agree to 13 % (four standard errors); without the cost it is too small."""
    fits = [
        fitted(weighted(curve(series(0.005, 2e-8), degrees=degrees, seed=s)), COLUMNS) for s in range(2000)
    ]
    each = [fit.estimated(np.array([1.0, 0.0])) for fit in fits]
    seen = np.var([e.value for e in each])
    told = np.mean([e.random**2 for e in each])
    assert told == pytest.approx(seen, rel=0.13)
    assert np.mean([fit.plain[0, 0] for fit in fits]) < 0.95 * seen
    held = np.mean([low < 0.005 < high for low, high in (e.interval() for e in each)])
    assert held == pytest.approx(0.95, abs=0.02)


def test_degrees_of_one_tone_and_of_many_alike() -> None:
    one = np.array([1000.0])
    data = weighted(curve(series(0.005, 0, one), degrees=12.0, frequency=one))
    found = fitted(data, columns_of("resistance", one)).estimated(np.ones(1))
    assert found.degrees == pytest.approx(12)
    assert found.random == pytest.approx(np.sqrt(data.curve.random[0, 0, 0]))  # nothing was weighed
    even = Curve(F, series(0.005), np.tile(1e-12 * np.eye(2), (16, 1, 1)), np.full(16, 12.0), {})
    assert fitted(weighted(even), columns_of("resistance", F)).estimated(np.ones(1)).degrees == pytest.approx(
        16 * 12
    )


def test_rest_of_known_noise_is_chi_square_and_of_estimated_noise_of_one_tone_is_f() -> None:
    data = weighted(curve(series(0.005, 2e-8)))
    fit = fitted(data, COLUMNS)
    got = consistency(data, COLUMNS, data.curve.value - COLUMNS @ fit.value)
    assert got.square == pytest.approx(fit.square, rel=1e-6)
    assert got.p_value == pytest.approx(stats.chi2.sf(fit.square, 30), rel=1e-6)
    # Two values more than parameters, all with ten degrees: F(2, 10) exactly.
    two = F[:2]
    few = weighted(curve(series(0.005, 0, two), degrees=10.0, frequency=two))
    left = np.array([1e-6 + 0j, 2e-6j])
    got = consistency(few, columns_of("series", two), left)
    assert got.degrees == 2
    assert got.p_value == pytest.approx(stats.f.sf(got.square / 2, 2, 10), rel=1e-9)
