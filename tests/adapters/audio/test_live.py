"""Playing and recording at once, and everything that may go wrong with it, without an audio interface."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from typing import Any

import numpy as np
import pytest
from tests.fake_sounddevice import CallbackFlags, FakeSounddevice, Samples, device

from ohmsworth.adapters.audio import LiveDevices
from ohmsworth.adapters.audio.stream_state import FADE, MOST_DROPOUTS
from ohmsworth.errors import ArgumentFault, InputRefused, OutputFault
from ohmsworth.work.audio_ports import Array, AudioDevice, Channels, Played, Sound

RATE = 48_000
FIRST = Channels()
TWO = device("bench interface: analog (hw:1,0)", 2, 2)


def install(monkeypatch: pytest.MonkeyPatch, *devices: dict[str, Any], **how: Any) -> FakeSounddevice:
    fake = FakeSounddevice(*(devices or (TWO,)), **how)
    monkeypatch.setitem(sys.modules, "sounddevice", fake)  # type: ignore[arg-type]
    return fake


def tone(seconds: float = 1.0, silence: float = 0.1, block: int = 4000, peak: float = 0.5) -> Sound:
    """Silence, then a tone that begins at its top, so that nothing of it can be missed."""
    wave = peak * np.cos(2 * np.pi * 100 * np.arange(round(seconds * RATE)) / RATE)
    wave[: round(silence * RATE)] = 0
    blocks = (wave[at : at + block] for at in range(0, len(wave), block))
    return Sound(RATE, len(wave), peak, round(silence * RATE), blocks)


def record(
    sound: Sound, channels: Channels = FIRST, which: AudioDevice | None = None
) -> tuple[Played, Array]:
    live, blocks = LiveDevices(), list[Array]()
    played = live.play_and_record(which or live.found()[0], sound, channels, blocks.append)
    return played, np.concatenate(blocks)


def only_fault(refusal: pytest.ExceptionInfo[InputRefused]) -> str:
    assert len(refusal.value.faults) == 1
    return str(refusal.value.faults[0])


def whole(sound: Sound) -> Array:
    return np.concatenate(list(sound.blocks))


def test_what_is_played_comes_back_sample_by_sample(monkeypatch: pytest.MonkeyPatch) -> None:
    fake = install(monkeypatch, wire=lambda out, n: np.stack([0.5 * out[:, 0], -0.25 * out[:, 1]], axis=1))
    played, waves = record(tone())
    wave = whole(tone()).astype(np.float32)
    late = slice(fake.latency, fake.latency + len(wave))
    assert played.dropouts == ()
    assert played.frames == len(waves) >= len(wave) + fake.latency
    assert np.array_equal(waves[late], np.stack([0.5 * wave, -0.25 * wave], axis=1))
    assert not waves[: fake.latency].any()
    assert not waves[late.stop :].any()
    stream = fake.streams[0]
    assert stream.closed
    assert stream.ended == ["stop"]
    assert np.abs(stream.output).max() <= 0.5


def test_blocks_of_any_length_are_laid_on_each_other(monkeypatch: pytest.MonkeyPatch) -> None:
    fake = install(monkeypatch, block=333)
    waves = record(tone(block=1001))[1]
    wave = whole(tone()).astype(np.float32)
    assert np.array_equal(waves[fake.latency : fake.latency + len(wave), 0], np.float32(0.5) * wave)


def test_only_the_inputs_and_outputs_that_were_named_are_used(monkeypatch: pytest.MonkeyPatch) -> None:
    def wire(out: Samples, inputs: int) -> Samples:
        assert (out.shape[1], inputs) == (3, 4)
        return out[:, 2:3] * np.array([0, 0, 0.5, 0.25], np.float32)

    fake = install(monkeypatch, device("rack interface", 8, 8), wire=wire)
    waves = record(tone(), Channels((4, 3), (3,)))[1]
    assert np.abs(waves).max(axis=0) == pytest.approx([0.125, 0.25])
    assert not fake.streams[0].output[:, :2].any()


def test_no_more_waits_in_memory_than_some_seconds(monkeypatch: pytest.MonkeyPatch) -> None:
    fake = install(monkeypatch)
    made = played = 0

    def blocks() -> Iterator[Array]:
        nonlocal made
        for _ in range(100):
            made += 4800
            yield np.zeros(4800)

    def keep(block: Array) -> None:
        nonlocal played
        played += len(block)
        assert made - played <= 4 * RATE

    live = LiveDevices()
    sound = Sound(RATE, 480_000, 0.1, 10, blocks())
    assert live.play_and_record(live.found()[0], sound, Channels(), keep).dropouts == ()
    assert made == 480_000
    assert len(fake.streams) == 1


@pytest.mark.parametrize(
    ("flag", "words"),
    [
        ("input_overflow", "samples of the inputs were lost"),
        ("input_underflow", "silence was put in"),
        ("output_underflow", "the output had a gap"),
        ("output_overflow", "samples of the output were lost"),
    ],
)
def test_what_is_lost_is_told_with_its_place(flag: str, words: str, monkeypatch: pytest.MonkeyPatch) -> None:
    install(monkeypatch, flags={50: CallbackFlags(flag)})
    (dropout,) = record(tone())[0].dropouts
    assert words in dropout.what
    assert dropout.seconds == pytest.approx(0.5)


def test_what_is_lost_of_the_silence_at_the_beginning_is_not_missed(monkeypatch: pytest.MonkeyPatch) -> None:
    flags = {0: CallbackFlags("input_overflow", "output_underflow"), 20: CallbackFlags("priming_output")}
    install(monkeypatch, flags=flags)
    assert record(tone())[0].dropouts == ()


def test_a_device_that_loses_all_the_time_does_not_fill_the_memory(monkeypatch: pytest.MonkeyPatch) -> None:
    install(monkeypatch, flags={turn: CallbackFlags("input_overflow") for turn in range(4000)})
    seconds = [one.seconds for one in record(tone(30.0))[0].dropouts]
    assert len(seconds) == MOST_DROPOUTS
    assert min(np.diff(seconds)) >= 1.0


def test_a_program_that_is_late_has_made_a_gap(monkeypatch: pytest.MonkeyPatch) -> None:
    fake = install(monkeypatch)
    as_it_is, slept = fake.sleep, 0

    def held_up(msec: int) -> None:
        nonlocal slept
        slept += 1
        as_it_is(5000 if slept == 3 else msec)

    monkeypatch.setattr(fake, "sleep", held_up)
    dropouts = record(tone(10.0))[0].dropouts
    assert "did not keep up" in dropouts[0].what
    assert 3.0 <= dropouts[0].seconds < 3.2


def test_a_disk_that_is_late_makes_a_gap_before_the_memory_is_full(monkeypatch: pytest.MonkeyPatch) -> None:
    fake = install(monkeypatch)
    as_it_is, slept = fake.sleep, 0

    def held_up(msec: int) -> None:
        nonlocal slept
        slept += 1
        as_it_is(25_000 if slept == 3 else msec)

    monkeypatch.setattr(fake, "sleep", held_up)
    told = {one.what: one.seconds for one in reversed(record(tone(30.0))[0].dropouts)}
    assert told["the recording could not be written as fast as it came"] == pytest.approx(20.0, abs=0.1)


def test_ctrl_c_fades_the_output_before_the_stream_ends(monkeypatch: pytest.MonkeyPatch) -> None:
    fake = install(monkeypatch, interrupted=(50,))
    with pytest.raises(KeyboardInterrupt):
        record(tone(5.0, peak=0.8))
    stream = fake.streams[0]
    assert stream.closed
    assert stream.ended == ["stop"]
    out = stream.output[:, 0]
    steps = np.abs(np.diff(out[fake.block * 50 :]))
    # A tone of 100 Hz changes by 0.8 · 2π · 100/48000 a sample at most; the fade adds 0.8 · π/2 over its length.
    assert steps.max() <= 0.8 * (2 * np.pi * 100 / RATE + np.pi / 2 / (FADE * RATE)) * 1.01
    assert np.abs(out[fake.block * 50 : fake.block * 51]).max() > 0.7
    assert not out[-fake.block :].any()
    assert len(out) < fake.block * 60


def test_a_second_ctrl_c_cuts_the_output_off(monkeypatch: pytest.MonkeyPatch) -> None:
    fake = install(monkeypatch, interrupted=(50, 51))
    with pytest.raises(KeyboardInterrupt):
        record(tone(5.0))
    assert fake.streams[0].ended == ["abort"]
    assert fake.streams[0].closed


def test_whatever_the_taker_raises_fades_the_output(monkeypatch: pytest.MonkeyPatch) -> None:
    fake = install(monkeypatch)
    live = LiveDevices()

    def full(block: Array) -> None:
        raise OutputFault("the disk is full")

    with pytest.raises(OutputFault, match="full"):
        live.play_and_record(live.found()[0], tone(5.0), Channels(), full)
    assert fake.streams[0].ended == ["stop"]
    assert not fake.streams[0].output[-fake.block :].any()


@pytest.mark.parametrize("bad", [0.5001, -0.6, np.nan])
def test_nothing_louder_than_what_was_said_is_ever_played(
    bad: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    fake = install(monkeypatch)
    wave = np.full(5 * RATE, 0.4)
    wave[4 * RATE] = bad
    sound = Sound(RATE, len(wave), 0.5, 1, (wave[at : at + 4800] for at in range(0, len(wave), 4800)))
    with pytest.raises(ArgumentFault, match="blocks"):
        record(sound)
    assert np.abs(fake.streams[0].output).max() <= np.float32(0.4)
    assert fake.streams[0].closed


@pytest.mark.parametrize("quietly", [True, False])
def test_a_device_that_vanishes_is_told(quietly: bool, monkeypatch: pytest.MonkeyPatch) -> None:
    fake = install(monkeypatch, dies=40, quietly=quietly)
    with pytest.raises(InputRefused) as refusal:
        record(tone(5.0))
    told = only_fault(refusal)
    assert "bench interface" in told
    assert "stopped in the middle" in told
    assert "record again" in told
    assert fake.streams[0].ended == ["abort"]
    assert fake.streams[0].closed


@pytest.mark.parametrize(
    ("how", "words"),
    [
        ({"open_error": "Device unavailable [PaErrorCode -9985]"}, "Device unavailable"),
        ({"start_error": "Unanticipated host error [PaErrorCode -9999]"}, "Unanticipated host error"),
    ],
)
def test_a_device_that_does_not_begin_is_told(
    how: dict[str, Any], words: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    install(monkeypatch, **how)
    with pytest.raises(InputRefused) as refusal:
        record(tone())
    assert words in only_fault(refusal)


@pytest.mark.parametrize(
    ("listed", "channels", "words"),
    [
        (device("one microphone", 1, 2), Channels(), "1 input; expected two inputs"),
        (TWO, Channels((1, 5)), "2 inputs; expected 5 inputs"),
        (TWO, Channels(outputs=(3,)), "2 outputs; expected 3 outputs"),
        (device("old one", 2, 2, rates=(44_100,)), Channels(), "It does 44100"),
        (device("no one", 2, 2, rates=(8000,)), Channels(), "It does no usual rate"),
    ],
)
def test_a_device_that_cannot_is_told_before_anything_sounds(
    listed: dict[str, Any], channels: Channels, words: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    fake = install(monkeypatch, listed)
    with pytest.raises(InputRefused) as refusal:
        record(tone(), channels)
    assert words in only_fault(refusal)
    assert fake.streams == []


def test_devices_are_listed_with_what_they_do_both_ways(monkeypatch: pytest.MonkeyPatch) -> None:
    install(
        monkeypatch,
        TWO,
        device("only out", 0, 8),
        device("only in", 2, 0),
        device("Line (first one)", 2, 0, 1, (48_000, 96_000)),
        device("Speakers (first one)", 0, 2, 1, (48_000, 192_000)),
        device("Speakers (other one)", 0, 2, 1),
        device("Speakers (first one)", 0, 2, 0),
        systems=("ALSA", "Windows WASAPI"),
    )
    found = LiveDevices().found()
    assert [(one.name, one.system, one.places) for one in found] == [
        ("bench interface: analog (hw:1,0)", "ALSA", (0, 0)),
        ("Line (first one) and Speakers (first one)", "Windows WASAPI", (3, 4)),
    ]
    assert [one.rates for one in found] == [(44_100, 48_000, 96_000), (48_000,)]
    assert (found[0].inputs, found[0].outputs, found[0].usual_rate) == (2, 2, 44_100)


@pytest.mark.parametrize(
    ("system", "settings"),
    [
        ("Core Audio", {"change_device_parameters": True, "fail_if_conversion_required": True}),
        ("Windows WASAPI", {"exclusive": True}),
        ("ALSA", None),
    ],
)
def test_where_the_system_would_resample_it_is_told_not_to(
    system: str, settings: dict[str, bool] | None, monkeypatch: pytest.MonkeyPatch
) -> None:
    fake = install(monkeypatch, TWO, systems=(system,))
    record(tone())
    extra = fake.streams[0].extra
    assert (extra and {k: v for k, v in vars(extra).items() if k != "kind"}) == settings


class Finder:
    """Stands in the way of an import."""

    def __init__(self, error: Exception) -> None:
        self.error = error

    def find_spec(self, name: str, *_: object) -> None:
        if name == "sounddevice":
            raise self.error


class PortAudioError(Exception):
    """What the library raises while it is loaded."""


@pytest.mark.parametrize(
    ("error", "words"),
    [
        (ModuleNotFoundError("No module named 'sounddevice'", name="sounddevice"), "ohmsworth[audio]"),
        (OSError("PortAudio library not found"), "libportaudio2"),
        (PortAudioError("Error initializing PortAudio"), "Error initializing PortAudio"),
    ],
)
def test_what_is_missing_is_told_with_what_to_do(
    error: Exception, words: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delitem(sys.modules, "sounddevice", raising=False)
    monkeypatch.setattr(sys, "meta_path", [Finder(error), *sys.meta_path])
    with pytest.raises(InputRefused) as refusal:
        LiveDevices().found()
    told = only_fault(refusal)
    assert words in told
    assert "drive.wav" in told  # there is a way without it


def test_a_library_that_it_needs_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delitem(sys.modules, "sounddevice", raising=False)
    error = ModuleNotFoundError("No module named 'cffi'", name="cffi")
    monkeypatch.setattr(sys, "meta_path", [Finder(error), *sys.meta_path])
    with pytest.raises(InputRefused) as refusal:
        LiveDevices().found()
    assert "cffi" in only_fault(refusal)


def test_a_list_that_cannot_be_had_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    fake = install(monkeypatch)

    def fails() -> None:
        raise fake.PortAudioError("Error querying device -1")

    monkeypatch.setattr(fake, "query_devices", fails)
    with pytest.raises(InputRefused) as refusal:
        LiveDevices().found()
    assert "Error querying device -1" in only_fault(refusal)
