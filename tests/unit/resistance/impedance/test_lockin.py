import numpy as np
import pytest
from tests.unit.resistance.impedance.drives import CYCLES, RATE, noisy, plan, played, tones_at

from ohmsworth.resistance.impedance.lockin import Timing, demodulate, fold
from ohmsworth.resistance.impedance.recording import recorded
from ohmsworth.resistance.impedance.windows import Windows

NONE = np.empty(0)
TONES = np.array(CYCLES, float)


def planted(samples: float, clock: float = 0.0, seed: int = 1) -> tuple[np.ndarray, np.ndarray]:
    """Two inputs with tones of chance phasors, and these."""
    rng = np.random.default_rng(seed)
    truth = rng.normal(size=(2, len(CYCLES))) + 1j * rng.normal(size=(2, len(CYCLES)))
    turn = 2j * np.pi * TONES / (RATE * (1 + clock))
    at = np.arange(int(samples * (1 + clock)) + 2)
    waves = (truth @ np.exp(turn[:, None] * at)).real
    return waves.T, truth


def test_folding_finds_what_was_planted() -> None:
    waves, truth = planted(6 * RATE)
    spectra = fold(recorded("take", RATE, waves), 0, RATE, Windows(1, 5))
    assert spectra.shape == (5, 2, RATE // 2 + 1)
    for group in spectra:
        assert np.allclose(group[:, list(CYCLES)], truth, atol=1e-10)
    quiet = np.setdiff1d(np.arange(RATE // 2 + 1), CYCLES)
    assert np.abs(spectra[:, :, quiet]).max() < 1e-10


@pytest.mark.parametrize("clock", [0.0, 3e-6, -1e-4, 1e-3])
def test_fits_find_what_was_planted_by_any_clock(clock: float) -> None:
    waves, truth = planted(6 * RATE, clock)
    timing = Timing(0.0, 1 + clock, RATE)
    found, _ = demodulate(recorded("take", RATE, waves), timing, Windows(1, 5), TONES, NONE)
    assert np.abs(found - truth).max() < 3e-6
    assert np.abs(found.mean(axis=0) - truth).max() < 1e-6


def test_a_fit_is_the_weighted_least_squares_of_its_window() -> None:
    """The normal matrix in closed form against a general solver on the samples, tones close together and noise on top."""
    cycles = np.array([21.3, 22.9, 26.1])
    rng = np.random.default_rng(5)
    waves = rng.normal(size=(2 * RATE, 2))
    found, _ = demodulate(recorded("take", RATE, waves), Timing(0.0, 1.0, RATE), Windows(1, 1), cycles, NONE)
    at = np.arange(2 * RATE)
    weight = 0.5 - 0.5 * np.cos(np.pi * at / RATE)
    angle = 2 * np.pi * cycles * at[:, None] / RATE
    columns = np.concatenate([np.cos(angle), -np.sin(angle)], axis=1) * np.sqrt(weight)[:, None]
    wanted = np.linalg.lstsq(columns, waves * np.sqrt(weight)[:, None], rcond=None)[0]
    assert np.allclose(found[0], (wanted[:3] + 1j * wanted[3:]).T, rtol=1e-6, atol=1e-8)


def test_folding_and_fitting_agree_where_there_is_one_clock() -> None:
    recording = noisy(played(plan(periods=6), start=0), 1e-3, seed=3)
    start = plan(periods=6).main[0].start
    folded = fold(recording, start, RATE, Windows(1, 5))[:, :, list(CYCLES)]
    fitted, _ = demodulate(recording, Timing(start, 1.0, RATE), Windows(1, 5), TONES, NONE)
    assert np.abs(folded - fitted).max() < 1e-6


def test_weak_products_are_found_beside_strong_tones() -> None:
    of, clock = plan(periods=10), 2e-5
    products = np.array([42.0, 158.0, 58.0])
    at = np.arange(int(10 * RATE * (1 + clock)) + 5) / (1 + clock)
    weak = 1e-6 * np.cos(2 * np.pi * products[:, None] * at / RATE).sum(axis=0)
    waves = np.column_stack([tones_at(of, at), 0.01 * tones_at(of, at) + weak])
    _, found = demodulate(
        recorded("take", RATE, waves), Timing(0.0, 1 + clock, RATE), Windows(1, 9), TONES, products
    )
    assert np.abs(found[1] - 1e-6).max() < 2e-8
    assert np.abs(found[0]).max() < 2e-8


def test_hum_beside_a_tone_is_held_off() -> None:
    """Hum as strong as the tone, 21 Hz away and on no whole cycle: a part in ten thousand is left, not of the noise."""
    at = np.arange(20 * RATE)
    tone = np.cos(2 * np.pi * 79 * at / RATE)
    hum = np.cos(2 * np.pi * 100.03 * at / RATE)
    spectra = fold(recorded("take", RATE, np.column_stack([tone, tone + hum])), 0, RATE, Windows(2, 9))
    assert abs(spectra.mean(axis=0)[1, 79] - 1) < 2e-4


def test_long_recordings_are_read_in_pieces() -> None:
    seen = []
    waves, _ = planted(40 * RATE)
    whole = recorded("take", RATE, waves)

    def read(start: int, stop: int, size: int):  # type: ignore[no-untyped-def]
        seen.append(size)
        return whole.read(start, stop, size)

    from dataclasses import replace

    fold(replace(whole, read=read), 0, RATE, Windows(2, 19))
    assert max(seen) <= 64 * 4096
