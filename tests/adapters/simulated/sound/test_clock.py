"""A signal at any instants is what its Fourier sum says."""

import numpy as np
import pytest

from ohmsworth.adapters.simulated.sound.clock import at_instants


@pytest.mark.parametrize("samples", [64, 1000, 4098])
def test_the_error_is_below_minus_200_decibels(samples: int) -> None:
    rng = np.random.default_rng(samples)
    spectrum = np.fft.rfft(rng.standard_normal(samples))
    spectrum[-1] = 0
    instants = np.concatenate([rng.uniform(-samples, 2 * samples, 500), np.arange(20.0)])
    number = np.arange(len(spectrum))
    weights = np.where(number == 0, 1, 2) / samples
    turned = np.exp(2j * np.pi * number * instants[:, None] / samples)
    summed = (turned * (weights * spectrum)).real.sum(axis=1)
    error = at_instants(spectrum, samples, instants) - summed
    assert 20 * np.log10(np.abs(error).max() / summed.std()) < -200


def test_a_tone_close_to_half_the_rate_comes_through_whole() -> None:
    samples, cycle = 4096, 2040
    spectrum = np.zeros(samples // 2 + 1, complex)
    spectrum[cycle] = samples / 2 * np.exp(0.4j)
    instants = np.arange(3000) * 1.00003 + 0.37
    expected = np.cos(2 * np.pi * cycle * instants / samples + 0.4)
    assert np.abs(at_instants(spectrum, samples, instants) - expected).max() < 1e-10
