"""Takes from the terminal: nothing sounds before somebody agrees, and everything is told."""

from __future__ import annotations

import io
import json
import os
import sys
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import soundfile
from tests.fake_sounddevice import CallbackFlags, FakeSounddevice, Samples, device
from tests.journeys.test_command_line import Captured, program
from tests.journeys.test_tones import shorter

from ohmsworth.cli.app import NOT_WRITTEN, OK, REFUSED, run

ENTER = "\n"


@pytest.fixture(scope="module")
def planned(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("planned") / "contact"
    shorter(folder)
    assert run(["tones", str(folder)]) == OK
    return folder


@pytest.fixture
def folder(planned: Path, tmp_path: Path) -> Path:
    """tones.toml and plan.json of short takes."""
    for name in ("tones.toml", "plan.json"):
        (tmp_path / name).write_bytes((planned / name).read_bytes())
    return tmp_path


class Plugs:
    """Shunt and contact at the inputs; the second has the share `there` of the first, and somebody may exchange them."""

    def __init__(self, gain: float = 0.5, there: float = 0.2) -> None:
        self.gain, self.exchanged, self.there = gain, False, there
        self._rng = np.random.default_rng(8)

    def __call__(self, out: Samples, inputs: int) -> Samples:
        shares = np.array([1.0, self.there])[:: -1 if self.exchanged else 1]
        heard = self.gain / 0.9 * out[:, :1] * shares
        return np.asarray(np.clip(heard + self._rng.normal(0, 1e-6, heard.shape), -1, 1), np.float32)


class Person(io.StringIO):
    """Types lines; what a line that is callable does is done at the bench before Enter."""

    def __init__(self, fake: FakeSounddevice, *does: Any) -> None:
        super().__init__()
        self._fake, self._does = fake, list(does)
        self.streams_before: list[int] = []

    def readline(self, size: int | None = -1, /) -> str:
        self.streams_before.append(len(self._fake.streams))
        if not self._does:
            return ""
        first = self._does.pop(0)
        if callable(first):
            first()
            return ENTER
        return str(first)


def sit_down(
    monkeypatch: pytest.MonkeyPatch, wire: Plugs, *does: Any, **how: Any
) -> tuple[FakeSounddevice, Person]:
    fake = FakeSounddevice(device("bench interface", 2, 2), wire=wire, block=4800, latency=4800, **how)
    monkeypatch.setitem(sys.modules, "sounddevice", fake)  # type: ignore[arg-type]
    person = Person(fake, *does)
    monkeypatch.setattr(sys, "stdin", person)
    return fake, person


def test_both_takes_one_after_the_other(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: Captured
) -> None:
    plugs = Plugs(gain=0.1)

    def turned_up() -> None:
        plugs.gain = 0.35

    def exchanged() -> None:
        plugs.exchanged = True

    fake, person = sit_down(monkeypatch, plugs, ENTER, turned_up, ENTER, exchanged, ENTER)
    assert run(["play", str(folder)]) == OK
    out, err = capsys.readouterr()
    assert err == ""
    for words in (
        "headphones off",
        "unpowered",
        "No power amplifier",
        "Take 1 of 2 (straight.wav)",
        "Turn the gain of input 1 up by",
        "do not touch them",
        "Take 2 of 2 (swapped.wav): exchange the two plugs",
        "Leave the gains",
        f"Good: {folder / 'swapped.wav'}",
        "Every take is in",
    ):
        assert words in out
    assert "right inputs" not in out
    # Each Enter was for one sound: two level checks and a take, a level check and a take.
    assert person.streams_before == [0, 1, 2, 3, 4]
    assert len(fake.streams) == 5
    plan = json.loads((folder / "plan.json").read_text("utf-8"))
    for name in ("straight.wav", "swapped.wav"):
        told = soundfile.info(str(folder / name))
        assert (told.samplerate, told.channels) == (plan["rate"], 2)
    assert sorted(os.listdir(folder)) == ["plan.json", "straight.wav", "swapped.wav", "tones.toml"]


def test_all_that_are_there_are_not_made_again(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: Captured
) -> None:
    for name in ("straight.wav", "swapped.wav"):
        (folder / name).write_bytes(b"recorded")
    fake, _ = sit_down(monkeypatch, Plugs())
    assert run(["play", str(folder)]) == OK
    assert "Every take is there" in capsys.readouterr().out
    assert run(["play", str(folder), "--take", "straight"]) == REFUSED
    assert "--replace" in capsys.readouterr().err
    assert fake.streams == []
    assert (folder / "straight.wav").read_bytes() == b"recorded"


def test_one_take_is_made_again_when_told(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: Captured
) -> None:
    (folder / "straight.wav").write_bytes(b"recorded")
    sit_down(monkeypatch, Plugs(0.35), ENTER, ENTER)
    assert run(["play", str(folder), "--take", "straight", "--replace"]) == OK
    out = capsys.readouterr().out
    assert "Still to make: swapped.wav" in out
    assert soundfile.info(str(folder / "straight.wav")).frames > 0


@pytest.mark.parametrize("word", ["s\n", "S\n"])
def test_nothing_sounds_when_somebody_says_stop(
    word: str, folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: Captured
) -> None:
    fake, _ = sit_down(monkeypatch, Plugs(), "what?\n", word)
    assert run(["play", str(folder)]) == OK
    assert "Stopped" in capsys.readouterr().out
    assert fake.streams == []


def test_nothing_sounds_when_nobody_is_there(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: Captured
) -> None:
    fake, _ = sit_down(monkeypatch, Plugs())
    assert run(["play", str(folder)]) == REFUSED
    assert "nobody" in capsys.readouterr().err
    assert fake.streams == []


def test_a_take_with_a_gap_is_asked_for_again(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: Captured
) -> None:
    fake, person = sit_down(monkeypatch, Plugs(0.35), ENTER, ENTER, ENTER, "s\n")

    def whole_again() -> None:
        fake.flags = {}

    def spoils() -> None:
        fake.flags = {100: CallbackFlags("input_overflow")}

    person._does[1:3] = [spoils, whole_again]
    assert run(["play", str(folder)]) == OK
    out = capsys.readouterr().out
    assert "Not usable: straight.wav, at 10.0 s: samples of the inputs were lost" in out
    assert f"Good: {folder / 'straight.wav'}" in out
    assert sorted(os.listdir(folder)) == ["plan.json", "straight.wav", "tones.toml"]


def test_a_take_that_is_not_good_may_be_made_again_or_left(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: Captured
) -> None:
    plugs = Plugs(0.35)

    def clips() -> None:
        plugs.gain = 3.0

    sit_down(monkeypatch, plugs, ENTER, clips, clips, "n\n", "s\n")
    assert run(["play", str(folder)]) == OK
    out = capsys.readouterr().out
    assert out.count(f"Not good: {folder / 'straight.wav'}") == 2
    assert "Take 2 of 2" in out


def test_plugs_that_were_not_exchanged_are_asked_for_until_they_are(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: Captured
) -> None:
    plugs = Plugs(0.35)

    def exchanged() -> None:
        plugs.exchanged = True

    # Somebody records against the warning of the level check; then "n" is no way on.
    sit_down(monkeypatch, plugs, ENTER, ENTER, ENTER, "r\n", "n\n", exchanged)
    assert run(["play", str(folder)]) == OK
    out = capsys.readouterr().out
    assert "left alone, but said to be swapped" in out
    assert "Nothing can be found from it as it is" in out
    assert f"Good: {folder / 'swapped.wav'}" in out
    assert run(["takes", str(folder)]) == OK


@pytest.mark.parametrize("channels", [[3, 4], [4, 3], [2, 1]])
def test_what_is_recorded_here_is_read_whatever_channels_other_recordings_have(
    channels: list[int], folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: Captured
) -> None:
    wishes = (folder / "tones.toml").read_text("utf-8")
    assert wishes.count("[inputs]\n") == 1
    told = wishes.replace("[inputs]\n", f"[inputs]\nchannels = {channels}\n")
    (folder / "tones.toml").write_text(told, "utf-8")
    plugs = Plugs(0.35)

    def exchanged() -> None:
        plugs.exchanged = True

    sit_down(monkeypatch, plugs, ENTER, ENTER, exchanged, ENTER)
    assert run(["play", str(folder)]) == OK
    out = capsys.readouterr().out
    assert f"Good: {folder / 'straight.wav'}" in out
    assert f"Good: {folder / 'swapped.wav'}" in out
    assert soundfile.info(str(folder / "straight.wav")).channels == 2
    assert run(["takes", str(folder), "--json"]) == OK
    answer = json.loads(capsys.readouterr().out)
    # The second plug has a fifth of what lies at the shunt: exchanged channels would tell five times the shunt.
    (folder / "tones.toml").write_text(wishes, "utf-8")
    for name in ("straight.wav", "swapped.wav"):
        samples, rate = soundfile.read(folder / name)
        if channels[0] > channels[1]:
            soundfile.write(folder / name, samples[:, ::-1], rate, "PCM_24")
    assert run(["takes", str(folder), "--json"]) == OK
    plain = json.loads(capsys.readouterr().out)
    assert answer["resistance"]["value"] == pytest.approx(plain["resistance"]["value"], rel=1e-4)


def test_takes_of_a_short_are_recorded_too_and_taken_off(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: Captured
) -> None:
    plugs = Plugs(0.35)

    def exchanged() -> None:
        plugs.exchanged = not plugs.exchanged

    sit_down(monkeypatch, plugs, ENTER, ENTER, exchanged, ENTER)
    assert run(["play", str(folder)]) == OK
    assert run(["takes", str(folder), "--json"]) == OK
    plain = json.loads(capsys.readouterr().out.partition("disconnect anything.")[2])
    plugs.there = 0.01

    sit_down(monkeypatch, plugs, exchanged, ENTER, exchanged, ENTER)
    assert run(["play", str(folder), "--of", "short"]) == OK
    out = capsys.readouterr().out
    assert "Take 1 of 2 (short-straight.wav): connect as the card draws it: shunt on input 1, short on" in out
    assert "thick piece of copper" in out
    assert "Leave the gains" in out
    assert "Every take of the short is in" in out
    assert run(["play", str(folder), "--of", "short"]) == OK
    assert "Every take of the short is there" in capsys.readouterr().out
    assert run(["takes", str(folder), "--json"]) == OK
    freed = json.loads(capsys.readouterr().out)
    ratio = freed["resistance"]["value"] / plain["resistance"]["value"]
    assert ratio == pytest.approx(1 - 0.01 / 0.2, rel=1e-4)


def test_a_level_that_is_low_may_be_recorded_and_one_that_clips_may_not(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: Captured
) -> None:
    plugs = Plugs(3.0)

    def turned_down() -> None:
        plugs.gain = 0.02

    sit_down(monkeypatch, plugs, ENTER, "r\n", turned_down, "r\n", "s\n")
    assert run(["play", str(folder), "--take", "straight"]) == OK
    out = capsys.readouterr().out
    assert "Input 1 (shunt) clips" in out
    assert "r and Enter records as it is" in out
    assert f"Good: {folder / 'straight.wav'}" in out


def test_a_device_that_vanishes_in_the_second_take_does_not_hide_the_first(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: Captured
) -> None:
    plugs = Plugs(0.35)
    fake, person = sit_down(monkeypatch, plugs, ENTER, ENTER)

    def unplugged() -> None:
        fake.dies = 50

    person._does.append(unplugged)
    assert run(["play", str(folder)]) == NOT_WRITTEN
    out, err = capsys.readouterr()
    assert "Good" in out
    assert "swapped.wav was not recorded" in err
    assert "stopped in the middle" in err
    assert "Kept from before: straight.wav" in err
    assert sorted(os.listdir(folder)) == ["plan.json", "straight.wav", "tones.toml"]


def test_ctrl_c_leaves_nothing_half_made(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: Captured
) -> None:
    fake, _ = sit_down(monkeypatch, Plugs(0.35), ENTER, ENTER, interrupted=(150,))
    with pytest.raises(SystemExit) as stopped:
        run(["play", str(folder)])
    assert stopped.value.code == 130
    assert "Stopped. Nothing of this take was kept" in capsys.readouterr().out
    assert fake.streams[-1].ended == ["stop"]
    assert sorted(os.listdir(folder)) == ["plan.json", "tones.toml"]


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (["--inputs", "1", "1"], "--inputs"),
        (["--outputs", "0"], "--outputs"),
        (["--inputs", "1", "3"], "2 inputs; expected 3 inputs"),
        (["--device", "other"], "--device"),
        (["--take", "third"], "straight or swapped"),
        (["--of", "short", "--take", "open-straight"], "short-straight or short-swapped"),
        (["--of", "load"], "no table [load]"),
        (["--replace"], "no --take beside it"),
        (["--json"], "no --list beside it"),
    ],
)
def test_what_cannot_be_is_refused_in_silence(
    options: list[str], words: str, folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: Captured
) -> None:
    fake, _ = sit_down(monkeypatch, Plugs(), ENTER)
    assert run(["play", str(folder), *options]) == REFUSED
    assert words in capsys.readouterr().err
    assert fake.streams == []


@pytest.mark.parametrize("what", [None, "missing", "a file", "empty"])
def test_a_folder_without_a_plan_is_refused(
    what: str | None, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Captured
) -> None:
    sit_down(monkeypatch, Plugs(), ENTER)
    (tmp_path / "a file").write_text("x")
    (tmp_path / "empty").mkdir()
    assert run(["play", *([] if what is None else [str(tmp_path / what)])]) == REFUSED
    assert "ohmsworth tones" in capsys.readouterr().err


def test_the_list_tells_what_there_is(monkeypatch: pytest.MonkeyPatch, capsys: Captured) -> None:
    sit_down(monkeypatch, Plugs())
    assert run(["play", "--list"]) == OK
    assert "1  bench interface (ALSA): 2 in, 2 out; 44100, 48000, 96000 samples" in capsys.readouterr().out
    assert run(["play", "--list", "--json"]) == OK
    told = json.loads(capsys.readouterr().out)
    assert told["format"] == "ohmsworth audio devices 1"
    assert told["devices"] == [
        {
            "number": 1,
            "name": "bench interface",
            "system": "ALSA",
            "inputs": 2,
            "outputs": 2,
            "rates": [44_100, 48_000, 96_000],
            "usual_rate": 44_100,
        }
    ]
    monkeypatch.setitem(sys.modules, "sounddevice", FakeSounddevice())  # type: ignore[arg-type]
    assert run(["play", "--list"]) == OK
    assert "No device plays and records" in capsys.readouterr().out


def test_without_the_library_everything_else_goes_on(folder: Path) -> None:
    # A folder of the same name that cannot be loaded stands for a library that is not installed.
    blocked = folder / "blocked"
    blocked.mkdir()
    (blocked / "sounddevice.py").write_text("raise ModuleNotFoundError(\"No module named 'sounddevice'\")\n")
    ran = program("play", str(folder), cwd=folder, PYTHONPATH=_path(blocked))
    assert ran.returncode == REFUSED
    assert b"pip install ohmsworth[audio]" in ran.stderr
    assert b"drive.wav" in ran.stderr
    assert b"Traceback" not in ran.stderr
    ran = program("tones", str(folder), cwd=folder, PYTHONPATH=_path(blocked))
    assert ran.returncode == OK


def _path(first: Path) -> str:
    return os.pathsep.join([str(first), *filter(None, [os.environ.get("PYTHONPATH")])])
