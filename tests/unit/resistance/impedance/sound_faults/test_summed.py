"""The quick sum is the plain one."""

from __future__ import annotations

import numpy as np
import pytest

from ohmsworth.resistance.impedance.sound_faults.summed import summed_at


@pytest.mark.parametrize("samples", [1, 255, 256, 257, 5000])
def test_the_sum_is_the_plain_one(samples: int) -> None:
    waves = np.random.default_rng(samples).normal(size=(samples, 2))
    turns = np.array([0.0, 1e-4, 0.123456, 0.49, 0.7])
    plain = np.exp(-2j * np.pi * np.outer(turns, np.arange(samples))) @ waves
    assert summed_at(waves, turns) == pytest.approx(plain, abs=1e-9 * samples)
    assert summed_at(waves[:, 1], turns) == pytest.approx(plain[:, 1], abs=1e-9 * samples)
