"""Bytes that a spreadsheet or editor wrote, as text."""

from __future__ import annotations

import codecs
from pathlib import Path

from ohmsworth.errors import Fault

#: A file larger than this is not a study written at a bench.
LARGEST_FILE = 256 * 1024 * 1024


def read_text(path: Path) -> tuple[str | None, list[Fault]]:
    """The text of `path`, or the fault that stands in the way.

    UTF-8 (with or without mark), UTF-16 with mark, and as a last resort the Western code page that older
    spreadsheets write.
    """
    name = path.name
    try:
        if path.stat().st_size > LARGEST_FILE:
            return None, [_fault(name, "a file of more than 256 MB", "a study's file", "Split the study.")]
        data = path.read_bytes()
    except FileNotFoundError:
        return None, [
            _fault(
                name,
                "no such file",
                f"a file {name} in the study's folder",
                "Run 'ohmsworth new FOLDER' for one.",
            )
        ]
    except OSError as error:
        reason = error.strerror or "an unreadable file"
        return None, [_fault(name, reason, "a file that can be read", "Check the file and its permissions.")]
    return decode(data, name)


def decode(data: bytes, name: str) -> tuple[str | None, list[Fault]]:
    """Text of `data`; see :func:`read_text`."""
    if data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        try:
            return data.decode("utf-16"), []
        except UnicodeDecodeError:
            return None, [_encoding_fault(name)]
    if b"\0" in data:
        line = data[: data.index(b"\0")].count(b"\n") + 1
        return None, [
            _fault(
                f"{name}, line {line}",
                "a NUL byte",
                "plain text",
                "Save the file again as CSV or text, UTF-8.",
            )
        ]
    try:
        return data.decode("utf-8-sig"), []
    except UnicodeDecodeError:
        pass
    try:
        return data.decode("cp1252"), []
    except UnicodeDecodeError:
        return None, [_encoding_fault(name)]


def _encoding_fault(name: str) -> Fault:
    return _fault(name, "bytes that are no text", "UTF-8 text", "Save the file again, choosing UTF-8.")


def _fault(where: str, found: str, expected: str, mend: str) -> Fault:
    return Fault(where, found, expected, mend)
