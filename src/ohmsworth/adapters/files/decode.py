"""Bytes that a spreadsheet or editor wrote, as text."""

from __future__ import annotations

import codecs
import os
import stat
from pathlib import Path

from ohmsworth.errors import Fault
from ohmsworth.work.tone_files import WISHES

#: A file larger than this is not a study written at a bench.
LARGEST_FILE = 256 * 1024 * 1024
LIKE_A_NEW_STUDY = "Write it as in the study that 'ohmsworth new FOLDER' makes."
_TAKES_OF_ONE = (
    f"The takes of one contact are read with 'ohmsworth takes FOLDER'. {LIKE_A_NEW_STUDY} One of the takes of many contacts "
    "has takes.csv in place of readings.csv."
)
_UTF16 = (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)


def read_text(path: Path, missing: str = LIKE_A_NEW_STUDY) -> tuple[str | None, list[Fault]]:
    """The text of `path`, or the fault that stands in the way; `missing` says how to mend its absence.

    UTF-8 (with or without mark), UTF-16 with mark, and as a last resort the Western code page that older
    spreadsheets write.
    """
    name = path.name
    if missing == LIKE_A_NEW_STUDY and _holds_takes_of_one(path.parent):
        missing = _TAKES_OF_ONE
    data, faults = read_bytes(path, name, f"a file {name} in the study's folder", missing)
    return (None, faults) if data is None else decode(data, name)


def _holds_takes_of_one(folder: Path) -> bool:
    """Whether 'ohmsworth tones' made the folder, and it names no contacts."""
    return os.path.lexists(folder / WISHES) and not os.path.lexists(folder / "takes.csv")


def read_bytes(path: Path, name: str, expected: str, mend: str) -> tuple[bytes | None, list[Fault]]:
    """What stands in `path`, or the fault that stands in the way; `expected` and `mend` are told where it is not there."""
    try:
        found = path.stat()
        if not stat.S_ISREG(found.st_mode):
            kind = "a folder" if stat.S_ISDIR(found.st_mode) else "something that is not a file"
            return None, [Fault(name, kind, f"a file {name}", "Put the file in its place.")]
        if found.st_size > LARGEST_FILE:
            return None, [Fault(name, "a file of more than 256 MB", "what was read at a bench", "Split it.")]
        return path.read_bytes(), []
    except (FileNotFoundError, ValueError):  # ValueError: a name with a NUL in it
        return None, [Fault(name, "no such file", expected, mend)]
    except OSError as error:
        reason = error.strerror or "an unreadable file"
        return None, [Fault(name, reason, "a file that can be read", "Check the file and its permissions.")]


def decode(data: bytes, name: str, last_resort: str = "cp1252") -> tuple[str | None, list[Fault]]:
    """Text of `data`; see :func:`read_text`. `last_resort` is the code page of what is no UTF-8."""
    codec = "utf-16" if data.startswith(_UTF16) else "utf-8-sig"
    try:
        text = data.decode(codec)
    except UnicodeDecodeError as error:
        if codec == "utf-16":
            return None, [_encoding_fault(name, data, error.start)]
        try:
            text = data.decode(last_resort)
        except UnicodeDecodeError as other:
            return None, [_encoding_fault(name, data, other.start)]
    if "\0" in text:
        return None, [_nul_fault(name, text)]
    return text, []


def _encoding_fault(name: str, data: bytes, place: int) -> Fault:
    line = data[:place].count(b"\n") + 1
    return Fault(
        f"{name}, line {line}", "bytes that are no text", "UTF-8 text", "Save the file again, choosing UTF-8."
    )


def _nul_fault(name: str, text: str) -> Fault:
    line = text[: text.index("\0")].count("\n") + 1
    return Fault(
        f"{name}, line {line}", "a NUL byte", "plain text", "Save the file again as CSV or text, UTF-8."
    )
