"""Phases lower the crest factor and touch nothing else."""

import numpy as np
import pytest

from ohmsworth.resistance.impedance.crest import crest_factor, low_crest_phases, schroeder_phases
from ohmsworth.resistance.impedance.drive import sum_of_tones
from ohmsworth.resistance.impedance.tones import choose_cycles


@pytest.mark.parametrize("tones", [15, 31, 63, 127])
def test_schroeder_of_equal_tones_is_about_1_7(tones: int) -> None:
    # Schroeder 1970, from memory: about 1.7 for flat spectra of many harmonics; cosines in step have √(2 tones).
    cycles = np.arange(1, tones + 1)
    found = crest_factor(cycles, np.ones(tones), schroeder_phases(cycles, np.ones(tones)))
    assert found == pytest.approx(1.7, abs=0.1)
    assert crest_factor(cycles, np.ones(tones), np.zeros(tones)) == pytest.approx(np.sqrt(2 * tones))


def test_schroeder_is_his_formula() -> None:
    # φ_k = φ_1 − π k (k − 1)/N for N equal harmonics (from memory).
    k = np.arange(1, 21)
    by_formula = np.exp(-1j * np.pi * k * (k - 1) / 20)
    assert np.exp(1j * schroeder_phases(k, np.ones(20))) == pytest.approx(by_formula)


@pytest.mark.parametrize(("tones", "seconds"), [(1, 1), (2, 1), (11, 1), (21, 1), (31, 2)])
def test_never_worse_than_the_start(tones: int, seconds: int) -> None:
    cycles = choose_cycles(48_000, 48_000 * seconds, 20.0, 20e3, tones)
    amplitudes = np.ones(tones)
    start = crest_factor(cycles, amplitudes, schroeder_phases(cycles, amplitudes))
    phases = low_crest_phases(cycles, amplitudes)
    assert crest_factor(cycles, amplitudes, phases) <= start
    assert (phases == low_crest_phases(cycles, amplitudes)).all()


def test_dense_tones_gain() -> None:
    cycles, amplitudes = np.arange(5, 45), np.ones(40)
    phases = low_crest_phases(cycles, amplitudes)
    assert crest_factor(cycles, amplitudes, phases) < 1.65
    assert crest_factor(cycles, amplitudes, schroeder_phases(cycles, amplitudes)) > 1.7


def test_unequal_amplitudes_stay_as_they_are() -> None:
    cycles = np.array([3, 10, 31, 100])
    amplitudes = np.array([1.0, 0.2, 0.5, 0.1])
    phases = low_crest_phases(cycles, amplitudes)
    lines = np.fft.rfft(sum_of_tones(1024, cycles, amplitudes, phases)) / 512
    assert np.abs(lines[cycles]) == pytest.approx(amplitudes)
    assert np.abs(np.delete(lines, cycles)).max() < 1e-12
