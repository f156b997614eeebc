"""Which take is next, on what device, and whether it is good."""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import soundfile
from tests.fake_sounddevice import CallbackFlags, FakeSounddevice, Samples, device
from tests.tone_takes import a_plan

from ohmsworth import wiring
from ohmsworth.errors import InputRefused, OutputFault
from ohmsworth.report.tones_answer import RecordingAnswer
from ohmsworth.resistance.impedance.circuit import Circuit, Shunt
from ohmsworth.resistance.impedance.drive import largest_sample, peak
from ohmsworth.resistance.impedance.known import Known
from ohmsworth.resistance.impedance.wishes import Wishes
from ohmsworth.work.audio_ports import AudioDevice, Channels
from ohmsworth.work.ports import LoadedTones
from ohmsworth.work.record_take import (
    Bench,
    TakeSpoiled,
    all_takes,
    check_level,
    chosen_device,
    connected,
    named_take,
    plan_of,
    record_take,
    take_words,
    waiting_takes,
)
from ohmsworth.work.tone_files import SERIES, Series

WISHES = Wishes(Circuit(Shunt(0.1), 47.0, 1.4), 0.01, 0.02)
PLAN = replace(a_plan(), level=4 * 48_000)
LOADED = LoadedTones(WISHES, None, PLAN, ())
TURNED = replace(LOADED, wishes=replace(WISHES, turned=True))
WITH_LOAD = replace(LOADED, known=Known(load=Shunt(0.02)))
STRAIGHT, SWAPPED = all_takes(LOADED)


def wire(first: float = 0.4, second: float = 0.04, noise: float = 1e-6) -> Callable[[Samples, int], Samples]:
    """Shares of the output on both inputs, and noise of a seed."""
    rng = np.random.default_rng(5)

    def between(out: Samples, inputs: int) -> Samples:
        heard = out[:, :1] * np.array([first, second], np.float32)
        heard += rng.normal(0, noise, heard.shape)
        return np.clip(heard, -1, 1)

    return between


def bench(
    monkeypatch: pytest.MonkeyPatch, folder: Path, loaded: LoadedTones = LOADED, **how: object
) -> tuple[Bench, FakeSounddevice]:
    fake = FakeSounddevice(device("bench interface", 2, 2), **{"wire": wire(), **how})
    monkeypatch.setitem(sys.modules, "sounddevice", fake)  # type: ignore[arg-type]
    found = wiring.recording_ports().devices.found()
    return Bench(folder, loaded, plan_of(loaded), found[0], Channels()), fake


def taken(bench: Bench, take: RecordingAnswer = STRAIGHT, replace: bool = False) -> tuple[bool, str]:
    told = record_take(wiring.recording_ports(), bench, take, replace, lambda *_: None)
    return told.good, " ".join(told.sentences)


def test_a_take_is_kept_read_at_once_and_good(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    here, fake = bench(monkeypatch, tmp_path)
    good, words = taken(here)
    assert good, words
    assert "is found" in words
    assert [path.name for path in tmp_path.iterdir()] == ["straight.wav"]
    told = soundfile.info(str(tmp_path / "straight.wav"))
    assert (told.samplerate, told.channels, told.subtype) == (PLAN.rate, 2, "PCM_24")
    assert told.frames >= PLAN.length + fake.latency
    played = fake.streams[0].output
    assert np.abs(played).max() <= 0.8 * (1 + 1e-6)
    assert np.array_equal(played[:, 0], played[:, 1])


def test_the_level_check_plays_no_tones_and_keeps_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    here, fake = bench(monkeypatch, tmp_path, wire=wire(0.1, 0.01))
    seen = []
    verdict = check_level(wiring.recording_ports(), here, STRAIGHT, lambda *level: seen.append(level))
    assert "input 1 up by 13 dB" in verdict.sentences[1]  # 0.8 · 0.1 is −21.9 dB, and −9 dB are wanted
    assert list(tmp_path.iterdir()) == []
    assert seen
    sounding = np.flatnonzero(fake.streams[0].output[:, 0])
    assert sounding[-1] - sounding[0] <= PLAN.level
    # It begins softly: the first twentieth stays far below the peak.
    assert np.abs(fake.streams[0].output[: PLAN.level // 20]).max() < 0.3


def test_a_level_check_that_loses_samples_tells_of_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    here, _ = bench(monkeypatch, tmp_path, flags={9: CallbackFlags("input_overflow")})
    verdict = check_level(wiring.recording_ports(), here, STRAIGHT, lambda *_: None)
    assert not verdict.good
    assert "Samples were lost" in verdict.sentences[-1]


def test_a_take_with_a_gap_is_not_usable_and_not_kept(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    here, _ = bench(monkeypatch, tmp_path, flags={550: CallbackFlags("output_underflow")})
    with pytest.raises(TakeSpoiled) as spoiled:
        taken(here)
    (fault,) = spoiled.value.faults
    assert fault.where == "straight.wav, at 5.5 s"
    assert "record again" in fault.mend
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("how", [{"interrupted": (550,)}, {"dies": 550}, {"dies": 550, "quietly": True}])
def test_nothing_is_left_of_a_take_that_was_broken_off(
    how: dict[str, object], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    here, _ = bench(monkeypatch, tmp_path, **how)
    with pytest.raises(KeyboardInterrupt if "interrupted" in how else InputRefused):
        taken(here)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("between", "words"),
    [
        (wire(0.0, 0.0), "cannot be found"),
        (wire(1.3, 0.04), "Input 1 (shunt) clips"),
        (wire(0.4, 1e-7, 1e-4), "at input 2 (contact) stands"),
    ],
)
def test_a_take_that_is_not_good_is_kept_and_told(
    between: object, words: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    here, _ = bench(monkeypatch, tmp_path, wire=between)
    good, told = taken(here)
    assert not good
    assert words in told
    assert (tmp_path / "straight.wav").exists()


def test_a_swapped_take_without_the_plugs_exchanged_is_of_no_use(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    here, _ = bench(monkeypatch, tmp_path)
    assert taken(here)[0]
    there = replace(LOADED, recordings=("straight.wav",))
    # A contact as large as the shunt: no level tells which is which, but the ratio of the inputs does.
    alike = replace(there, wishes=replace(WISHES, contact=0.08))
    here, _ = bench(monkeypatch, tmp_path, alike, wire=wire(0.4, 0.041))
    told = record_take(wiring.recording_ports(), here, SWAPPED, False, lambda *_: None)
    assert not told.good
    assert not told.usable
    assert "left alone, but said to be swapped" in " ".join(told.sentences)
    here, _ = bench(monkeypatch, tmp_path, there, wire=wire(0.04, 0.4))
    told = record_take(wiring.recording_ports(), here, SWAPPED, True, lambda *_: None)
    assert told.good, told.sentences
    assert told.usable


def test_what_an_interface_makes_of_the_sound_is_told_with_what_to_do(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    plain, heard = wire(), 0

    def turned_meanwhile(out: Samples, inputs: int) -> Samples:
        nonlocal heard
        heard += len(out)
        return plain(out, inputs) * np.float32(1.0 if heard < 7 * PLAN.rate else 0.8)

    here, _ = bench(monkeypatch, tmp_path, wire=turned_meanwhile)
    told = record_take(wiring.recording_ports(), here, STRAIGHT, False, lambda *_: None)
    assert (told.good, told.usable) == (False, True)
    assert "automatic gain" in " ".join(told.sentences).lower()


def test_inputs_are_told_by_the_interfaces_numbers_where_these_are_others(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    hums = np.float32(0.1) * np.sin(2 * np.pi * 50 * np.arange(PLAN.length * 2) / PLAN.rate).astype(
        np.float32
    )
    plain, heard = wire(), 0

    def humming(out: Samples, inputs: int) -> Samples:
        nonlocal heard
        heard += len(out)
        both = plain(out, 2) + hums[heard - len(out) : heard, None]
        return np.concatenate([np.zeros_like(both), both], axis=1)

    fake = FakeSounddevice(device("bench interface", 4, 2), wire=humming)
    monkeypatch.setitem(sys.modules, "sounddevice", fake)  # type: ignore[arg-type]
    found = wiring.recording_ports().devices.found()
    here = Bench(tmp_path, LOADED, PLAN, found[0], Channels((3, 4)))
    good, words = taken(here)
    assert not good
    assert "Input 1 hums at 50 Hz" in words
    assert words.endswith("Inputs 1 and 2 of the card are inputs 3 and 4 of the interface.")


def test_a_take_before_it_that_cannot_be_read_hides_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "straight.wav").write_bytes(b"no sound")
    there = replace(LOADED, recordings=("straight.wav",))
    here, _ = bench(monkeypatch, tmp_path, there, wire=wire(0.04, 0.4))
    assert taken(here, SWAPPED)[0]
    silent = np.zeros((PLAN.length, 2))
    soundfile.write(tmp_path / "straight.wav", silent, PLAN.rate, "PCM_24")
    here, _ = bench(monkeypatch, tmp_path, there, wire=wire(0.04, 0.4))
    good, words = taken(here, SWAPPED, replace=True)
    assert good
    assert "not held against straight.wav" in words


@pytest.mark.parametrize(
    ("series", "between", "back"),
    [
        ("short", wire(0.4, 1e-6), wire(1e-6, 0.4)),
        ("load", wire(0.4, 0.08), wire(0.08, 0.4)),
        ("open", wire(1e-6, 0.4), wire(0.4, 1e-6)),
    ],
)
def test_takes_of_short_load_and_open_are_good_though_an_input_hears_nothing(
    series: Series,
    between: object,
    back: object,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    straight, swapped = all_takes(WITH_LOAD, series)
    here, _ = bench(monkeypatch, tmp_path, WITH_LOAD, wire=between)
    good, words = taken(here, straight)
    assert good, words
    there = replace(WITH_LOAD, recordings=(straight.file,))
    here, _ = bench(monkeypatch, tmp_path, there, wire=back)
    good, words = taken(here, swapped)
    assert good, words
    # With the plugs left as they were it is told, before and after.
    here, _ = bench(monkeypatch, tmp_path, there, wire=between)
    verdict = check_level(wiring.recording_ports(), here, swapped, lambda *_: None)
    assert "right inputs" in verdict.sentences[-1]
    good, words = taken(here, swapped, replace=True)
    assert not good
    assert "right inputs" in words or "but said to be swapped" in words


def test_a_short_that_is_the_contacts_take_once_more_is_of_no_use(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    here, _ = bench(monkeypatch, tmp_path)
    assert taken(here)[0]
    there = replace(LOADED, recordings=("straight.wav",))
    here, _ = bench(monkeypatch, tmp_path, there)
    told = record_take(wiring.recording_ports(), here, all_takes(there, "short")[0], False, lambda *_: None)
    assert not told.usable
    assert "the same recording" in " ".join(told.sentences)


def test_a_recording_is_replaced_only_when_told_and_only_by_a_whole_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "straight.wav"
    path.write_bytes(b"before")
    here, fake = bench(monkeypatch, tmp_path)
    with pytest.raises(OutputFault, match="already"):
        taken(here)
    assert fake.streams == []  # nothing sounded
    here, _ = bench(monkeypatch, tmp_path, interrupted=(550,))
    with pytest.raises(KeyboardInterrupt):
        taken(here, replace=True)
    assert path.read_bytes() == b"before"
    here, _ = bench(monkeypatch, tmp_path)
    assert taken(here, replace=True)[0]
    assert path.read_bytes() != b"before"


def test_takes_follow_the_card(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    here, _ = bench(monkeypatch, tmp_path, TURNED)
    words = [" ".join(take_words(here.loaded, here.channels, take)) for take in all_takes(TURNED)]
    assert [one.partition(":")[0] for one in words] == [
        "Take 1 of 4 (straight.wav)",
        "Take 2 of 4 (swapped.wav)",
        "Take 3 of 4 (straight-turned.wav)",
        "Take 4 of 4 (swapped-turned.wav)",
    ]
    assert "exchange the two plugs" in words[1]
    assert "contact on input 1, shunt on input 2" in words[1]
    assert "exchange + and −" in words[2]
    assert "shunt on input 1, contact on input 2" in words[2]
    assert "exchange the two plugs" in words[3]
    assert all("neither the gains" in one for one in words[1:])
    rack = replace(here, channels=Channels((3, 4)))
    assert (
        "contact on input 3, shunt on input 4"
        in take_words(rack.loaded, rack.channels, all_takes(TURNED)[1])[0]
    )


def test_every_series_says_what_to_put_in_the_contacts_place(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    loaded = replace(WITH_LOAD, wishes=replace(WISHES, turned=True))
    here, _ = bench(monkeypatch, tmp_path, loaded)
    words = {
        series: " ".join(take_words(here.loaded, here.channels, all_takes(loaded, series)[0]))
        for series in SERIES
    }
    assert "Take 1 of 4 (short-straight.wav)" in words["short"]
    assert "shunt on input 1, short on input 2" in words["short"]
    assert "thick piece of copper" in words["short"]
    assert "known resistor of 20 mΩ" in words["load"]
    assert "beside those of the short" in words["load"]
    assert "put nothing in its place" in words["open"]
    assert "beside those of the load" in words["open"]
    # A caution stands only where there is something to look out for: 0.8 of 1.4 V with no bridge in the circuit.
    assert [series for series in SERIES if "! " in words[series]] == ["open"]
    assert "no bridge: 1.12 V at the peak" in words["open"]
    bridged = replace(WISHES, circuit=replace(WISHES.circuit, bridge=1.0))
    here, _ = bench(monkeypatch, tmp_path, replace(loaded, wishes=bridged))
    opened = " ".join(take_words(here.loaded, here.channels, all_takes(loaded, "open")[0]))
    assert "the bridge: 23.3 mV at the peak" in opened  # 1.12 V · 1/(47 + 1)
    made = replace(here, loaded=replace(loaded, recordings=("load-straight.wav", "short-straight.wav")))
    assert "of use only" not in " ".join(take_words(made.loaded, made.channels, all_takes(loaded, "open")[0]))
    assert (
        "exchange the two plugs" in take_words(here.loaded, here.channels, all_takes(loaded, "short")[1])[0]
    )


def test_what_is_expected_at_the_inputs_goes_by_what_is_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    here, _ = bench(monkeypatch, tmp_path, WITH_LOAD)
    volts = {series: connected(here, all_takes(WITH_LOAD, series)[0]).volts for series in SERIES}
    assert volts["contact"][1] / volts["contact"][0] == pytest.approx(0.1)
    assert volts["load"][1] / volts["load"][0] == pytest.approx(0.2)
    assert volts["short"] == (pytest.approx(1.12 * 0.1 / 47.1), 0.0)
    assert volts["open"] == (0.0, pytest.approx(1.12))
    assert connected(here, all_takes(WITH_LOAD, "short")[1]).volts == volts["short"][::-1]


@pytest.mark.parametrize(
    ("there", "series", "turns"),
    [
        ((), "short", True),
        (("straight.wav",), "short", False),
        (("short-straight.wav",), "contact", False),
        (("straight.wav", "short-straight.wav", "load-straight.wav"), "open", True),
    ],
)
def test_gains_are_turned_before_the_very_first_take_and_for_open_ends(
    there: tuple[str, ...], series: Series, turns: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    loaded = replace(WITH_LOAD, recordings=there)
    between = wire(1e-6, 0.1) if series == "open" else wire(0.1, 1e-5)
    here, _ = bench(monkeypatch, tmp_path, loaded, wire=between)
    verdict = check_level(wiring.recording_ports(), here, all_takes(loaded, series)[0], lambda *_: None)
    assert ("Turn the gain of input" in verdict.sentences[1]) is turns
    assert verdict.good is not turns


def test_takes_that_are_there_do_not_wait() -> None:
    there = replace(TURNED, recordings=("straight.wav", "swapped-turned-1.wav", "swapped-turned-2.wav"))
    assert [one.file for one in waiting_takes(there)] == ["swapped.wav", "straight-turned.wav"]


def test_takes_of_a_series_wait_by_themselves() -> None:
    there = replace(WITH_LOAD, recordings=("straight.wav", "short-straight-1.wav", "short-straight-2.wav"))
    assert [one.file for one in waiting_takes(there, "short")] == ["short-swapped.wav"]
    assert [one.file for one in waiting_takes(there, "load")] == ["load-straight.wav", "load-swapped.wav"]
    assert [one.file for one in waiting_takes(there)] == ["swapped.wav"]


def test_a_load_of_which_nothing_is_said_is_not_recorded() -> None:
    for asked in (lambda: all_takes(LOADED, "load"), lambda: named_take(LOADED, "load-straight", False)):
        with pytest.raises(InputRefused, match=r"\[load\]"):
            asked()


@pytest.mark.parametrize("name", ["swapped", "Swapped.wav"])
def test_a_take_may_be_named(name: str) -> None:
    assert named_take(LOADED, name, False).file == "swapped.wav"


@pytest.mark.parametrize(
    ("name", "series"), [("swapped", "short"), ("short-swapped", "short"), ("Short-Swapped.wav", "contact")]
)
def test_a_take_of_a_series_may_be_named_with_and_without_it(name: str, series: Series) -> None:
    assert named_take(LOADED, name, False, series).file == "short-swapped.wav"


def test_a_take_of_another_series_than_the_one_said_is_refused() -> None:
    with pytest.raises(InputRefused, match="short-straight or short-swapped"):
        named_take(LOADED, "open-straight", False, "short")


@pytest.mark.parametrize(
    ("recordings", "name", "replacing", "words"),
    [
        ((), "straight-turned", False, "turned = true"),
        ((), "third", False, "straight or swapped"),
        (("straight.wav",), "straight", False, "--replace"),
        (("straight-1.wav", "straight-2.wav"), "straight", True, "Move it elsewhere."),
    ],
)
def test_a_take_that_cannot_be_made_is_refused(
    recordings: tuple[str, ...], name: str, replacing: bool, words: str
) -> None:
    with pytest.raises(InputRefused) as refusal:
        named_take(replace(LOADED, recordings=recordings), name, replacing)
    assert words in str(refusal.value)


def test_one_that_is_there_may_be_made_again() -> None:
    there = replace(LOADED, recordings=("straight.wav",))
    assert named_take(there, "straight", True).file == "straight.wav"


def test_no_plan_and_one_that_is_too_loud_are_refused() -> None:
    assert plan_of(LOADED) is PLAN
    for loaded in (replace(LOADED, plan=None), replace(LOADED, begin=b"new")):
        with pytest.raises(InputRefused, match="ohmsworth tones"):
            plan_of(loaded)
    with pytest.raises(InputRefused, match=r"peak at 0\.95"):
        plan_of(replace(LOADED, plan=a_plan(peak=0.95)))
    # One of an earlier release, whose samples reach 0.9 and whose sound goes higher, is played as it was made.
    earlier = a_plan(peak=0.9 * peak(a_plan()) / largest_sample(a_plan()))
    assert peak(earlier) > 0.91
    assert plan_of(replace(LOADED, plan=earlier)) is earlier


def named(name: str, inputs: int = 2, system: str = "ALSA") -> AudioDevice:
    return AudioDevice(name, system, inputs, 2, (48_000,), 48_000, (0, 0))


DEVICES = (named("desk"), named("desk extra"), named("desk", system="other"), named("rack (hw:2)"))


def test_the_only_interface_need_not_be_named() -> None:
    assert chosen_device([named("a", 1), named("b")], None).name == "b"


@pytest.mark.parametrize(
    ("wanted", "place"),
    [("4", 3), ("rack", 3), ("HW:2", 3), ("extra", 1), ("desk (ALSA)", 0), ("desk (other)", 2)],
)
def test_a_device_goes_by_name_part_or_number(wanted: str, place: int) -> None:
    assert chosen_device(DEVICES, wanted) is DEVICES[place]


@pytest.mark.parametrize(
    ("found", "wanted", "words"),
    [
        ((), None, "Connect the interface"),
        (DEVICES, None, "--device"),
        (DEVICES, "desk", "desk (ALSA); desk (other)"),
        (DEVICES, "desk extre", "Is it desk extra?"),
        (DEVICES, "5", "found '5'"),
        (tuple(named(f"number {n}") for n in range(20)), "xyz", "and 14 more"),
    ],
)
def test_no_device_is_guessed(found: tuple[AudioDevice, ...], wanted: str | None, words: str) -> None:
    with pytest.raises(InputRefused) as refusal:
        chosen_device(found, wanted)
    assert words in str(refusal.value)
