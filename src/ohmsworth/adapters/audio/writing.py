"""The drive as a WAV file of 24 bits, and recordings: block by block, so that an hour takes no more memory than a second."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from ohmsworth.errors import OutputFault
from ohmsworth.resistance.impedance.drive import drive
from ohmsworth.resistance.impedance.recording import Recording
from ohmsworth.resistance.impedance.tone_plan import TonePlan

#: Samples that are made at a time.
BLOCK = 1 << 18
#: Full scale in whole numbers of 24 bits; they are written as the upper bits of 32.
_FULL, _UPPER = 2**23, 2**8


@contextmanager
def staged_drive(path: Path, plan: TonePlan, channels: int) -> Iterator[None]:
    """Write the drive beside `path`, and put it there when what is done meanwhile has gone well.

    Parameters
    ----------
    path
        Where the file is to stand; its folder is made.
    plan
        What is played.
    channels
        One, or two that are alike.

    Raises
    ------
    OutputFault
        When it cannot be written; nothing is left behind.
    """
    temporary: str | None = None
    made = [folder for folder in (path.parent, *path.parent.parents) if not folder.exists()]
    try:
        with in_words(path):
            if path.is_dir():
                raise OSError(0, "it is a folder")
            path.parent.mkdir(parents=True, exist_ok=True)
            handle, temporary = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
            os.close(handle)
            _write(temporary, plan, channels)
            os.chmod(temporary, 0o644)
        yield
        with in_words(path):
            os.replace(temporary, path)
    except BaseException:
        if temporary is not None:
            with suppress(OSError):
                os.unlink(temporary)
        for folder in made:
            with suppress(OSError):  # it was not made, or holds something by now
                folder.rmdir()
        raise


def write_recording(path: Path, recording: Recording) -> None:
    """Write a recording of whole numbers of 24 bits, block by block; FLAC or WAV by the ending of `path`.

    Raises
    ------
    OutputFault
        When it cannot be written.
    """
    import soundfile

    with in_words(path), soundfile.SoundFile(path, "w", recording.rate, 2, "PCM_24") as file:
        for block in recording.read(0, recording.frames, BLOCK):
            file.write(_whole(block))


def _write(name: str, plan: TonePlan, channels: int) -> None:
    import soundfile

    with soundfile.SoundFile(name, "w", plan.rate, channels, "PCM_24", format="WAV") as file:
        for first in range(0, plan.length, BLOCK):
            samples = drive(plan, first, min(first + BLOCK, plan.length))
            file.write(np.repeat(_whole(samples)[:, None], channels, axis=1))


def _whole(samples: NDArray[np.float64]) -> NDArray[np.int32]:
    """Samples, full scale being 1, as the upper 24 bits of whole numbers."""
    return np.clip(np.rint(samples * _FULL), -_FULL, _FULL - 1).astype(np.int32) * np.int32(_UPPER)


@contextmanager
def in_words(path: Path) -> Iterator[None]:
    """What goes wrong with the file at `path`, as an OutputFault."""
    try:
        yield
    except (
        OSError,
        ValueError,
        RuntimeError,
    ) as error:  # RuntimeError: what the library of sound files raises
        reason = getattr(error, "strerror", None) or str(error)
        raise OutputFault(f"{path} cannot be written: {reason}. Choose another place, or free it.") from error
