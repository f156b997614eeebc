"""Ratios of phasors with noise that belongs together."""

import GTC
import numpy as np
import pytest

from ohmsworth.errors import ArgumentFault
from ohmsworth.resistance.impedance.ratio import ratio, ratio_of_parts, turning

VOLTAGE, CURRENT = 0.03 - 0.01j, 0.5 + 0.2j
NOISE = np.array([[4e-8, 1e-8 + 2e-8j], [1e-8 - 2e-8j, 9e-8]])


def parts_of(noise: np.ndarray) -> np.ndarray:
    """Covariance of (Re, Im, Re, Im) of circular noise with E[n nᴴ] = `noise`."""
    return np.block([[turning(noise[i, j]) for j in range(2)] for i in range(2)]) / 2


def test_circular_noise_by_both_ways() -> None:
    one, other = ratio(VOLTAGE, CURRENT, NOISE), ratio_of_parts(VOLTAGE, CURRENT, parts_of(NOISE))
    assert one.value == pytest.approx(VOLTAGE / CURRENT, rel=1e-14)
    assert one.covariance == pytest.approx(other.covariance, rel=1e-10, abs=1e-20)


def test_any_noise_by_reference_software() -> None:
    random = np.random.default_rng(3)
    root = random.normal(0, 1e-4, (4, 4))
    covariance = root @ root.T
    labels = ("a", "b", "c", "d")
    u = np.sqrt(np.diag(covariance))
    a, b, c, d = GTC.multiple_ureal(
        [VOLTAGE.real, VOLTAGE.imag, CURRENT.real, CURRENT.imag], u.tolist(), 1000, list(labels)
    )
    for i, one in enumerate((a, b, c, d)):
        for j, other in enumerate((a, b, c, d)):
            if i < j:
                GTC.set_correlation(covariance[i, j] / u[i] / u[j], one, other)
    r, x = (a * c + b * d) / (c**2 + d**2), (b * c - a * d) / (c**2 + d**2)
    found = ratio_of_parts(VOLTAGE, CURRENT, covariance)
    assert found.covariance[0, 0] == pytest.approx(r.u**2, rel=1e-9)
    assert found.covariance[1, 1] == pytest.approx(x.u**2, rel=1e-9)
    assert found.covariance[0, 1] == pytest.approx(GTC.get_covariance(r, x), rel=1e-9)


def test_what_draws_scatter() -> None:
    random = np.random.default_rng(8)
    root = np.linalg.cholesky(NOISE)
    white = (random.normal(size=(2, 40000)) + 1j * random.normal(size=(2, 40000))) / np.sqrt(2)
    n, d = root @ white
    z = (VOLTAGE + n) / (CURRENT + d)
    seen = np.cov([z.real, z.imag])
    assert seen == pytest.approx(ratio(VOLTAGE, CURRENT, NOISE).covariance, rel=0.04, abs=0.03 * seen[0, 0])


def test_a_gain_common_to_both_cancels() -> None:
    common = np.outer([VOLTAGE, CURRENT], np.conj([VOLTAGE, CURRENT])) * 1e-4
    assert ratio(VOLTAGE, CURRENT, common).covariance == pytest.approx(np.zeros((2, 2)), abs=1e-20)


def test_many_at_once_as_one_by_one() -> None:
    many = ratio([VOLTAGE, 2 * VOLTAGE], [CURRENT, 1j * CURRENT], [NOISE, 2 * NOISE])
    assert many.covariance[1] == pytest.approx(
        ratio(2 * VOLTAGE, 1j * CURRENT, 2 * NOISE).covariance, rel=1e-12
    )


@pytest.mark.parametrize("of", [ratio, ratio_of_parts])
def test_nothing_to_divide_by(of: object) -> None:
    assert callable(of)
    with pytest.raises(ArgumentFault, match="not zero"):
        of(1.0, [1.0, 0.0], np.zeros((2, 2)))
