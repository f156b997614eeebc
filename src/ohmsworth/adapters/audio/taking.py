"""A recording as it is made: a WAV file of 24 bits, written block by block."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

import numpy as np

from ohmsworth.adapters.audio.writing import in_words
from ohmsworth.work.audio_ports import Array, Keep

_FULL, _UPPER = 2**23, 2**8
#: Bytes of a sample of both inputs, and bytes from which the header of a WAV file is too small to count them.
_FRAME, _LARGE = 6, 4e9


@contextmanager
def staged_recording(path: Path, rate: int, seconds: float, replace: bool) -> Iterator[Keep]:
    """Write a recording beside `path`, and put it there when what is done meanwhile has gone well.

    Parameters
    ----------
    path
        Where the file is to stand; its folder is there.
    rate
        Samples a second.
    seconds
        About how long it will be.
    replace
        Whether it may take the place of a file that is there.

    Raises
    ------
    OutputFault
        When it cannot be written, or there is such a file; nothing is left behind.
    """
    import soundfile

    large = 1.1 * seconds * rate * _FRAME > _LARGE
    temporary: str | None = None
    try:
        with in_words(path):
            _refuse_taken(path, replace)
            handle, temporary = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
            os.close(handle)
            file = soundfile.SoundFile(temporary, "w", rate, 2, "PCM_24", format="RF64" if large else "WAV")
        with file:

            def keep(block: Array) -> None:
                whole = np.clip(np.rint(block * _FULL), -_FULL, _FULL - 1).astype(np.int32)
                with in_words(path):
                    file.write(whole * np.int32(_UPPER))

            yield keep
        with in_words(path):
            _on_disk(temporary)
            _refuse_taken(path, replace)
            os.chmod(temporary, 0o644)
            os.replace(temporary, path)
    except BaseException:
        if temporary is not None:
            with suppress(OSError):
                os.unlink(temporary)
        raise


def _refuse_taken(path: Path, replace: bool) -> None:
    if path.is_dir():
        raise OSError(0, "it is a folder")
    if not replace and os.path.lexists(path):
        raise OSError(0, "there is a recording of this name already")


def _on_disk(name: str) -> None:
    """Wait until all of a file is on the disk: a take is not made twice for a power cut."""
    handle = os.open(name, os.O_RDWR)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
