"""What is said of noise holds: bias, intervals and efficiency over many takes with a known contact."""

from functools import lru_cache

import numpy as np
import pytest
from scipy import stats
from tests.unit.resistance.impedance.drives import RATE, plan, tones_at

from ohmsworth.resistance.impedance.circuit import Circuit, Shunt
from ohmsworth.resistance.impedance.curve import Curve
from ohmsworth.resistance.impedance.from_takes import Takes, impedance
from ohmsworth.resistance.impedance.lockin import fold
from ohmsworth.resistance.impedance.noise import bins_beside, noise_beside, quiet_bins
from ohmsworth.resistance.impedance.phasors import Lines, Take
from ohmsworth.resistance.impedance.recording import recorded
from ohmsworth.resistance.impedance.windows import windows_for

PERIODS, TAKES = 8, 500
PLAN = plan(PERIODS)
CIRCUIT = Circuit(Shunt(0.1, tolerance=0.0), series=50.0, output=1.0, crosstalk=0.0)
CONTACT, NOISE = 3e-3, 2e-4
PLAYED = tones_at(PLAN, np.arange(PERIODS * RATE))
NONE = Lines(np.empty(0, int), np.empty((1, 2, 0), complex), np.empty((0, 2, 2), complex), np.empty(0))


def locked_in(shares: list[float], rng: np.random.Generator) -> Take:
    """Phasors of two inputs with white noise, by folding."""
    waves = np.column_stack([share * PLAYED for share in shares])
    waves += rng.normal(0, NOISE, waves.shape)
    windows = windows_for(PERIODS)
    spectra = fold(recorded("take", RATE, waves), 0, RATE, windows)
    quiet = quiet_bins(PLAN, PLAN.cycles, np.zeros(len(PLAN.cycles)))
    mean = spectra.mean(axis=0)
    told = [noise_beside(mean[:, bins_beside(quiet, line)]) for line in PLAN.cycles]
    noise, degrees = np.array([one[0] for one in told]), np.array([one[1] for one in told])
    return Take(Lines(PLAN.cycles, spectra[:, :, PLAN.cycles], noise, degrees), NONE, 0.0, 0.0, 0.0)


@lru_cache(maxsize=1)
def curves() -> list[Curve]:
    """Five hundred contacts of 3 mΩ beside 100 mΩ, their noise a tenth of their signal a tone."""
    rng, share = np.random.default_rng(12), CONTACT / 0.1
    found = []
    for _ in range(TAKES):
        straight, swapped = locked_in([1.0, share], rng), locked_in([share, 1.0], rng)
        found.append(impedance(PLAN, CIRCUIT, Takes(straight, swapped)).curve)
    return found


def test_intervals_of_95_percent_hold_the_truth_as_often_as_they_say() -> None:
    hits = []
    for part, at, truth in ((np.real, 0, CONTACT), (np.imag, 1, 0.0)):
        for curve in curves():
            half = stats.t.ppf(0.975, curve.degrees) * np.sqrt(curve.random[:, at, at])
            hits.append(np.abs(part(curve.value) - truth) <= half)
    # 6000 intervals: 95 % with a standard error of 0.3 %.
    assert 0.94 <= np.mean(hits) <= 0.96


def test_nothing_is_added_by_taking_magnitudes() -> None:
    mean = np.mean([curve.value for curve in curves()], axis=0)
    scatter = np.std([curve.value for curve in curves()], axis=0) / np.sqrt(2 * TAKES)
    assert (np.abs(mean.real - CONTACT) < 4 * scatter).all()
    assert (np.abs(mean.imag) < 4 * scatter).all()
    assert mean.real.mean() == pytest.approx(CONTACT, rel=1e-3)


def test_the_scatter_is_near_the_least_that_there_can_be() -> None:
    """Cramér-Rao: a sine in M samples of white noise σ has an amplitude known to σ √(2/M) (Kay 1993, example 3.14)."""
    amplitude = PLAN.amplitudes
    of_one = NOISE * np.sqrt(2 / (PERIODS * RATE)) / amplitude  # relative to the shunt's
    least = 0.1 * of_one * np.sqrt((1 + (CONTACT / 0.1) ** 2) / 2)  # two takes, both inputs
    scatter = np.std([curve.value.real for curve in curves()], axis=0, ddof=1)
    told = np.sqrt(np.mean([curve.random[:, 0, 0] for curve in curves()], axis=0))
    assert (scatter / least > 0.9).all()
    assert (scatter / least < 1.2).all()
    assert (told / least < 1.2).all()
