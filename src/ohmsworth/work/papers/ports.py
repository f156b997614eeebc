"""What papers need from outside: the key, the clock, and readers and writers of their files."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Literal, Protocol

from ohmsworth.report.document import Document
from ohmsworth.report.papers.kinds import Paper
from ohmsworth.work.ports import LoadedCable, LoadedLot

#: Where the data of a certificate stand: in a file of their own, or inside a page.
Form = Literal["json", "html", "pdf"]


class Signer(Protocol):
    """A private key of the shop."""

    @property
    def public_key(self) -> bytes:
        """The 32 bytes that anybody may know."""

    def sign(self, message: bytes) -> bytes:
        """The signature of `message`, 64 bytes (RFC 8032)."""


@dataclass(frozen=True, slots=True, eq=False)
class FoundPaper:
    """A certificate as found in a file: its `data`, those as records, and the whole file in its `form`."""

    data: Mapping[str, object]
    certificate: Paper
    form: Form
    content: bytes


#: Reads a cable from the texts of cable.toml and test.csv (None: not there); raises InputRefused with every fault.
ReadCable = Callable[[str, str | None], LoadedCable]
#: Reads a question about a lot, with its sample, from the texts of the study's files by their names; raises as that of a cable.
ReadLot = Callable[[Mapping[str, str]], LoadedLot]
#: Whether a signature of a message was made with the private key of a public one.
Fits = Callable[[bytes, bytes, bytes], bool]
#: A certificate's page in a form, with its data inside: the document, the data as JSON text, the time of issue.
DrawPage = Callable[[Form, Document, str, datetime], bytes]


@dataclass(frozen=True, slots=True)
class IssuePorts:
    """What it takes to issue a certificate; `made_with` is the program's name and version."""

    read_cable: ReadCable
    read_lot: ReadLot
    signer: Signer
    clock: Callable[[], datetime]
    made_with: str


@dataclass(frozen=True, slots=True)
class VerifyPorts:
    """What it takes to verify one."""

    read_cable: ReadCable
    read_lot: ReadLot
    fits: Fits
    draw_page: DrawPage
    made_with: str
