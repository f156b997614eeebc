"""Each of the faults by itself, on waves made by hand: where its limits lie, and what it says."""

from dataclasses import replace

import numpy as np
import pytest
from tests.tone_takes import a_plan

from ohmsworth.errors import ArgumentFault
from ohmsworth.resistance.impedance.circuit import Circuit, Shunt
from ohmsworth.resistance.impedance.drive import drive, level_tone
from ohmsworth.resistance.impedance.recording import recorded
from ohmsworth.resistance.impedance.sound_faults.all_faults import sound_faults
from ohmsworth.resistance.impedance.sound_faults.clipping import clipping
from ohmsworth.resistance.impedance.sound_faults.connections import (
    dead_input,
    exchanged,
    leads_as_said,
    same_again,
)
from ohmsworth.resistance.impedance.sound_faults.dropouts import dropouts
from ohmsworth.resistance.impedance.sound_faults.heard import Heard, heard
from ohmsworth.resistance.impedance.sound_faults.hum import hum
from ohmsworth.resistance.impedance.sound_faults.level import level_low
from ohmsworth.resistance.impedance.sound_faults.losses import losses
from ohmsworth.resistance.impedance.sound_faults.placed import PlacedTake
from ohmsworth.resistance.impedance.sound_faults.processing import processing
from ohmsworth.resistance.impedance.sound_faults.rate import cut_off, other_rate
from ohmsworth.resistance.impedance.sound_faults.slips import slips
from ohmsworth.resistance.impedance.tone_plan import Stretch, TonePlan

PLAN = a_plan(periods=12)
CIRCUIT = Circuit(Shunt(0.1), series=20.0, output=2.0)
START = 3000


def a_wave(plan: TonePlan = PLAN, contact: float = 0.3, noise: float = 1e-5, seed: int = 1) -> np.ndarray:
    """A take: the drive on the first input, a part of it on the second, and noise; shape (samples, 2)."""
    waves = np.zeros((plan.length + 2 * START, 2))
    waves[START : START + plan.length] = drive(plan, 0, plan.length)[:, None] * [0.7, 0.7 * contact]
    return waves + noise * np.random.default_rng(seed).standard_normal(waves.shape)


def placed(
    waves: np.ndarray,
    plan: TonePlan = PLAN,
    bits: int | None = 24,
    start: float = START,
    clock: float = 0.0,
    name: str = "take",
) -> PlacedTake:
    """Where the drive lies in `waves`, rounded to `bits`."""
    if bits:
        waves = np.round(waves * 2.0 ** (bits - 1)) / 2.0 ** (bits - 1)
    return PlacedTake(recorded(name, plan.rate, waves, bits), plan, start, clock)


def main_sample(share: float, plan: TonePlan = PLAN) -> int:
    """Sample of the wave at a share of the tones."""
    return START + round(plan.main[0].start + share * (plan.main[-1].stop - plan.main[0].start))


@pytest.mark.parametrize("way", ["together", "in turn"])
@pytest.mark.parametrize("bits", [16, 24, 32, None])
def test_a_good_take_has_none(way: str, bits: int | None) -> None:
    plan = a_plan(periods=8, way=way, tones=5)  # type: ignore[arg-type]
    assert sound_faults(placed(a_wave(plan), plan, bits), CIRCUIT, 0) == ()


def test_a_take_without_any_noise_has_none_but_what_it_lacks() -> None:
    # Player and recorder on one clock, 16 bits: the tones repeat exactly, period after period.
    assert sound_faults(placed(a_wave(noise=0.0), bits=16), CIRCUIT, 0) == ()


@pytest.mark.parametrize("steps", [0.003, 0.02, 0.05])
def test_tones_that_repeat_almost_exactly_are_no_repeated_blocks(steps: float) -> None:
    # Noise far below a step: here and there the samples of one cycle are those of the last.
    plan = a_plan(periods=8, way="in turn", tones=3)
    take = placed(a_wave(plan, noise=steps * 2.0**-15), plan, 16)
    assert dropouts(take, heard(take)) == []


def test_where_parts_lie_and_what_they_are_called() -> None:
    take = placed(a_wave(), start=100.4, clock=1e-3)
    assert take.stretch(Stretch(1000, 3000)) == Stretch(1101, 3103)
    assert take.stretch(Stretch(1000, 3000), 0.5, 1.0) == Stretch(2102, 3103)
    assert take.stretch(Stretch(10**8, 2 * 10**8)) == Stretch(take.recording.frames, take.recording.frames)
    names = [
        take.told(take.at(sample)).partition("(")[2]
        for sample in (
            0,
            PLAN.first_mark.start + 1,
            PLAN.level_check.start - 1,
            PLAN.level_check.start + 1,
            PLAN.level_check.stop + 1,
            PLAN.main[0].start,
            PLAN.last_mark.start - 1,
            PLAN.last_mark.start + 1,
            PLAN.length,
        )
    ]
    assert names == [
        "before the first mark)",
        "in the first mark)",
        "after the first mark)",
        "in the level check)",
        "after the level check)",
        "in the tones)",
        "after the tones)",
        "in the last mark)",
        "after the last mark)",
    ]
    with pytest.raises(ArgumentFault, match="clock"):
        replace(take, clock=-1.0)


def test_levels_are_those_of_the_waves() -> None:
    take = placed(a_wave(noise=1e-4), bits=None)
    sound = heard(take)
    tones = drive(PLAN, PLAN.main[0].start, PLAN.main[0].stop).std()
    assert sound.tones == pytest.approx([0.7 * tones, 0.21 * tones], rel=1e-3)
    assert np.abs(sound.check) == pytest.approx([0.7 * 0.8, 0.21 * 0.8], rel=1e-3)
    # A Hann window over M samples leaves √(4 σ² · 1.5/M) / √2 · √2 of white noise in a phasor.
    samples = 0.75 * PLAN.level
    assert sound.grass == pytest.approx(np.full(2, 1e-4 * np.sqrt(4 * 1.5 / samples)), rel=0.25)
    assert level_tone(PLAN) == pytest.approx(1000, rel=0.5)


def test_a_few_samples_at_full_scale_are_counted_and_placed() -> None:
    waves = a_wave()
    at = main_sample(0.5)
    waves[at : at + 3, 1] = 1 - 2.0**-23
    (doubt,) = clipping(placed(waves), heard(placed(waves)))
    assert doubt.code == "CLIPPED"
    assert f"input 2 is at full scale in 3 samples, first at {at / 48000:.2f} s (in the tones)" in doubt.words


def test_a_floating_sample_beyond_full_scale_is_no_clipping() -> None:
    waves = 3 * a_wave()
    assert np.abs(waves).max() > 1
    assert clipping(placed(waves, bits=None), heard(placed(waves, bits=None))) == []
    limited = np.clip(waves, -1, 1)
    assert clipping(placed(limited, bits=None), heard(placed(limited, bits=None)))


@pytest.mark.parametrize("way", ["together", "in turn"])
def test_flat_tops_below_full_scale(way: str) -> None:
    plan = a_plan(periods=8, way=way, tones=6)  # type: ignore[arg-type]
    waves = a_wave(plan)
    flat = np.clip(waves, -0.42, 0.42)
    (doubt,) = clipping(placed(flat, plan), heard(placed(flat, plan)))
    assert "the tops of input 1 are flat at 0.42 of full scale" in doubt.words
    assert clipping(placed(waves, plan), heard(placed(waves, plan))) == []


@pytest.mark.parametrize(("length", "seen"), [(20, False), (60, True), (700, True)])
@pytest.mark.parametrize("value", [0.0, 0.05])
def test_samples_that_stand_still(length: int, seen: bool, value: float) -> None:
    waves = a_wave()
    at = main_sample(0.3)
    waves[at : at + length] = value
    found = dropouts(placed(waves), heard(placed(waves)))
    assert bool(found) == seen
    if seen:
        assert (
            f"stand still in one place, for up to {length} samples, first at {at / 48000:.2f}"
            in found[0].words
        )


@pytest.mark.parametrize(("length", "seen"), [(40, False), (64, True), (1024, True), (8192, True)])
def test_blocks_that_stand_there_twice(length: int, seen: bool) -> None:
    waves = a_wave()
    for share in (0.4, 0.8):
        at = main_sample(share)
        waves[at : at + length] = waves[at - length : at].copy()
    found = dropouts(placed(waves), heard(placed(waves)))
    assert bool(found) == seen
    if seen:
        assert f"a block of {length} samples stands there twice in 2 places" in found[0].words


@pytest.mark.parametrize("periods", [7, 12])
@pytest.mark.parametrize("way", ["together", "in turn"])
@pytest.mark.parametrize(
    ("samples", "words"), [(-1, "1 samples earlier"), (-300, "300 samples earlier"), (5, "5 samples later")]
)
def test_samples_that_are_missing_or_came_in_between(
    way: str, samples: int, words: str, periods: int
) -> None:
    plan = a_plan(periods=periods, way=way, tones=7 if way == "together" else 3)  # type: ignore[arg-type]
    waves = a_wave(plan)
    at = main_sample(0.13 if way == "in turn" else 0.6, plan)
    if samples < 0:
        waves = np.delete(waves, slice(at, at - samples), axis=0)
    else:
        waves = np.insert(waves, at, np.tile(waves[at], (samples, 1)), axis=0)
    # As the marks on both sides of it would tell.
    clock = samples / (plan.last_mark.start - plan.first_mark.start)
    (doubt,) = slips(placed(waves, plan, clock=clock), 0)
    assert words in doubt.words
    place = float(doubt.words.split("about ")[1].split(" s")[0])
    assert place == pytest.approx(at / plan.rate, abs=0.2)
    assert slips(placed(a_wave(plan), plan), 0) == []


@pytest.mark.parametrize(
    ("rate", "clock", "words"),
    [
        (44100, 0.0, "the marks lie as far apart as at 48000 Hz"),
        (48000, 44100 / 48000 - 1, "0.9187 times as far apart as in the drive: as if recorded at 44100 Hz"),
        (44100, 44100 / 48000 - 1, "the file says 44100 Hz, and the marks lie 0.9187 times"),
        (48000, 0.01, "1.01 times as far apart as in the drive"),
    ],
)
def test_rates_that_differ(rate: int, clock: float, words: str) -> None:
    take = placed(a_wave(), clock=clock)
    take = replace(take, recording=replace(take.recording, rate=rate))
    (doubt,) = other_rate(take)
    assert doubt.words.endswith(words) or words in doubt.words
    assert other_rate(placed(a_wave(), clock=3e-4)) == []


def test_a_take_that_begins_too_late_or_ends_too_early() -> None:
    waves = a_wave()
    end = START + PLAN.last_mark.stop
    assert cut_off(placed(waves[: end + 1])) == []
    assert "the last 0.50 s of what was played are missing" in cut_off(placed(waves[: end - 24000]))[0].words
    late = PLAN.first_mark.start + START + 4800
    assert "the first 0.10 s" in cut_off(placed(waves[late:], start=START - late))[0].words


@pytest.mark.parametrize("mains", [50, 60])
def test_hum_is_weighed_against_the_tones_of_its_input(mains: int) -> None:
    waves = a_wave(contact=0.01)
    time = np.arange(len(waves)) / PLAN.rate
    tones = heard(placed(waves)).tones
    ring = np.sin(2 * np.pi * mains * time) + 0.5 * np.sin(2 * np.pi * 3 * mains * time)
    ring *= tones[1] / ring.std()
    assert hum(placed(waves + 0.3 * ring[:, None]), heard(placed(waves))) == []
    loud = placed(waves + 0.8 * ring[:, None])
    (doubt,) = hum(loud, heard(loud))
    assert doubt.words.startswith(f"input 2 hums at {mains} Hz and its multiples with 0.8")


@pytest.mark.parametrize(("scale", "gained"), [(0.2, None), (0.1, 19), (0.01, 39)])
def test_a_low_level_says_how_much_could_be_gained(scale: float, gained: int | None) -> None:
    waves = a_wave(noise=1e-7) / 0.7 / 0.8 * scale
    found = level_low(heard(placed(waves)))
    assert bool(found) == (gained is not None and scale < 0.06)
    if found:
        peak = 20 * np.log10(np.abs(waves).max())
        assert f"{-6 - peak:.0f} dB could be gained" in found[0].words


def a_heard(check: tuple[complex, complex], grass: float = 1e-6, tones: float = 0.1) -> Heard:
    """Levels with a level check of some phasors."""
    return Heard(np.array([0.5, 0.5]), np.array([tones, 0.1]), np.array(check, complex), np.full(2, grass))


@pytest.mark.parametrize(
    ("check", "tones", "words"),
    [
        ((0.3, 0.01), 0.1, None),
        ((0.3, 1e-3), 0.1, None),
        ((0.3, 2e-6), 0.1, "input 2, at the contact, hears hardly anything of the level check"),
        ((0.3, 5e-5), 0.1, "input 2, at the contact, hears hardly anything of the level check"),
        ((2e-6, 0.01), 0.1, "input 1, at the shunt, hears hardly anything of the level check"),
        ((1e-6, 1e-6), 0.1, "neither input"),
        ((1.2, 0.01), 0.9, "at the contact, hears hardly anything, and the other one far too much"),
    ],
)
def test_an_input_that_hears_nothing(check: tuple[complex, complex], tones: float, words: str | None) -> None:
    found = dead_input(a_heard(check, tones=tones), 0)
    assert [doubt.code for doubt in found] == (["DEAD_INPUT"] if words else [])
    assert not words or words in found[0].words


def test_exchanged_inputs_by_the_level_of_the_shunt() -> None:
    circuit = replace(CIRCUIT, inputs=(0.01, 0.01))
    take = placed(a_wave())
    shunt = 0.1 * circuit.current(0.8 * 2.0, 0.01) / 0.01
    contact = shunt / 10
    assert exchanged(take, circuit, a_heard((shunt, contact)), 0) == []
    assert exchanged(take, circuit, a_heard((contact, shunt)), 1) == []
    (doubt,) = exchanged(take, circuit, a_heard((contact, shunt)), 0)
    assert doubt.code == "INPUTS_EXCHANGED"
    assert "0.1 times the voltage that the shunt should have" in doubt.words
    # Off altogether is something else, and nearly alike cannot be told apart.
    assert exchanged(take, circuit, a_heard((contact / 5, shunt / 5)), 0) == []
    assert exchanged(take, circuit, a_heard((shunt, 0.95 * shunt)), 1) == []


@pytest.mark.parametrize(
    ("ratio", "seen"),
    [(None, False), (0.1, True), (0.02, True), (10.0, False), (0.3, True), (0.5, False), (1.0, False)],
)
def test_exchanged_inputs_by_what_is_expected(ratio: float | None, seen: bool) -> None:
    found = exchanged(placed(a_wave()), CIRCUIT, a_heard((0.03, 0.3)), 0, ratio)
    assert bool(found) == seen


def test_the_same_recording_twice_wherever_it_was_cut() -> None:
    first, waves = placed(a_wave(), name="a"), a_wave()
    cut = placed(waves[700:-200], start=START - 700, name="b")
    (doubt,) = same_again(first, cut)
    assert doubt.code == "SAME_TAKE"
    assert "a and b are the same recording" in doubt.words
    assert same_again(cut, first)
    assert same_again(first, placed(a_wave(seed=2))) == []


def test_leads_that_were_not_changed_as_said() -> None:
    straight, swapped, turned = a_heard((0.3, 0.05)), a_heard((0.0505, 0.297)), a_heard((0.3, -0.0499))
    both = a_heard((-0.05, 0.3))
    for second, exchange, reverse in (
        (straight, False, False),
        (swapped, True, False),
        (turned, False, True),
        (both, True, True),
    ):
        for said_exchange in (False, True):
            for said_reverse in (False, True):
                found = leads_as_said(straight, second, said_exchange, said_reverse)
                assert bool(found) == ((exchange, reverse) != (said_exchange, said_reverse))
    told = leads_as_said(straight, straight, True, True)[0].words
    assert told == "between two takes the leads were left alone, but said to be swapped and turned"
    equal = a_heard((0.3, 0.31))
    assert leads_as_said(equal, a_heard((0.31, 0.3)), False, False) == []


def test_a_gain_that_moves() -> None:
    waves = a_wave()
    rising = waves * np.linspace(1, 1.2, len(waves))[:, None]
    (doubt,) = processing(placed(rising), 0)
    assert "times as strong as the first on input 1" in doubt.words
    assert "the tones end 1.0" in doubt.words
    turned_up = waves.copy()
    turned_up[START + PLAN.level_check.start : START + PLAN.level_check.stop] *= 1.15
    assert "the level check is 1.15 times as strong" in processing(placed(turned_up), 0)[0].words
    # A contact that moves is what is measured.
    moving = waves * np.column_stack([np.ones(len(waves)), np.linspace(1, 1.3, len(waves))])
    assert processing(placed(moving), 0) == []


def test_a_silence_without_noise() -> None:
    waves = a_wave()
    waves[: START + PLAN.first_mark.start] *= 0.1
    assert "20 dB more noise" in processing(placed(waves), 0)[0].words
    waves[: START + PLAN.first_mark.start] = 0
    assert "where it is exactly zero" in processing(placed(waves), 0)[0].words


def without(waves: np.ndarray, low: float, high: float = 1.0) -> np.ndarray:
    """`waves` without what lies between two shares of half the rate."""
    spectrum = np.fft.rfft(waves, axis=0)
    place = np.linspace(0, 1, len(spectrum))
    spectrum[(place > low) & (place <= high)] = 0
    return np.fft.irfft(spectrum, len(waves), axis=0)


def test_a_band_that_ends_early() -> None:
    (doubt,) = losses(placed(without(a_wave(), 2 / 3)), 0)
    assert doubt.code == "LOSSY"
    ends = float(doubt.words.split("ends at ")[1].split(" kHz")[0])
    assert ends == pytest.approx(16, abs=0.2)
    assert "tones from 20.0 kHz on are missing" in doubt.words
    # The filter of a converter is no loss, nor is treble that fades.
    assert losses(placed(without(a_wave(), 0.92)), 0) == []
    spectrum = (
        np.fft.rfft(a_wave(), axis=0) / (1 + (np.linspace(0, 1, len(a_wave()) // 2 + 1) / 0.3) ** 2)[:, None]
    )
    assert losses(placed(np.fft.irfft(spectrum, len(a_wave()), axis=0)), 0) == []


def test_noise_that_is_gone_between_the_tones() -> None:
    waves = a_wave(noise=1e-4)
    first, last = START + PLAN.level_check.stop + PLAN.gap // 2, START + PLAN.main[-1].stop
    clean = a_wave(noise=1e-6)
    waves[first:last] = clean[first:last]
    told = processing(placed(waves), 0)[0].words
    assert losses(placed(waves), 0) == []
    assert "less noise between the tones than in the silence" in told
    assert float(told.split(" has ")[1].split(" dB")[0]) == pytest.approx(40, abs=1.5)
