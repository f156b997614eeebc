"""A sine of known frequency in samples (published values: tests/published/test_impedance.py)."""

import numpy as np
import pytest

from ohmsworth.errors import ArgumentFault
from ohmsworth.resistance.impedance.sine_fit import three_parameter_fit


def test_over_whole_cycles_it_is_the_discrete_transform() -> None:
    y = np.random.default_rng(1).normal(size=480)
    spectrum = np.fft.rfft(y)
    for cycles in (1, 7, 239):
        found = three_parameter_fit(y, 480.0, cycles)
        assert found.phasor == pytest.approx(2 / 480 * spectrum[cycles], rel=1e-10)
        assert found.offset == pytest.approx(y.mean(), abs=1e-12)


def test_a_part_of_a_cycle_is_enough() -> None:
    phase = 2 * np.pi * 0.3 * np.arange(500) / 500
    found = three_parameter_fit(2 * np.cos(phase) - 5 * np.sin(phase) + 9, 500.0, 0.3)
    assert found.phasor == pytest.approx(2 + 5j, rel=1e-8)
    assert found.degrees == 497


@pytest.mark.parametrize(
    ("samples", "frequency", "name"),
    [
        (np.zeros(3), 1.0, "samples"),
        (np.zeros((9, 2)), 1.0, "samples"),
        (np.zeros(9), 4.5, "frequency"),
        (np.zeros(9), 0.0, "frequency"),
    ],
)
def test_refused(samples: np.ndarray, frequency: float, name: str) -> None:
    with pytest.raises(ArgumentFault, match=name):
        three_parameter_fit(samples, 9.0, frequency)
