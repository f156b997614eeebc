"""Writing files so that a half-written one never stands where a whole one is expected."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path

from ohmsworth.errors import OutputFault


def write_file(path: Path, data: bytes) -> None:
    """Write `data` to `path` (making its folder), replacing the file only once all is on disk.

    Raises
    ------
    OutputFault
        When the folder or file cannot be written.
    """
    write_files(((path, data),))


def write_files(files: Sequence[tuple[Path, bytes]]) -> None:
    """Write all of `files` as `write_file` does, or none where one of them cannot be written.

    Raises
    ------
    OutputFault
        When a folder or file cannot be written.
    """
    made: list[Path] = []
    staged: list[tuple[Path, str]] = []
    try:
        for path, data in files:
            with _in_words(path):
                place = _place(path)
                made += _missing(place.parent)
                place.parent.mkdir(parents=True, exist_ok=True)
                staged.append((place, _temporary(place, data)))
        while staged:
            with _in_words(staged[0][0]):
                os.replace(staged[0][1], staged[0][0])
            del staged[0]
    except BaseException:
        for _, temporary in staged:
            os.unlink(temporary)
        for folder in reversed(made):
            with suppress(OSError):  # it was not made, or holds something by now
                folder.rmdir()
        raise


def write_new_files(files: Sequence[tuple[Path, bytes]]) -> None:
    """Write all of `files` as `write_files` does, and none where one of them is there already.

    Raises
    ------
    OutputFault
        When a file is there, or cannot be written.
    """
    claimed: list[Path] = []
    try:
        for path, _ in files:
            if os.path.lexists(path):
                raise OutputFault(f"{path} is there already, and is never replaced; choose another name.")
            with _in_words(path):
                path.parent.mkdir(parents=True, exist_ok=True)
                # Made empty first, by the one call that never takes the place of a file, not even of one made just now.
                os.close(os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o644))
            claimed.append(path)
        write_files(files)
    except BaseException:
        for path in claimed:
            with suppress(OSError):
                path.unlink()
        raise


@contextmanager
def _in_words(path: Path) -> Iterator[None]:
    """What goes wrong with the file at `path`, as an OutputFault."""
    try:
        yield
    except (OSError, ValueError) as error:  # ValueError: a name with a NUL in it
        reason = getattr(error, "strerror", None) or str(error)
        raise OutputFault(f"{path} cannot be written: {reason}. Choose another place, or free it.") from error


def _place(path: Path) -> Path:
    """Where a file really goes: a link stays a link, and the file that it names is replaced."""
    place = Path(os.path.realpath(path))
    if place.is_symlink():
        raise OSError(0, "its links lead round in a circle")
    if place.exists() and not place.is_file():
        raise OSError(0, "it is a folder" if place.is_dir() else "it is a device, not a file")
    return place


def _missing(folder: Path) -> list[Path]:
    """The folders that have to be made before `folder` is there, outermost first."""
    return [each for each in (folder, *folder.parents) if not each.exists()][::-1]


def _temporary(place: Path, data: bytes) -> str:
    """The name of a file beside `place` that holds `data`, all of it on disk."""
    handle, temporary = tempfile.mkstemp(dir=place.parent, prefix=f".{place.name[:40]}.")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        os.chmod(temporary, 0o644)
    except BaseException:
        os.unlink(temporary)
        raise
    return temporary
