"""What the level check tells, against levels that are planted."""

from __future__ import annotations

import numpy as np
import pytest

from ohmsworth.work.level_check import Connected, LevelMeter, Levels, level_verdict

STRAIGHT = Connected((1, 2), ("shunt", "contact"), (2e-3, 0.2e-3))
ALIKE = Connected((1, 2), ("shunt", "contact"), (2e-3, 1e-3))


def at(first: float, second: float) -> Levels:
    """Peaks in decibels."""
    peaks = (10 ** (first / 20), 10 ** (second / 20))
    return Levels(peaks, peaks)


def told(levels: Levels, connected: Connected = STRAIGHT, may_turn: bool = True) -> str:
    return " ".join(level_verdict(levels, connected, may_turn).sentences)


@pytest.mark.parametrize("block", [100, 12_000, 37_777])
def test_the_meter_hears_the_peak_of_a_tone_whatever_its_blocks(block: int) -> None:
    rate, seen = 48_000, list[tuple[float, tuple[float, float]]]()
    meter = LevelMeter(rate, lambda seconds, peaks: seen.append((seconds, peaks)))
    time = np.arange(2 * rate) / rate
    tone = np.sin(2 * np.pi * 1000 * time)
    waves = np.stack([0.5 * tone, -0.05 * tone], axis=1)
    waves[30_000, 1] = -0.9  # a click, which is no level but may clip
    for start in range(0, len(waves), block):
        meter.take(waves[start : start + block])
    assert [seconds for seconds, _ in seen] == pytest.approx(np.arange(1, 9) * 0.25)
    assert meter.levels().lasting == pytest.approx((0.5, 0.05), rel=1e-3)
    assert meter.levels().highest == pytest.approx((0.5, 0.9), rel=1e-3)


def test_nothing_that_was_recorded_is_silence() -> None:
    assert LevelMeter(48_000, lambda *_: None).levels() == Levels((0.0, 0.0), (0.0, 0.0))


@pytest.mark.parametrize(("level", "words"), [(-21.0, "input 1 up by 12 dB"), (-3.0, "input 1 down by 6 dB")])
def test_the_gain_of_the_louder_input_is_turned_and_the_other_follows(level: float, words: str) -> None:
    verdict = level_verdict(at(level, level - 20), STRAIGHT, True)
    assert not verdict.good
    assert not verdict.in_vain
    assert words in verdict.sentences[1]
    assert "input 2 to the very same gain" in verdict.sentences[1]


def test_turning_by_what_was_said_makes_it_right() -> None:
    for level in (-40.0, -12.1, -5.9, -1.0):
        words = level_verdict(at(level, level - 20), STRAIGHT, True).sentences[1]
        by = float(words.split(" by ")[1].split()[0]) * (1 if " up " in words else -1)
        assert level_verdict(at(level + by, level + by - 20), STRAIGHT, True).good


@pytest.mark.parametrize("level", [-11.9, -9.0, -6.1])
def test_a_level_that_is_right_is_left(level: float) -> None:
    verdict = level_verdict(at(level, level - 20), STRAIGHT, True)
    assert verdict.good
    assert "do not touch" in verdict.sentences[1]


def test_gains_are_turned_before_the_first_take_only() -> None:
    verdict = level_verdict(at(-21, -41), STRAIGHT, False)
    assert verdict.good
    assert "Leave the gains" in verdict.sentences[1]
    clips = level_verdict(at(0, -20), STRAIGHT, False)
    assert clips.in_vain
    assert "every take again" in clips.sentences[1]


@pytest.mark.parametrize(
    ("levels", "words"),
    [
        (at(0, -20), "Input 1 (shunt) clips."),
        (at(-20, 0), "Input 2 (contact) clips."),
        (at(0, 0), "Input 1 (shunt) and input 2 (contact) clip."),
        (Levels((0.3, 0.0), (0.3, 0.0)), "From input 2 (contact) come nothing but zeros"),
        (at(-70, -90), "Neither input hears the tone"),
    ],
)
def test_what_would_be_in_vain_is_not_recorded(levels: Levels, words: str) -> None:
    verdict = level_verdict(levels, STRAIGHT, True)
    assert verdict.in_vain
    assert not verdict.good
    assert words.lower() in " ".join(verdict.sentences).lower()


def test_plugs_in_the_wrong_inputs_are_told_by_which_is_louder() -> None:
    exchanged = Connected((1, 2), ("contact", "shunt"), STRAIGHT.volts[::-1])
    assert "right inputs" in told(at(-9, -29), exchanged, False)
    assert "right inputs" not in told(at(-29, -9), exchanged, False)
    assert "right inputs" in told(at(-29, -9))
    # A contact that may well be as large as the shunt tells nothing by being the louder one.
    assert "right inputs" not in told(at(-15, -9), ALIKE)
