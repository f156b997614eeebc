"""A recording as it is made."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import soundfile

from ohmsworth.adapters.audio import open_recording, staged_recording
from ohmsworth.errors import OutputFault


def stopped(path: Path, error: type[BaseException], replace: bool = False) -> None:
    with staged_recording(path, 48_000, 1.0, replace) as keep:
        keep(np.zeros((100, 2)))
        raise error


def test_the_file_holds_what_was_kept_to_24_bits(tmp_path: Path) -> None:
    path = tmp_path / "straight.wav"
    waves = np.random.default_rng(3).uniform(-1, 1, (5000, 2))
    waves[0], waves[1] = (1.5, -1.5), (1.0, -1.0)
    with staged_recording(path, 48_000, 0.1, False) as keep:
        keep(waves[:3000])
        keep(waves[3000:])
        assert not path.exists()
    recording = open_recording([path])
    assert (recording.rate, recording.frames, recording.bits) == (48_000, 5000, 24)
    assert np.abs(recording.whole(0, 5000) - np.clip(waves, -1, 1 - 2**-23)).max() <= 2**-24
    assert [one.name for one in tmp_path.iterdir()] == ["straight.wav"]


def test_24_bits_come_through_unchanged(tmp_path: Path) -> None:
    whole = np.random.default_rng(4).integers(-(2**23), 2**23, (1000, 2))
    with staged_recording(tmp_path / "a.wav", 96_000, 0.1, False) as keep:
        keep((whole / 2**23).astype(np.float32).astype(np.float64))
    assert np.array_equal(soundfile.read(tmp_path / "a.wav", dtype="int32")[0] >> 8, whole)


@pytest.mark.parametrize("error", [KeyboardInterrupt, RuntimeError])
def test_nothing_is_left_of_a_take_that_was_stopped(error: type[BaseException], tmp_path: Path) -> None:
    with pytest.raises(error):
        stopped(tmp_path / "a.wav", error)
    assert list(tmp_path.iterdir()) == []


def test_a_recording_is_not_overwritten_unless_told(tmp_path: Path) -> None:
    path = tmp_path / "a.wav"
    path.write_bytes(b"recorded before")
    with pytest.raises(OutputFault, match="already"), staged_recording(path, 48_000, 1.0, False):
        raise AssertionError("not begun")
    assert path.read_bytes() == b"recorded before"
    with pytest.raises(KeyboardInterrupt):
        stopped(path, KeyboardInterrupt, replace=True)
    assert path.read_bytes() == b"recorded before"
    with staged_recording(path, 48_000, 1.0, True) as keep:
        keep(np.zeros((100, 2)))
    assert soundfile.info(str(path)).frames == 100


def test_one_that_came_meanwhile_is_not_overwritten_either(tmp_path: Path) -> None:
    path = tmp_path / "a.wav"
    with pytest.raises(OutputFault, match="already"), staged_recording(path, 48_000, 1.0, False):
        path.write_bytes(b"meanwhile")
    assert path.read_bytes() == b"meanwhile"
    assert [one.name for one in tmp_path.iterdir()] == ["a.wav"]


def test_hours_get_a_header_that_can_count_them(tmp_path: Path) -> None:
    path = tmp_path / "a.wav"
    with staged_recording(path, 192_000, 3600.0, False) as keep:
        keep(np.full((100, 2), 0.25))
    assert soundfile.info(str(path)).format == "RF64"
    assert (open_recording([path]).whole(0, 100) == 0.25).all()


@pytest.mark.parametrize("name", ["none/a.wav", "a folder", "a\0b", "x" * 300])
def test_a_place_that_cannot_be_is_told(name: str, tmp_path: Path) -> None:
    (tmp_path / "a folder").mkdir()
    with (
        pytest.raises(OutputFault, match="another place"),
        staged_recording(tmp_path / name, 48_000, 1.0, True),
    ):
        raise AssertionError("not begun")
    assert [one.name for one in tmp_path.iterdir()] == ["a folder"]
