"""Noise and hum of an interface, planted and found again."""

from __future__ import annotations

import numpy as np
import pytest
from tests.tone_takes import a_plan

from ohmsworth.resistance.impedance.drive import drive
from ohmsworth.resistance.impedance.interface import hum_of, noise_of
from ohmsworth.resistance.impedance.recording import Recording, recorded
from ohmsworth.resistance.impedance.take import read_take
from ohmsworth.resistance.impedance.tone_plan import Way

SIGMA = np.array([3e-4, 1e-4])


def heard(way: Way, seed: int, added: np.ndarray | None = None) -> Recording:
    plan = a_plan(way=way, tones=5, periods=16)
    waves = np.outer(drive(plan, 0, plan.length), [0.5, 0.3])
    waves = waves + np.random.default_rng(seed).normal(0, 1, waves.shape) * SIGMA
    if added is not None:
        waves = waves + added[: len(waves)]
    return recorded("take", plan.rate, waves)


@pytest.mark.parametrize("way", ["together", "in turn"])
def test_the_density_of_white_noise_is_found(way: Way) -> None:
    plan = a_plan(way=way, tones=5, periods=16)
    found = np.mean([noise_of(read_take(plan, heard(way, seed)).tones, plan) for seed in range(4)], axis=0)
    # σ √(2/rate); 4 × 80 degrees of freedom or so a tone.
    assert found == pytest.approx(np.outer(SIGMA * np.sqrt(2 / plan.rate), np.ones(5)), rel=0.2)
    assert found.mean(axis=1) == pytest.approx(SIGMA * np.sqrt(2 / plan.rate), rel=0.05)


@pytest.mark.parametrize("mains", [50.0, 60.0])
def test_hum_is_found_by_its_frequency_and_size(mains: float) -> None:
    plan = a_plan(tones=5, periods=16)
    time = np.arange(plan.length) / plan.rate
    wave = 2e-3 * np.cos(2 * np.pi * mains * time + 0.3) + 1e-3 * np.sin(2 * np.pi * 3 * mains * time)
    take = heard("together", 1, np.outer(wave, [1.0, 0.0]))
    found = hum_of(take, plan, 0.0)
    assert found is not None
    assert found.mains == mains
    assert found.rms[0] == pytest.approx(np.sqrt((2e-3**2 + 1e-3**2) / 2), rel=0.03)
    assert found.rms[1] == 0.0


def test_noise_alone_is_hardly_ever_told_as_hum() -> None:
    plan = a_plan(tones=5, periods=16)
    noise = [np.random.default_rng(seed).normal(0, 1e-4, (plan.silence, 2)) for seed in range(60)]
    told = [hum_of(recorded("silence", plan.rate, waves), plan, 0.0) for waves in noise]
    assert sum(one is not None and max(one.rms) > 0 for one in told) <= 2


def test_without_silence_nothing_is_said_of_hum() -> None:
    plan = a_plan(tones=5, periods=16)
    assert hum_of(heard("together", 1), plan, -0.9 * plan.silence) is None
