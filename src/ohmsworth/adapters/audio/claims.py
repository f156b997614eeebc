"""What the header of a WAV or FLAC file claims of its length, against the bytes that are there.

Libraries read a file that was cut off up to where it ends, and say nothing. Source: "RF64". A FLAC file is tried at
its last sample instead.
"""

from __future__ import annotations

import os
import struct
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO

#: Sizes that say "to the end of the file", as of a recorder that could not go back to its header.
_TO_THE_END = 0xFFFFFFFF
#: Chunks before the samples; more are no header.
_MOST_CHUNKS = 1000

#: How files begin that are no WAV and no FLAC, and what they are.
_OTHERS: tuple[tuple[int, bytes, str], ...] = (
    (0, b"ID3", "an MP3 file, which has lost what the ear would miss least"),
    (0, b"\xff\xfb", "an MP3 file, which has lost what the ear would miss least"),
    (0, b"\xff\xf3", "an MP3 file, which has lost what the ear would miss least"),
    (0, b"\xff\xfa", "an MP3 file, which has lost what the ear would miss least"),
    (0, b"\xff\xf1", "an AAC file, which has lost what the ear would miss least"),
    (0, b"\xff\xf9", "an AAC file, which has lost what the ear would miss least"),
    (0, b"OggS", "an Ogg file, which has mostly lost what the ear would miss least"),
    (4, b"ftyp", "an M4A or MP4 file, which has mostly lost what the ear would miss least"),
    (0, b"\x30\x26\xb2\x75", "a WMA file, which has mostly lost what the ear would miss least"),
    (0, b"FORM", "an AIFF file"),
    (0, b"caff", "a CAF file"),
    (0, b"riff", "a W64 file"),
    (0, b"RIFX", "a WAV file of the other byte order"),
    (0, b"PK\x03\x04", "a ZIP file"),
)


@dataclass(frozen=True, slots=True)
class Claim:
    """The samples' part of a WAV file.

    Parameters
    ----------
    claimed
        Bytes that the header speaks of; None when it says "to the end".
    there
        Bytes from where they begin to the end of the file.
    frame
        Bytes of a sample of all channels.
    """

    claimed: int | None
    there: int
    frame: int


def kind_of(start: bytes) -> str | None:
    """By the first bytes of a file "WAV" or "FLAC", or None when it is neither."""
    if start[:4] in (b"RIFF", b"RF64") and start[8:12] == b"WAVE":
        return "WAV"
    return "FLAC" if start[:4] == b"fLaC" else None


def told_of(start: bytes) -> str:
    """What a file is that is neither WAV nor FLAC, by its first bytes."""
    for at, mark, words in _OTHERS:
        if start[at : at + len(mark)] == mark:
            return words
    if start and all(32 <= byte < 127 or byte in (9, 10, 13) for byte in start):
        return "text"
    return "bytes that are neither a WAV nor a FLAC file"


def claim_of(path: Path) -> Claim | None:
    """What a WAV file claims; None when there are no samples in it, or no description of them."""
    with path.open("rb") as file:
        size = os.fstat(file.fileno()).st_size
        large = file.read(12)[:4] == b"RF64"
        frame, real = 0, None
        for _ in range(_MOST_CHUNKS):
            head = file.read(8)
            if len(head) < 8:
                return None
            name, length = head[:4], struct.unpack("<I", head[4:])[0]
            begun = file.tell()
            if name == b"ds64":
                real = _number(file, 8, "<Q")
            elif name == b"fmt ":
                frame = _number(file, 12, "<H") or 0
            elif name == b"data":
                unknown = length == _TO_THE_END
                claimed = (real if large else None) if unknown else length
                return Claim(claimed, size - begun, frame) if frame else None
            file.seek(begun + length + length % 2)
    return None


def _number(file: BinaryIO, at: int, form: str) -> int | None:
    """A number of a chunk, `at` bytes from where the file stands."""
    file.seek(at, os.SEEK_CUR)
    data = file.read(struct.calcsize(form))
    return int(struct.unpack(form, data)[0]) if len(data) == struct.calcsize(form) else None
