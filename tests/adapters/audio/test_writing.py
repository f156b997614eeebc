"""The drive as a file is the drive."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import soundfile

from ohmsworth.adapters.audio import staged_drive, writing
from ohmsworth.errors import OutputFault
from ohmsworth.resistance.impedance.circuit import Circuit, Shunt
from ohmsworth.resistance.impedance.drive import drive
from ohmsworth.resistance.impedance.wishes import Wishes, plan_for

PLAN = plan_for(Wishes(Circuit(Shunt(0.1), 47.0, 1.4), 0.01, 0.02, tones=3, seconds=3.0, rate=44_100))


@pytest.mark.parametrize("channels", [1, 2])
def test_the_file_holds_the_drive(channels: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(writing, "BLOCK", 50_000)
    path = tmp_path / "deep" / "drive.wav"
    with staged_drive(path, PLAN, channels):
        assert not path.exists()
    told = soundfile.info(str(path))
    assert (told.format, told.subtype, told.channels, told.samplerate) == ("WAV", "PCM_24", channels, 44_100)
    samples = soundfile.read(path, always_2d=True)[0]
    assert samples.shape == (PLAN.length, channels)
    for channel in samples.T:
        assert np.abs(channel - drive(PLAN, 0, PLAN.length)).max() <= 2**-24
    first = path.read_bytes()
    with staged_drive(path, PLAN, channels):
        pass
    assert path.read_bytes() == first
    assert [one.name for one in path.parent.iterdir()] == ["drive.wav"]


def test_nothing_is_left_when_something_else_goes_wrong(tmp_path: Path) -> None:
    path = tmp_path / "new" / "drive.wav"
    with pytest.raises(RuntimeError, match="something else"), staged_drive(path, PLAN, 1):
        raise RuntimeError("something else")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("name", ["a file/drive.wav", "a folder", "a\0b", "x" * 300])
def test_a_place_that_cannot_be_is_told(name: str, tmp_path: Path) -> None:
    (tmp_path / "a file").write_text("x")
    (tmp_path / "a folder").mkdir()
    before = sorted(tmp_path.rglob("*"))
    with pytest.raises(OutputFault, match="another place"), staged_drive(tmp_path / name, PLAN, 1):
        pass
    assert sorted(tmp_path.rglob("*")) == before
