"""The data that a page carries for programs: out of a web page, and out of a PDF, both as this program writes them.

Whether the rest of the page is as it was written is seen by drawing it anew: here one plain way to find the data is enough.
"""

from __future__ import annotations

import re
import zlib

from ohmsworth.errors import Fault, InputRefused

#: More than a certificate ever holds: what unpacks to more is no certificate.
LARGEST = 16 * 1024 * 1024
_MEND = "Take the page as it was handed over, or the certificate's own .json file."
_OPENING, _CLOSING = '<script type="application/json" id="data">', "</script>"
_EMBEDDED = b"/Type/EmbeddedFile"
#: What describes the file inside a PDF is shorter.
_DICTIONARY = 600


def data_of_html(page: str, where: str) -> str:
    """The JSON inside a web page.

    Raises
    ------
    InputRefused
        Where there is none, or more than one.
    """
    _only(page.count(_OPENING), where)
    data, closing, _ = page.partition(_OPENING)[2].partition(_CLOSING)
    _only(len(closing) // len(_CLOSING), where)
    return data


def data_of_pdf(content: bytes, where: str) -> str:
    """The JSON inside a PDF.

    One that another program saved again is another file, and may not be read.

    Raises
    ------
    InputRefused
        Where there is none, or more than one.
    """
    _only(content.count(_EMBEDDED), where)
    place = content.index(_EMBEDDED)
    begin = content.find(b"stream", place, place + _DICTIONARY)
    told = content[content.rfind(b" obj", max(place - _DICTIONARY, 0), place) : begin]
    length = re.search(rb"/Length (\d{1,9})", told)
    start = begin + len(b"stream") + (2 if content[begin + 6 : begin + 8] == b"\r\n" else 1)
    data = content[start : start + int(length[1])] if length and begin > 0 else b""
    if b"/FlateDecode" in told:
        data = _unpacked(data)
    return data.decode("utf-8", "replace")


def _unpacked(data: bytes) -> bytes:
    try:
        return zlib.decompressobj().decompress(data, LARGEST)
    except zlib.error:
        return b""


def _only(number: int, where: str) -> None:
    if number != 1:
        told = f"{number} of them" if number else "no data inside"
        raise InputRefused((Fault(where, told, "the data of one certificate inside the page", _MEND),))
