"""Sound files as recordings: every sample comes back, and what is no whole recording is refused."""

import os
import re
import struct
import tracemalloc
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
import soundfile

from ohmsworth import wiring
from ohmsworth.adapters.audio import open_recording
from ohmsworth.errors import InputRefused
from ohmsworth.work.recordings import OpenRecording

RATE = 48000
WAVES = np.random.default_rng(5).uniform(-0.5, 0.5, (30000, 2))
STEPS = {"PCM_16": 2**15, "PCM_24": 2**23, "PCM_32": 2**31}


def written(path: Path, waves: np.ndarray = WAVES, subtype: str = "PCM_24", form: str | None = None) -> Path:
    """A sound file of `waves`."""
    soundfile.write(path, waves, RATE, format=form, subtype=subtype)
    return path


def refused(*paths: Path, inputs: tuple[int, int] | None = None) -> str:
    """What the refusal says."""
    with pytest.raises(InputRefused) as caught:
        open_recording(paths, inputs)
    assert all(fault.mend.endswith(".") and fault.expected for fault in caught.value.faults)
    return str(caught.value)


@pytest.mark.parametrize(
    ("ending", "subtype", "bits"),
    [
        ("wav", "PCM_16", 16),
        ("wav", "PCM_24", 24),
        ("wav", "PCM_32", 32),
        ("wav", "FLOAT", None),
        ("wav", "DOUBLE", None),
        ("flac", "PCM_16", 16),
        ("flac", "PCM_24", 24),
        ("rf64", "PCM_24", 24),
    ],
)
def test_every_sample_comes_back(tmp_path: Path, ending: str, subtype: str, bits: int | None) -> None:
    take = open_recording([written(tmp_path / f"take.{ending}", subtype=subtype)])
    assert (take.name, take.rate, take.frames, take.bits) == (f"take.{ending}", RATE, 30000, bits)
    off = {"FLOAT": 2**-25, "DOUBLE": 0.0}.get(subtype) or 1 / STEPS.get(subtype, np.inf)
    assert np.abs(take.whole(0, 30000) - WAVES).max() <= off
    blocks = list(take.read(1000, 9000, 3000))
    assert [len(block) for block in blocks] == [3000, 3000, 2000]
    assert (np.concatenate(blocks) == take.whole(0, 30000)[1000:9000]).all()
    assert take.whole(29000, 31000).shape == (1000, 2)
    assert take.whole(31000, 32000).shape == (0, 2)


def test_the_wiring_opens_recordings(tmp_path: Path) -> None:
    port: OpenRecording = wiring.open_recording
    assert port([written(tmp_path / "take.wav")], None).frames == 30000


def test_two_mono_files_are_one_take(tmp_path: Path) -> None:
    first = written(tmp_path / "one.wav", WAVES[:, 0], "DOUBLE")
    second = written(tmp_path / "two.flac", WAVES[:, 1], "PCM_24")
    take = open_recording([first, second])
    assert (take.name, take.bits) == ("one.wav and two.flac", 24)
    assert np.abs(take.whole(50, 2000) - WAVES[50:2000]).max() <= 1 / STEPS["PCM_24"]


def test_two_channels_of_many(tmp_path: Path) -> None:
    many = written(tmp_path / "four.wav", np.hstack([WAVES, -WAVES]), "DOUBLE")
    assert (
        open_recording([many], (4, 1)).whole(0, 100) == np.column_stack([-WAVES[:100, 1], WAVES[:100, 0]])
    ).all()
    assert "4 channels; expected two channels" in refused(many)
    for wrong in ((0, 1), (2, 2), (1, 5), (-1, 2)):
        assert "expected two different ones from 1 to 4" in refused(many, inputs=wrong)


def test_one_channel_is_not_enough(tmp_path: Path) -> None:
    assert "found 1 channel; expected two" in refused(written(tmp_path / "mono.wav", WAVES[:, 0]))


def test_two_files_that_are_no_pair(tmp_path: Path) -> None:
    one = written(tmp_path / "one.wav", WAVES[:, 0])
    short = written(tmp_path / "short.wav", WAVES[:-9, 0])
    slow = tmp_path / "slow.wav"
    soundfile.write(slow, WAVES[:, 0], 44100, subtype="PCM_24")
    assert "found 29991 samples; expected 30000 samples, as one.wav" in refused(one, short)
    assert "found 44100 Hz; expected 48000 Hz, as one.wav" in refused(one, slow)
    assert "the same file twice" in refused(one, one)
    assert "2 channels; expected one channel" in refused(one, written(tmp_path / "both.wav"))
    assert "found 3 files" in refused(one, one, one)
    assert "found 0 files" in refused()


def test_both_faults_of_two_files_are_told(tmp_path: Path) -> None:
    told = refused(tmp_path / "no.wav", tmp_path / "neither.wav")
    assert "no.wav: found no such file" in told
    assert "neither.wav: found no such file" in told


@pytest.mark.parametrize("subtype", ["PCM_24", "FLOAT"])
def test_a_wav_that_was_cut_off_says_how_much_is_missing(tmp_path: Path, subtype: str) -> None:
    whole = written(tmp_path / "whole.wav", subtype=subtype).read_bytes()
    cut = tmp_path / "cut.wav"
    frame = 2 * (3 if subtype == "PCM_24" else 4)
    cut.write_bytes(whole[: len(whole) - 12000 * frame])
    there = int(re.findall(r"found (\d+) of the 30000 samples", refused(cut))[0])
    assert 0 <= 18000 - there <= 20  # a chunk may stand after the samples
    assert "(0.25 s are missing" in refused(cut)


def test_a_flac_that_was_cut_off_says_how_much_is_missing(tmp_path: Path) -> None:
    whole = written(tmp_path / "whole.flac").read_bytes()
    cut = tmp_path / "cut.flac"
    cut.write_bytes(whole[: len(whole) // 2])
    there = int(re.findall(r"found (\d+) of the 30000 samples", refused(cut))[0])
    assert 15000 - 4096 - 1024 < there < 15500


def test_a_flac_that_leaves_its_length_out_is_refused(tmp_path: Path) -> None:
    data = bytearray(written(tmp_path / "take.flac").read_bytes())
    data[21] &= 0xF0
    data[22:26] = bytes(4)
    (tmp_path / "piped.flac").write_bytes(data)
    assert "leaves out how long it is" in refused(tmp_path / "piped.flac")


def header(claimed: int, form: bytes = b"RIFF", real: int = 0) -> bytes:
    """A WAV header of two inputs, 24 bits."""
    ds64 = b"ds64" + struct.pack("<IQQQI", 28, real + 72, real, real // 6, 0) if form == b"RF64" else b""
    described = b"fmt " + struct.pack("<IHHIIHH", 16, 1, 2, RATE, RATE * 6, 6, 24)
    body = b"WAVE" + ds64 + described + b"data" + struct.pack("<I", claimed)
    return form + struct.pack("<I", min(len(body) + claimed, 0xFFFFFFFF)) + body


def test_a_header_that_was_never_finished(tmp_path: Path) -> None:
    path = tmp_path / "stopped.wav"
    path.write_bytes(header(0) + bytes(6000))
    assert "speaks of no samples, and samples" in refused(path)
    path.write_bytes(header(0xFFFFFFFF) + bytes(6000))
    assert open_recording([path]).frames == 1000


def test_a_header_without_samples_or_description(tmp_path: Path) -> None:
    path = tmp_path / "none.wav"
    path.write_bytes(header(0))
    assert "found no samples" in refused(path)
    path.write_bytes(header(0)[:20])
    assert "cannot be opened" in refused(path)


def test_hours_in_the_large_form(tmp_path: Path) -> None:
    # Written as a hole of more than 4 GB with one sample at its end: it takes no room.
    path, size = tmp_path / "hours.wav", 6 * 16 * 3600 * RATE
    with path.open("wb") as file:
        file.write(header(0xFFFFFFFF, b"RF64", size))
        file.seek(size - 6, os.SEEK_CUR)
        file.write(b"\0\0\x40\0\0\xc0")
    take = open_recording([path])
    assert take.frames == 16 * 3600 * RATE
    assert (take.whole(take.frames - 1, take.frames) == [[0.5, -0.5]]).all()
    with path.open("r+b") as file:
        file.truncate(size // 2)
    assert "(28800.00 s are missing" in refused(path)
    # The small form cannot count so far.
    with path.open("r+b") as file:
        file.write(header(size % 2**32))
        file.truncate(size + 44)
    assert "more bytes than its header can count" in refused(path)


@pytest.mark.parametrize(
    ("form", "subtype", "told"),
    [
        ("MP3", "MPEG_LAYER_III", "an MP3 file"),
        ("OGG", "VORBIS", "an Ogg file"),
        ("AIFF", "PCM_24", "an AIFF file"),
        ("W64", "PCM_24", "a W64 file"),
        ("WAV", "ULAW", "samples of the kind ULAW"),
        ("WAV", "IMA_ADPCM", "samples of the kind IMA_ADPCM"),
        ("WAV", "PCM_U8", "samples of the kind PCM_U8"),
    ],
)
def test_other_kinds_are_refused_whatever_their_name(
    tmp_path: Path, form: str, subtype: str, told: str
) -> None:
    assert told in refused(written(tmp_path / "take.wav", subtype=subtype, form=form))


@pytest.mark.parametrize(
    ("data", "told"),
    [
        (b"", "an empty file"),
        (b"Frequency; Level\n20; 0,3\n", "found text"),
        (b"\0\0\0\x20ftypM4A \0\0\0\0", "an M4A or MP4 file"),
        (b"ID3\x04\0\0\0\0\0\0", "an MP3 file"),
        (b"\xff\xf1\x50\x80", "an AAC file"),
        (b"\x00\x01\x02\x03" * 20, "neither a WAV nor a FLAC"),
        (b"fLaC" + b"\x07" * 80, "cannot be opened"),
        (b"RIFF\x10\0\0\0WAVE" + b"\x09" * 80, "cannot be opened"),
    ],
)
def test_what_is_no_recording(tmp_path: Path, data: bytes, told: str) -> None:
    path = tmp_path / "take.wav"
    path.write_bytes(data)
    assert told in refused(path)


def test_places_where_no_file_is(tmp_path: Path) -> None:
    assert "found a folder" in refused(tmp_path)
    assert "no such file" in refused(tmp_path / "none.wav")
    assert "no such file" in refused(Path("a\0b.wav"))
    os.mkfifo(tmp_path / "pipe.wav")
    assert "something that is not a file" in refused(tmp_path / "pipe.wav")


def test_a_file_that_may_not_be_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = written(tmp_path / "take.wav")
    real: Callable[..., object] = Path.open

    def forbidden(self: Path, *arguments: object, **others: object) -> object:
        if self == path:
            raise PermissionError(13, "Permission denied")  # as for anybody but root
        return real(self, *arguments, **others)

    monkeypatch.setattr(Path, "open", forbidden)
    assert "found Permission denied; expected a file that can be read" in refused(path)


def test_a_sample_that_is_no_number_is_told_where_it_is_read(tmp_path: Path) -> None:
    waves = WAVES.copy()
    waves[24000, 1] = np.nan
    take = open_recording([written(tmp_path / "take.wav", waves, "DOUBLE")])
    assert len(take.whole(0, 24000)) == 24000
    with pytest.raises(InputRefused, match=r"at 0\.500 s: found a sample that is no number"):
        take.whole(0, 30000)


def test_a_damaged_block_is_told_where_it_is_read(tmp_path: Path) -> None:
    path = written(tmp_path / "take.flac")
    data = bytearray(path.read_bytes())
    data[len(data) // 2 : len(data) // 2 + 400] = bytes(400)
    path.write_bytes(data)
    with pytest.raises(InputRefused, match="a damaged place"):
        open_recording([path]).whole(0, 30000)


def test_a_file_that_went_away_or_shrank_is_told(tmp_path: Path) -> None:
    path = written(tmp_path / "take.wav")
    take = open_recording([path])
    written(path, WAVES[:100])
    with pytest.raises(InputRefused, match="a damaged place, or a file that has changed"):
        take.whole(0, 30000)
    path.unlink()
    with pytest.raises(InputRefused, match="a damaged place, or a file that has changed"):
        take.whole(0, 10)


def test_a_long_file_is_read_in_little_memory(tmp_path: Path) -> None:
    path, frames = tmp_path / "long.wav", 12_000_000  # 72 MB
    with soundfile.SoundFile(path, "w", RATE, 2, "PCM_24") as file:
        for _ in range(0, frames, 30000):
            file.write(WAVES)
    take = open_recording([path])
    tracemalloc.start()
    try:
        total, seen = 0.0, 0
        for block in take.read(0, take.frames, 1 << 15):
            total += float(np.abs(block).sum())
            seen += len(block)
        most = tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()
    assert seen == frames
    assert total == pytest.approx(np.abs(WAVES).sum() * frames / 30000, rel=1e-5)
    assert most < 6e6
