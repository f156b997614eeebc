from dataclasses import replace

import numpy as np
import pytest
from tests.unit.resistance.impedance.drives import RATE, noisy, plan, played

from ohmsworth.resistance.impedance.clock import read_clock
from ohmsworth.resistance.impedance.locate import TakeNotFound, locate
from ohmsworth.resistance.impedance.recording import recorded
from ohmsworth.resistance.impedance.take import OtherRate, read_take
from ohmsworth.resistance.impedance.tone_plan import Way


@pytest.mark.parametrize("start", [1, 3000, 3000.5, 21_777.25])
def test_a_take_is_found_wherever_it_begins(start: float) -> None:
    place = locate(plan(), noisy(played(plan(), start=start), 1e-3, seed=1))
    assert place.start == pytest.approx(start, abs=0.05)
    assert place.clock == pytest.approx(0, abs=2e-6)


def test_a_take_is_found_by_whichever_input_hears_it() -> None:
    for shares in [(1e-4, 1.0), (1.0, -1e-4), (-0.5, 0.5)]:
        place = locate(plan(), noisy(played(plan(), shares), 1e-4, seed=2))
        assert place.start == pytest.approx(3000, abs=0.05)


def test_a_long_wait_before_the_take_is_looked_through(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("ohmsworth.resistance.impedance.locate.AT_ONCE", 7000)
    assert locate(plan(), played(plan(), start=40_000)).start == pytest.approx(40_000, abs=0.05)


def test_noise_alone_holds_no_take() -> None:
    waves = np.random.default_rng(1).normal(0, 0.1, (200_000, 2))
    with pytest.raises(TakeNotFound, match=r"noise\.wav: found no such sweep"):
        locate(plan(), recorded("noise.wav", RATE, waves))


def test_silence_holds_no_take() -> None:
    with pytest.raises(TakeNotFound):
        locate(plan(), recorded("silence.wav", RATE, np.zeros((200_000, 2))))


def test_a_recording_that_is_too_short_says_how_long_it_has_to_be() -> None:
    with pytest.raises(TakeNotFound, match=r"short\.wav: found 2\.5 s of sound; expected 7\.8 s"):
        locate(plan(), recorded("short.wav", RATE, np.zeros((20_000, 2))))


def test_a_recording_that_ends_before_the_last_mark_is_refused() -> None:
    whole = played(plan(), start=30_000)
    cut = whole.whole(0, 30_000 + plan().last_mark.start - 100)
    with pytest.raises(TakeNotFound):
        locate(plan(), recorded("cut.wav", RATE, cut))


def test_samples_that_are_missing_in_the_middle_are_told() -> None:
    waves = played(plan(), start=3000).whole(0, 70_000)
    gap = np.delete(waves, slice(30_000, 31_000), axis=0)
    with pytest.raises(TakeNotFound, match="something is missing"):
        locate(plan(), recorded("gap.wav", RATE, np.concatenate([gap, np.zeros((9000, 2))])))


@pytest.mark.parametrize("clock", [0.0, 2e-7, -3e-6, 5e-5, -1e-3])
@pytest.mark.parametrize("way", ["together", "in turn"])
def test_the_clock_is_read_from_the_tones(clock: float, way: Way) -> None:
    of = plan(8, way)
    recording = noisy(played(of, clock=clock), 1e-5, seed=4)
    found = read_clock(of, recording, locate(of, recording))
    assert found.difference == pytest.approx(clock, abs=max(6 * found.uncertainty, 1e-10))
    assert found.uncertainty < 1e-8
    assert found.shared == (clock == 0)


@pytest.mark.parametrize("clock", [0.0, 4e-5])
@pytest.mark.parametrize("way", ["together", "in turn"])
def test_the_ratio_of_the_inputs_is_found(clock: float, way: Way) -> None:
    of = plan(6, way)
    take = read_take(of, noisy(played(of, (1.0, -0.03), clock=clock), 1e-4, seed=6))
    assert take.shared_clock == (clock == 0)
    mean = take.tones.mean
    # Standard deviation of a phasor: σ √(4/M), M samples of noise σ.
    sd = 1e-4 * np.sqrt(4 / (6 * RATE))
    assert np.abs(mean[1] / mean[0] + 0.03).max() < 4 * sd / 0.06
    assert np.abs(np.abs(mean[0]) - 0.06).max() < 4 * sd + 0.06 * 2e-6


@pytest.mark.parametrize("clock", [0.0, 4e-5])
def test_the_noise_told_is_that_which_was_added(clock: float) -> None:
    of = plan(8)
    quiet = played(of, clock=clock)
    takes = [read_take(of, noisy(quiet, 1e-4, seed)) for seed in range(6)]
    wanted = 4 * 1e-8 / (8 * RATE)
    for lines in ([take.tones for take in takes], [take.products for take in takes]):
        told = np.mean([part.noise[:, [0, 1], [0, 1]].real.mean(axis=0) for part in lines], axis=0) / wanted
        # Soft ends of an eighth: (1 − 5a/8)/(1 − a/2)² with a = 1/4 (Harris 1978).
        assert told == pytest.approx([1.102, 1.102], abs=0.09)
        assert (lines[0].degrees > 60).all()


def test_tones_of_another_clock_do_not_pass_for_noise() -> None:
    of = plan(8)
    quiet = read_take(of, played(of, clock=1e-4))
    assert np.sqrt(quiet.tones.noise[:, 0, 0].real.max()) < 0.06 * 3e-7


def test_noise_that_both_inputs_share_is_told_as_shared() -> None:
    of = plan(8)
    recording = played(of)
    waves = recording.whole(0, recording.frames)
    common = np.random.default_rng(3).normal(0, 1e-4, len(waves))
    take = read_take(of, recorded("take", RATE, waves + common[:, None]))
    noise = take.tones.noise
    assert noise[:, 0, 1].real == pytest.approx(noise[:, 0, 0].real, rel=1e-6)


def test_a_whistle_beside_a_tone_is_no_noise() -> None:
    of = plan(8)
    recording = noisy(played(of), 1e-4, seed=8)
    waves = recording.whole(0, recording.frames)
    whistle = 0.01 * np.cos(2 * np.pi * 325 * np.arange(len(waves)) / RATE)
    before = read_take(of, recording).tones.noise[2, 1, 1].real
    after = read_take(of, recorded("take", RATE, waves + whistle[:, None])).tones.noise[2, 1, 1].real
    assert after == pytest.approx(before, rel=0.3)


def test_another_rate_is_refused() -> None:
    with pytest.raises(OtherRate, match="found 44100 samples a second; expected 8000"):
        read_take(plan(), replace(played(plan()), rate=44_100))
