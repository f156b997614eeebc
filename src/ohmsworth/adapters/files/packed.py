"""Many files as a folder or as one zip file: written whole or not at all, and read with nothing taken on trust."""

from __future__ import annotations

import os
import stat
import zipfile
import zlib
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from shutil import rmtree
from typing import IO

from ohmsworth.adapters.files.decode import LARGEST_FILE, read_bytes
from ohmsworth.adapters.files.plain_names import is_plain
from ohmsworth.errors import Fault, InputRefused, OutputFault, shorten

#: The same bytes whenever it is written: no clock, no system.
_MOMENT = (1980, 1, 1, 0, 0, 0)
_UNIX = 3
#: What an export may hold at most: files, bytes in all, folders inside folders.
MOST_FILES, MOST_BYTES, DEEPEST = 1_000_000, 64 * 1024**3, 6
#: A file that packs better than so many to one, and is larger than this, was made to fill a disk.
_TIGHTEST, _SMALL = 500, 1024 * 1024
_EXPECTED = "an export of the records"
_MEND = "Take the export as it was written."


@dataclass(frozen=True, slots=True)
class Tree:
    """Files by their paths, with "/" between folders."""

    names: tuple[str, ...]
    read: Callable[[str], bytes]


def write_zip(path: Path, files: Iterable[tuple[str, bytes]]) -> None:
    """Write `files` as a zip file, which takes its place only once all is on disk.

    Raises
    ------
    OutputFault
        When it is there already or cannot be written.
    """
    if os.path.lexists(path):
        raise OutputFault(f"{path} is there already; choose another name, nothing was written.")
    part = path.with_name(f".{path.name[:80]}.part")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with open(part, "wb") as raw:
            with zipfile.ZipFile(raw, "w", zipfile.ZIP_DEFLATED) as packed:
                for name, data in files:
                    entry = zipfile.ZipInfo(name, _MOMENT)
                    entry.create_system, entry.external_attr = _UNIX, (stat.S_IFREG | 0o644) << 16
                    packed.writestr(entry, data, zipfile.ZIP_DEFLATED, 6)
            raw.flush()
            os.fsync(raw.fileno())
        os.replace(part, path)
    except OutputFault:
        raise
    except (OSError, ValueError) as error:
        raise _not_written(path, error) from error
    finally:
        with suppress(OSError):
            part.unlink()


def write_tree(folder: Path, files: Iterable[tuple[str, bytes]]) -> None:
    """Write `files` into `folder`, which must be new or empty, and which is there only once all is on disk.

    Raises
    ------
    OutputFault
        When the folder holds something, or cannot be written.
    """
    part = folder.with_name(f".{folder.name[:80]}.part")
    try:
        if os.path.lexists(folder) and (not folder.is_dir() or any(folder.iterdir())):
            raise OutputFault(
                f"{folder} holds something already; name a new or empty folder, nothing was written."
            )
        rmtree(part, ignore_errors=True)
        for name, data in files:
            place = part.joinpath(*name.split("/"))
            place.parent.mkdir(parents=True, exist_ok=True)
            place.write_bytes(data)
        if folder.is_dir():
            folder.rmdir()
        os.replace(part, folder)
    except OutputFault:
        raise
    except (OSError, ValueError) as error:
        raise _not_written(folder, error) from error
    finally:
        rmtree(part, ignore_errors=True)


def _not_written(path: Path, error: Exception) -> OutputFault:
    reason = getattr(error, "strerror", None) or str(error)
    return OutputFault(f"{path} cannot be written: {reason}. Choose another place, or free it.")


@contextmanager
def open_tree(path: Path | IO[bytes]) -> Iterator[Tree]:
    """The files in a folder or a zip file, as long as it is open; a zip file may be at hand already.

    Raises
    ------
    InputRefused
        For what is neither; for links, for names that lead out of it or that some system cannot have, for what is larger
        than any shop's records.
    """
    if isinstance(path, Path) and path.is_dir():
        yield _folder(path)
        return
    try:
        packed = zipfile.ZipFile(path)
    except (OSError, zipfile.BadZipFile, ValueError) as error:
        reason = getattr(error, "strerror", None) or "no zip file"
        where = shorten(str(path), 200) if isinstance(path, Path) else "the zip file"
        raise _refused(where, reason, f"a folder or a zip file with {_EXPECTED}") from error
    with packed:
        names = _checked_names(packed)
        yield Tree(names, lambda name: _unpacked(packed, name))


def _folder(path: Path) -> Tree:
    names: list[str] = []
    waiting = [(path, "")]
    total = 0
    while waiting:
        place, before = waiting.pop()
        for entry in sorted(os.scandir(place), key=lambda one: one.name):
            name = before + entry.name
            if entry.is_symlink():
                raise _refused(shorten(name, 200), "a link", "a file or a folder")
            if entry.is_dir():
                if name.count("/") >= DEEPEST:
                    raise _refused(shorten(name, 200), "folders inside folders without end", _EXPECTED)
                waiting.append((Path(entry.path), f"{name}/"))
                continue
            names.append(name)
            total += entry.stat().st_size
            _refuse_much(len(names), total)

    def read(name: str) -> bytes:
        data, faults = read_bytes(path.joinpath(*name.split("/")), name, "the file", _MEND)
        if data is None:
            raise InputRefused(tuple(faults))
        return data

    return Tree(tuple(names), read)


def _checked_names(packed: zipfile.ZipFile) -> tuple[str, ...]:
    """The names of all files of a zip file, each of which was looked at."""
    names: list[str] = []
    total = 0
    for entry in packed.infolist():
        if left_by_system(entry.filename):
            continue
        parts = entry.filename.removesuffix("/").split("/")
        if not all(map(is_plain, parts)) or len(parts) > DEEPEST + 1:
            raise _refused(shorten(entry.filename, 200), "a name that leads elsewhere", "a plain path")
        if stat.S_ISLNK(entry.external_attr >> 16):
            raise _refused(shorten(entry.filename, 200), "a link", "a file or a folder")
        if entry.flag_bits & 1:
            raise _refused(shorten(entry.filename, 200), "a file under a password", "an open one")
        if entry.is_dir():
            continue
        if entry.compress_type not in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED):
            raise _refused(shorten(entry.filename, 200), "an uncommon packing", "stored or deflated files")
        tight = entry.file_size > _SMALL and entry.file_size > _TIGHTEST * max(entry.compress_size, 1)
        if entry.file_size > LARGEST_FILE or tight:
            raise _refused(shorten(entry.filename, 200), f"{entry.file_size} bytes", "what a shop keeps")
        names.append(entry.filename)
        total += entry.file_size
        _refuse_much(len(names), total)
    if len({name.casefold() for name in names}) < len(names):
        raise _refused("the zip file", "a name twice", "each file once")
    return tuple(names)


def left_by_system(name: str) -> bool:
    """Whether a path is that of something which a file manager puts beside people's own files."""
    parts = name.split("/")
    hidden = parts[-1].startswith(".") and parts[-1] not in (".", "..")
    if ".." in parts or name.startswith("/"):
        return False
    return hidden or parts[-1] in ("Thumbs.db", "desktop.ini") or parts[0] == "__MACOSX"


def _unpacked(packed: zipfile.ZipFile, name: str) -> bytes:
    """One file; it can be no larger than the list says, for reading stops there."""
    try:
        return packed.read(name)
    except (zipfile.BadZipFile, zlib.error, OSError, EOFError, RuntimeError, ValueError) as error:
        raise _refused(shorten(name, 200), "a damaged file", "the file that was packed") from error


def _refuse_much(files: int, total: int) -> None:
    if files > MOST_FILES or total > MOST_BYTES:
        raise _refused("the export", f"{files} files of {total} bytes", "what a shop keeps")


def _refused(where: str, found: str, expected: str) -> InputRefused:
    return InputRefused((Fault(where, found, expected, _MEND),))
