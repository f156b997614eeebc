"""PNG made smaller: the drawing engine packs quickly and badly; packing again thirds the size."""

from __future__ import annotations

import struct
import zlib

_SIGNATURE = b"\x89PNG\r\n\x1a\n"


def repacked(png: bytes) -> bytes:
    """`png` with the same picture and its data compressed anew."""
    chunks = _chunks(png)
    packed = zlib.compress(zlib.decompress(b"".join(body for kind, body in chunks if kind == b"IDAT")), 6)
    first = next(i for i, (kind, _) in enumerate(chunks) if kind == b"IDAT")
    rest = [chunk for chunk in chunks[first:] if chunk[0] != b"IDAT"]
    return _SIGNATURE + b"".join(_chunk(*chunk) for chunk in [*chunks[:first], (b"IDAT", packed), *rest])


def _chunks(png: bytes) -> list[tuple[bytes, bytes]]:
    found, at = [], len(_SIGNATURE)
    while at < len(png):
        (length,) = struct.unpack(">I", png[at : at + 4])
        found.append((png[at + 4 : at + 8], png[at + 8 : at + 8 + length]))
        at += 12 + length
    return found


def _chunk(kind: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))
