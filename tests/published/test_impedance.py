"""Complex ratios and sine fits against worked examples and closed forms.

Status beside each: published (read or quoted), memory (recalled, then reproduced), exact mathematics,
reference software (GTC), second computation.
"""

import math

import GTC
import numpy as np
import pytest
from scipy import special, stats
from tests.published.data_files import numbers
from tests.published.printed import assert_printed

from ohmsworth.resistance.impedance.detection import (
    combined_chance,
    critical_factor,
    limit_factor,
    signed_critical_factor,
    signed_limit_factor,
)
from ohmsworth.resistance.impedance.ratio import ratio_of_parts
from ohmsworth.resistance.impedance.sine_fit import three_parameter_fit

# ------------------------------------------------------------------ simultaneous V, I and φ, GUM H.2


def h2(correlated: bool = True) -> tuple[complex, np.ndarray]:
    """Z = V exp(jφ)/I of the means, and the covariance of (R, X, |Z|)."""
    sets = np.array([numbers("gum_h2.csv", name) for name in ("V_volt", "I_ampere", "phi_radian")])
    v, i, phi = sets.mean(axis=1)
    covariance = np.cov(sets) / sets.shape[1]
    if not correlated:
        covariance = np.diag(np.diag(covariance))
    # (Re, Im) of V exp(jφ) and of I, by V, I and φ.
    slope = np.array(
        [[math.cos(phi), 0, -v * math.sin(phi)], [math.sin(phi), 0, v * math.cos(phi)], [0, 1, 0], [0, 0, 0]]
    )
    found = ratio_of_parts(v * np.exp(1j * phi), i, slope @ covariance @ slope.T)
    z = complex(found.value)
    also = np.array([[1, 0], [0, 1], [z.real / abs(z), z.imag / abs(z)]])
    return z, also @ found.covariance @ also.T


def test_impedance_of_simultaneous_readings() -> None:
    """GUM H.2, approach 1 (Table H.4), memory: 127.732 (0.071), 219.847 (0.295) and 254.260 (0.236) Ω.

    The unrounded 219.8465 and 0.2956 do not round to what was recalled for X: its last digit is let go.
    """
    z, covariance = h2()
    u = np.sqrt(np.diag(covariance))
    assert_printed("127.732", z.real)
    assert_printed("254.260", abs(z))
    assert_printed("0.071", u[0])
    assert_printed("0.236", u[2])
    assert z.imag == pytest.approx(219.847, abs=0.0011)
    assert u[1] == pytest.approx(0.295, abs=0.0011)


def test_correlations_of_that_impedance() -> None:
    """GUM H.2, Table H.4, published: r(R, X) = −0.588, r(R, Z) = −0.485, r(X, Z) = 0.993."""
    _, covariance = h2()
    u = np.sqrt(np.diag(covariance))
    r = covariance / np.outer(u, u)
    assert_printed("−0.588", r[0, 1])
    assert_printed("−0.485", r[0, 2])
    assert_printed("0.993", r[1, 2])


def test_without_the_correlations_it_is_another_uncertainty() -> None:
    """Second computation: 0.195 Ω instead of 0.071 Ω, the trap of GUM F.1.2."""
    assert math.sqrt(h2(correlated=False)[1][0, 0]) == pytest.approx(0.1945445, rel=1e-6)


def test_the_same_by_reference_software() -> None:
    """Reference software GTC, with uncertain real numbers that know their correlation."""
    columns = [numbers("gum_h2.csv", name) for name in ("V_volt", "I_ampere", "phi_radian")]
    v, i, phi = GTC.type_a.multi_estimate_real(columns)
    r, x = v * GTC.cos(phi) / i, v * GTC.sin(phi) / i
    z, covariance = h2()
    assert (z.real, z.imag) == pytest.approx((r.x, x.x), rel=1e-12)
    assert math.sqrt(covariance[0, 0]) == pytest.approx(r.u, rel=1e-9)
    assert math.sqrt(covariance[1, 1]) == pytest.approx(x.u, rel=1e-9)
    assert covariance[0, 1] == pytest.approx(GTC.get_covariance(r, x), rel=1e-9)


# ------------------------------------------------------------------ a sine of known frequency

RATE, LENGTH, CYCLES = 48000.0, 100, 7


def sine(a: float, b: float, c: float) -> np.ndarray:
    phase = 2 * np.pi * CYCLES * np.arange(LENGTH) / LENGTH
    return a * np.cos(phase) + b * np.sin(phase) + c


def test_a_sine_without_noise_comes_back() -> None:
    """IEEE 1057 three-parameter fit, exact mathematics: A = 1.25, B = −0.75, C = 0.3."""
    found = three_parameter_fit(sine(1.25, -0.75, 0.3), RATE, RATE * CYCLES / LENGTH)
    assert found.phasor.real == pytest.approx(1.25, abs=1e-12)
    assert found.phasor.imag == pytest.approx(0.75, abs=1e-12)
    assert found.offset == pytest.approx(0.3, abs=1e-12)
    assert abs(found.phasor) == pytest.approx(1.4577379737113252, abs=1e-12)
    assert np.angle(found.phasor) == pytest.approx(0.5404195002705842, abs=1e-12)
    assert found.deviation < 1e-12


def test_noise_of_amplitude_and_offset() -> None:
    """Kay 1993, example 3.14, memory: σ√(2/M) for the amplitude, σ/√M for the offset; σ = 0.2, M = 100.

    What the fit says of itself, and what 4000 draws scatter: to 3 %, four standard errors and more.
    """
    random = np.random.default_rng(20261201)
    fits = [
        three_parameter_fit(
            sine(1.25, -0.75, 0.3) + random.normal(0, 0.2, LENGTH), RATE, RATE * CYCLES / LENGTH
        )
        for _ in range(4000)
    ]
    amplitude = np.std([abs(fit.phasor) for fit in fits], ddof=1)
    offset = np.std([fit.offset for fit in fits], ddof=1)
    assert_printed("0.0283", 0.2 * math.sqrt(2 / LENGTH))
    assert amplitude == pytest.approx(0.0282842712474619, rel=0.045)
    assert offset == pytest.approx(0.02, rel=0.045)
    said = np.mean([fit.covariance for fit in fits], axis=0)
    assert said == pytest.approx(np.diag([0.0008, 0.0008, 0.0004]), abs=6e-6)


@pytest.mark.parametrize(("size", "bias"), [(1.0, 0.548572460551146), (5.0, 0.02021392789842502)])
def test_a_magnitude_is_too_large_and_its_part_in_phase_is_not(size: float, bias: float) -> None:
    """Rice distribution, second computation: relative bias of a magnitude at `size` standard deviations of one part."""
    half = size**2 / 4
    bessel = (1 + 2 * half) * special.ive(0, half) + 2 * half * special.ive(1, half)
    assert math.sqrt(math.pi / 2) * bessel / size - 1 == pytest.approx(bias, rel=1e-10)
    random = np.random.default_rng(5)
    sigma, draws = 0.2, 5000
    u = sigma * math.sqrt(2 / LENGTH)
    waves = sine(size * u, 0.0, 0.0) + random.normal(0, sigma, (draws, LENGTH))
    found = np.array([three_parameter_fit(wave, RATE, RATE * CYCLES / LENGTH).phasor for wave in waves])
    error = 1 / size / math.sqrt(draws)
    assert np.abs(found).mean() / (size * u) - 1 == pytest.approx(bias, abs=4 * error)
    assert found.real.mean() / (size * u) - 1 == pytest.approx(0, abs=4 * error)


def test_noise_of_rounding() -> None:
    """GUM F.2.2.1, memory: 0.29 of a step; and a sine rounded to steps leaves it as deviation."""
    assert_printed("0.29", 1 / math.sqrt(12))
    random = np.random.default_rng(12)
    length = 4801
    phase = 2 * np.pi * 97.0 * np.arange(length) / length
    rounded = np.round(200.3 * np.cos(phase + random.uniform(0, 6)))
    assert three_parameter_fit(rounded, 1.0, 97.0 / length).deviation == pytest.approx(
        1 / math.sqrt(12), rel=0.02
    )


# ------------------------------------------------------------------ what is above noise


def test_critical_value_and_detection_limit_of_a_magnitude() -> None:
    """Rayleigh distribution, exact mathematics: √(−ln 0.05) √E|n|² is passed once in twenty times.

    Second computation of the limit: χ² with two degrees and parameter 15.443 exceeds 5.991 in 95 %.
    """
    assert critical_factor(math.inf) == pytest.approx(
        stats.rayleigh.isf(0.05, scale=math.sqrt(0.5)), rel=1e-12
    )
    assert 2 * critical_factor(math.inf) ** 2 == pytest.approx(stats.chi2.isf(0.05, 2), rel=1e-12)
    assert_printed("15.443", 2 * limit_factor(math.inf) ** 2)


def test_critical_value_and_detection_limit_of_a_coefficient() -> None:
    """Currie 1968, memory: 1.645 + 1.645 = 3.29 for one sign; for both signs 1.960 + 1.645 = 3.605."""
    assert_printed("1.960", signed_critical_factor(math.inf))
    assert_printed("3.605", signed_limit_factor(math.inf))


def test_tests_together() -> None:
    """Fisher, exact mathematics: two tests with p = 0.05 each: q (1 − ln q) with q = 0.0025."""
    q = 0.0025
    assert combined_chance(np.array([0.05, 0.05])) == pytest.approx(q * (1 - math.log(q)), rel=1e-12)
    assert combined_chance(np.array([0.3])) == pytest.approx(0.3, rel=1e-12)
