"""The data that a page carries for programs: out of a web page, and out of a PDF that this program wrote."""

from __future__ import annotations

import re
import zlib
from html.parser import HTMLParser

from ohmsworth.errors import Fault, InputRefused

#: More than a certificate ever holds: what unpacks to more is no certificate.
LARGEST = 64 * 1024 * 1024
_MEND = "Take the page as it was handed over, or the certificate's own .json file."
_STREAM = re.compile(rb"<<((?:[^<>]|<<[^<>]*>>)*/Type/EmbeddedFile(?:[^<>]|<<[^<>]*>>)*)>>\s*stream\r?\n")


class _DataBlocks(HTMLParser):
    """The texts of all blocks of data called "data"."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []
        self._inside = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Begin a block."""
        self._inside = tag == "script" and dict(attrs) == {"type": "application/json", "id": "data"}
        if self._inside:
            self.found.append("")

    def handle_endtag(self, tag: str) -> None:
        """End a block."""
        self._inside = self._inside and tag != "script"

    def handle_data(self, data: str) -> None:
        """Take what stands in it."""
        if self._inside:
            self.found[-1] += data


def data_of_html(page: str, where: str) -> str:
    """The JSON inside a web page.

    Raises
    ------
    InputRefused
        Where there is none, or more than one.
    """
    blocks = _DataBlocks()
    blocks.feed(page)
    blocks.close()
    return _only(blocks.found, where)


def data_of_pdf(content: bytes, where: str) -> str:
    """The JSON inside a PDF.

    Only the plain way in which this program writes one is read: one that another program saved again is another file.

    Raises
    ------
    InputRefused
        Where there is none, or more than one.
    """
    found = []
    for match in _STREAM.finditer(content):
        length = re.search(rb"/Length (\d{1,9})", match[1])
        data = content[match.end() : match.end() + int(length[1])] if length else b""
        found.append(_unpacked(data) if b"/FlateDecode" in match[1] else data)
    return _only([one.decode("utf-8", "replace") for one in found], where)


def _unpacked(data: bytes) -> bytes:
    try:
        return zlib.decompressobj().decompress(data, LARGEST)
    except zlib.error:
        return b""


def _only(found: list[str], where: str) -> str:
    if len(found) != 1:
        told = f"{len(found)} of them" if found else "no data inside"
        raise InputRefused((Fault(where, told, "the data of one certificate inside the page", _MEND),))
    return found[0]
