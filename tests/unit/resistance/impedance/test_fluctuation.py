"""Resistances that rest, drift and fluctuate."""

import numpy as np
import pytest

from ohmsworth.errors import ArgumentFault
from ohmsworth.resistance.impedance.fluctuation import Fluctuation, fluctuation
from ohmsworth.resistance.impedance.phasors import Lines

CYCLES = np.array([100, 300, 1000])
RATIO = 0.05 + 1e-6j * CYCLES
#: Relative noise of one group at each tone.
NOISE = np.array([1e-4, 2e-4, 1e-4])


def heard(change: np.ndarray, seed: int, turned: bool = False, quiet: float = 1.0) -> Lines:
    """Groups of a contact whose resistance changes by `change`, shape (groups,) or (groups, tones)."""
    random = np.random.default_rng(seed)
    groups, tones = len(change), len(CYCLES)
    x = np.broadcast_to(change.reshape(groups, -1), (groups, tones))
    # The drive swings ten times as much as the noise, in both inputs alike.
    drive = 0.5 * np.exp(1j * np.arange(tones)) * (1 + 1e-3 * random.normal(size=(groups, 1)))
    n = quiet * (random.normal(size=(groups, tones)) + 1j * random.normal(size=(groups, tones)))
    across = drive * (RATIO + RATIO.real * x) + 0.5 * RATIO.real * NOISE * n
    pair = (drive, across) if turned else (across, drive)
    noise = np.zeros((tones, 2, 2), complex)
    noise[:, int(turned), int(turned)] = 2 * (0.5 * RATIO.real * NOISE * quiet) ** 2 / groups
    return Lines(CYCLES, np.stack(pair, 1), noise, np.full(tones, 2.0 * groups))


def pink(groups: int, seed: int, exponent: float = 1.0) -> np.ndarray:
    """Noise with S = 1/f^exponent at a group a second, longer by far than what is taken of it."""
    random = np.random.default_rng(seed + 5000)
    length = 16 * groups
    f = np.fft.rfftfreq(length)
    f[0] = np.inf
    white = random.normal(size=len(f)) + 1j * random.normal(size=len(f))
    return np.fft.irfft(white * np.sqrt(f**-exponent * length) / 2, length)[:groups]


def white(groups: int, seed: int) -> np.ndarray:
    return np.random.default_rng(seed + 9000).normal(size=groups)


def rates(draws: list[Fluctuation]) -> dict[str, float]:
    return {
        word: float(np.mean([d.verdict == word for d in draws]))
        for word in ("at rest", "drifts", "fluctuates")
    }


@pytest.mark.parametrize("way", ["together", "in turn"])
@pytest.mark.parametrize("groups", [8, 40])
def test_a_contact_at_rest_is_told_so_in_nineteen_of_twenty(groups: int, way: str) -> None:
    """600 draws: 5 % ± four standard errors (0.9 %); the line taken off makes few groups tell a little less."""
    draws = [fluctuation(heard(np.zeros(groups), seed), 0.5, way) for seed in range(600)]  # type: ignore[arg-type]
    found = rates(draws)
    assert 0.014 < 1 - found["at rest"] < 0.086, found
    # The floor measured is the one that the noise leads one to expect.
    assert np.mean([d.floor.mean() for d in draws]) == pytest.approx(draws[0].expected, rel=0.05)


def test_what_may_hide_is_bounded() -> None:
    draws = [fluctuation(heard(2e-5 * white(30, seed), seed), 1.0) for seed in range(300)]
    assert np.mean([d.rms_high > 2e-5 for d in draws]) >= 0.92
    assert np.median([d.rms_high for d in draws]) < 1.2e-4


def test_planted_white_fluctuation() -> None:
    draws = [fluctuation(heard(1e-3 * white(60, seed), seed), 1.0) for seed in range(40)]
    assert rates(draws)["fluctuates"] == 1
    assert np.mean([d.rms for d in draws]) == pytest.approx(1e-3, rel=0.06)
    assert np.mean([d.rms_low < 1e-3 < d.rms_high for d in draws]) > 0.75
    laws = [d.law for d in draws if d.law]
    assert np.mean([law.low <= 0.0 for law in laws]) > 0.8


@pytest.mark.parametrize("exponent", [1.0, 1.5])
def test_planted_power_law(exponent: float) -> None:
    """The interval of α has the planted one inside in most draws, and the spectrum at 1 Hz is the planted one."""
    draws = [fluctuation(heard(3e-4 * pink(100, seed, exponent), seed), 1.0) for seed in range(40)]
    assert rates(draws)["fluctuates"] > 0.9
    laws = [d.law for d in draws if d.law]
    assert np.mean([law.low <= exponent <= law.high for law in laws]) > 0.82
    assert np.mean([law.exponent for law in laws]) == pytest.approx(exponent, abs=0.25)
    assert np.exp(np.mean([np.log(law.at_one_hertz) for law in laws])) == pytest.approx(9e-8, rel=0.5)


def test_few_groups_leave_the_exponent_open() -> None:
    law = fluctuation(heard(2e-3 * pink(12, 3), 3), 1.0).law
    assert law is not None
    assert law.high - law.low > 0.8
    assert fluctuation(heard(2e-3 * pink(11, 3), 3), 1.0).law is None


def test_planted_drift() -> None:
    t = 0.5 * np.arange(30)
    draws = [fluctuation(heard(2e-5 * t, seed), 0.5) for seed in range(100)]
    assert rates(draws)["drifts"] > 0.9
    scores = np.array([(d.drift - 2e-5) / d.drift_uncertainty for d in draws])
    assert abs(scores.mean()) < 0.4
    assert 0.8 < scores.std() < 1.25
    assert draws[0].time == pytest.approx(t)
    assert draws[0].change[-1] - draws[0].change[0] == pytest.approx(2e-5 * 14.5, abs=4e-4)


def test_in_turn_a_drift_is_told_from_each_tone() -> None:
    found = fluctuation(heard(2e-5 * np.arange(40.0), 1), 1.0, "in turn")
    assert found.verdict == "drifts"
    assert found.drift == pytest.approx(2e-5, abs=4 * found.drift_uncertainty)


def test_inputs_swapped_and_louder_noise_change_the_floor_alone() -> None:
    one, other = (
        fluctuation(heard(1e-3 * pink(40, 1), 1, turned), 1.0, contact_input=int(turned))
        for turned in (False, True)
    )
    assert other.change == pytest.approx(one.change, abs=1e-6)
    loud = fluctuation(heard(1e-3 * pink(40, 1), 1, quiet=3.0), 1.0)
    assert loud.floor.mean() == pytest.approx(9 * one.floor.mean(), rel=0.01)
    assert loud.expected == pytest.approx(9 * one.expected, rel=0.01)


def test_spectrum_of_a_sine_by_hand() -> None:
    """A sine of amplitude a has a²/2 in one bin of width 1/(G T)."""
    wave = 0.01 * np.cos(2 * np.pi * 5 * np.arange(50) / 50)
    found = fluctuation(heard(wave, 1, quiet=1e-3), 2.0)
    assert found.frequency[4] == pytest.approx(5 / 100)
    assert found.spectrum[4] == pytest.approx(0.01**2 / 2 * 100, rel=1e-3)


def test_refused() -> None:
    with pytest.raises(ArgumentFault, match="record longer"):
        fluctuation(heard(np.zeros(5), 1), 1.0)
    with pytest.raises(ArgumentFault, match="duration"):
        fluctuation(heard(np.zeros(9), 1), 0.0)
