"""Recordings from WAV and FLAC files, read block by block."""

from __future__ import annotations

import stat
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import soundfile
from numpy.typing import NDArray

from ohmsworth.adapters.audio.claims import claim_of, kind_of, told_of
from ohmsworth.errors import Fault, InputRefused, shorten
from ohmsworth.resistance.impedance.recording import Recording

Array = NDArray[np.float64]

#: Bits of an integer sample, None of a floating one, by the library's name for it.
_BITS: dict[str, int | None] = {"PCM_16": 16, "PCM_24": 24, "PCM_32": 32, "FLOAT": None, "DOUBLE": None}
_WANTED = "a WAV file of 16, 24 or 32 bits or floating point, or a FLAC file"
_SAVE = "Have the recording program save WAV or FLAC; a conversion afterwards brings nothing back."
_AGAIN = "Copy the file again from where it was recorded; if it is no longer there, record again."
#: Samples at a time when a file is walked through to its end.
_STEP = 1 << 10
#: The library's count for a FLAC file whose header leaves it out, as one written into a pipe, is above this.
_UNKNOWN = 1 << 62


@dataclass(frozen=True, slots=True)
class _File:
    """One file that was looked at: `bits` as in `Recording`."""

    path: Path
    name: str
    rate: int
    frames: int
    channels: int
    bits: int | None


def open_recording(paths: Sequence[Path], inputs: tuple[int, int] | None = None) -> Recording:
    """A take from one file of two inputs, or from two files of one each, in the order of the inputs.

    Nothing is kept open or in memory: each reading opens the files, goes to its place and reads on block by block.

    Parameters
    ----------
    paths
        One file or two. WAV (RF64 too) of 16, 24 or 32 bits or floating point, or FLAC.
    inputs
        Numbers, from 1, of the two channels that were recorded at the interface's first and second input; needed where a
        file has more than two. A file of two channels holds these two alone, in the order of their numbers, where it cannot hold
        channels of such numbers.

    Raises
    ------
    InputRefused
        When there is no such file or it cannot be read; when it is of another kind, or a lossy one; when its header speaks of
        more than is there; when two files are no pair. While reading, when a block is damaged or holds what is no number.
    """
    if len(paths) not in (1, 2):
        mend = "Name one stereo file, or the two mono files of one take."
        raise InputRefused((Fault("recording", f"{len(paths)} files", "one file or two", mend),))
    files: list[_File] = []
    faults: list[Fault] = []
    for path in paths:
        try:
            files.append(_looked_at(path))
        except InputRefused as refused:
            faults += refused.faults
    faults = faults or (_no_pair(files) if len(files) == 2 else _no_two(files[0], inputs))
    if faults:
        raise InputRefused(tuple(faults))
    first = files[0]
    picks = [(0,), (0,)] if len(files) == 2 else [_pick(files[0], inputs)]
    known = [file.bits for file in files if file.bits is not None]

    def read(start: int, stop: int, size: int) -> Iterator[Array]:
        walks = [_blocks(file, pick, start, stop, size) for file, pick in zip(files, picks, strict=True)]
        for parts in zip(*walks, strict=True):
            yield np.concatenate(parts, axis=1)

    return Recording(
        " and ".join(file.name for file in files), first.rate, first.frames, min(known, default=None), read
    )


def _pick(file: _File, inputs: tuple[int, int] | None) -> tuple[int, int]:
    """Which channels of a file hold the first and the second input, counted from 0."""
    first, second = inputs or (1, 2)
    if file.channels == 2 and max(first, second) > 2:
        return (0, 1) if first < second else (1, 0)
    return first - 1, second - 1


def _looked_at(path: Path) -> _File:
    """What a file says of itself, refused where that is not what can be used."""
    name = shorten(path.name or str(path), 80)[1:-1]
    start = _first_bytes(path, name)
    kind = kind_of(start)
    if kind is None:
        raise _refused(name, told_of(start), _WANTED, _SAVE)
    try:
        with soundfile.SoundFile(path) as sound:
            found = _File(
                path,
                name,
                int(sound.samplerate),
                int(sound.frames),
                int(sound.channels),
                _BITS.get(sound.subtype),
            )
            subtype = str(sound.subtype)
    except soundfile.LibsndfileError as error:
        told = str(error.error_string).strip(" .") or "a damaged header"
        raise _refused(name, f"a {kind} file that cannot be opened: {told}", _WANTED, _AGAIN) from None
    if subtype not in _BITS:
        raise _refused(name, f"a {kind} file with samples of the kind {subtype}", _WANTED, _SAVE)
    if kind == "WAV":
        _whole_wav(found)
    else:
        _whole_flac(found)
    if found.frames < 1:
        mend = "Record again, and look at the level meters of the recording program meanwhile."
        raise _refused(name, "no samples", "a recording", mend)
    return found


def _first_bytes(path: Path, name: str) -> bytes:
    try:
        mode = path.stat().st_mode
        start = b""
        if stat.S_ISREG(mode):
            with path.open("rb") as file:
                start = file.read(64)
    except (FileNotFoundError, ValueError):  # ValueError: a name with a NUL in it
        raise _refused(name, "no such file", _WANTED, "Check the name and the folder.") from None
    except OSError as error:
        reason, mend = error.strerror or "an unreadable file", "Check the file and its permissions."
        raise _refused(name, reason, "a file that can be read", mend) from None
    if not stat.S_ISREG(mode):
        what = "a folder" if stat.S_ISDIR(mode) else "something that is not a file"
        raise _refused(name, what, _WANTED, "Name the file of the take itself.")
    if not start:
        raise _refused(name, "an empty file", _WANTED, _AGAIN)
    return start


def _whole_wav(file: _File) -> None:
    """Refuse a file that ends before, or long after, what its header speaks of."""
    claim = claim_of(file.path)
    if claim is None or claim.claimed is None:
        return
    if claim.there and not claim.claimed:
        mend = "The recorder was stopped before it finished the file: open it in the recording program and save it again."
        raise _refused(file.name, "a header that speaks of no samples, and samples", "a finished file", mend)
    missing = claim.claimed - claim.there
    if missing > 0:
        raise _cut_off(file, claim.claimed // claim.frame, claim.there // claim.frame)
    if -missing >= 1 << 32:
        mend = "Files of more than 4 GB need the RF64 form of WAV: record shorter, or save as FLAC or RF64."
        raise _refused(file.name, "more bytes than its header can count", "a file of less than 4 GB", mend)


def _whole_flac(file: _File) -> None:
    """Refuse a file that does not say how long it is, or of which the last sample cannot be read."""
    if file.frames > _UNKNOWN:
        mend = "Open it in the recording program and save it again."
        raise _refused(file.name, "a header that leaves out how long it is", "a finished file", mend)
    with soundfile.SoundFile(file.path) as sound:
        try:
            sound.seek(max(file.frames - 1, 0))
            if len(sound.read(1)) == min(file.frames, 1):
                return
        except soundfile.LibsndfileError:
            pass
    there = 0
    with soundfile.SoundFile(file.path) as sound:
        try:
            while block := len(sound.read(_STEP)):
                there += block
        except soundfile.LibsndfileError:
            pass  # the step in which it ends counts as missing
    raise _cut_off(file, file.frames, there)


def _cut_off(file: _File, claimed: int, there: int) -> InputRefused:
    lost = (claimed - there) / file.rate
    found = (
        f"{there} of the {claimed} samples that its header speaks of ({lost:.2f} s are missing at the end)"
    )
    return _refused(file.name, found, "the whole recording", _AGAIN)


def _no_pair(files: list[_File]) -> list[Fault]:
    """What keeps two files from being the two inputs of one take."""
    first, second = files
    faults = [
        Fault(
            file.name,
            f"{file.channels} channels",
            "one channel in each of two files",
            "Name a stereo file alone.",
        )
        for file in files
        if file.channels != 1
    ]
    if first.path.samefile(second.path):
        faults.append(Fault(second.name, "the same file twice", "two files", "Name the other input's file."))
    if first.rate != second.rate:
        mend = "Export both inputs of one take at the same rate, without conversion."
        faults.append(Fault(second.name, f"{second.rate} Hz", f"{first.rate} Hz, as {first.name}", mend))
    if first.frames != second.frames:
        mend = "Export both inputs of one take from the same beginning to the same end."
        expected = f"{first.frames} samples, as {first.name}"
        faults.append(Fault(second.name, f"{second.frames} samples", expected, mend))
    return faults


def _no_two(file: _File, inputs: tuple[int, int] | None) -> list[Fault]:
    """What keeps a file from giving two inputs."""
    has = f"{file.channels} channel{'s' if file.channels > 1 else ''}"
    if file.channels == 1:
        mend = "Record in stereo, or name both files if the recorder wrote one for each input."
        return [Fault(file.name, has, "two channels", mend)]
    if file.channels == 2 and (
        inputs is None or (max(inputs) > 2 and inputs[0] != inputs[1] and min(inputs) > 0)
    ):
        return []
    if inputs is None:
        return [Fault(file.name, has, "two channels", "Say by number which two were connected.")]
    numbers = f"channels {inputs[0]} and {inputs[1]}"
    if inputs[0] == inputs[1] or not all(1 <= number <= file.channels for number in inputs):
        return [Fault(file.name, numbers, f"two different ones from 1 to {file.channels}", "Count from 1.")]
    return []


def _blocks(file: _File, pick: tuple[int, ...], start: int, stop: int, size: int) -> Iterator[Array]:
    """Some channels of a file from `start` up to `stop`, at most `size` samples at a time."""
    at, stop = max(start, 0), min(stop, file.frames)
    if at >= stop:
        return
    try:
        with soundfile.SoundFile(file.path) as sound:
            sound.seek(at)
            while at < stop:
                block = sound.read(min(size, stop - at), dtype="float64", always_2d=True)[:, pick]
                if not len(block):
                    raise _damaged(file, at)
                if not np.isfinite(block).all():
                    raise _no_numbers(file, at, block)
                at += len(block)
                yield block
    except (soundfile.LibsndfileError, OSError):
        raise _damaged(file, at) from None


def _damaged(file: _File, at: int) -> InputRefused:
    where = f"{file.name}, at {at / file.rate:.3f} s"
    return _refused(where, "a damaged place, or a file that has changed", "samples", _AGAIN)


def _no_numbers(file: _File, at: int, block: Array) -> InputRefused:
    first = at + int(np.flatnonzero(~np.isfinite(block).all(axis=1))[0])
    where = f"{file.name}, at {first / file.rate:.3f} s"
    mend = "Switch off effects in the recording program, or save integer samples; then record again."
    return _refused(where, "a sample that is no number", "finite numbers", mend)


def _refused(where: str, found: str, expected: str, mend: str) -> InputRefused:
    return InputRefused((Fault(where, found, expected, mend),))
