"""Adapters of papers: keys, certificates in files, pages and labels."""

from __future__ import annotations

from datetime import UTC
from typing import TYPE_CHECKING

from ohmsworth.wiring.rendering import as_html, as_pdf

if TYPE_CHECKING:
    from collections.abc import Callable
    from datetime import datetime
    from pathlib import Path

    from ohmsworth.report.document import Document
    from ohmsworth.report.papers.label import Label
    from ohmsworth.work.papers.ports import Form, FoundPaper, IssuePorts, VerifyPorts


def made_with() -> str:
    """The program and its version."""
    from importlib.metadata import version

    return f"ohmsworth {version('ohmsworth')}"


def make_key(path: Path, passphrase: str) -> tuple[Path, Path]:
    """Write a new key for signing: the private file, and the public one beside it."""
    from ohmsworth.adapters.papers import make_key as make

    return make(path, passphrase)


def public_key(path: Path) -> bytes:
    """The public key in a file."""
    from ohmsworth.adapters.papers import load_public_key

    return load_public_key(path)


def issue_ports(key: Path, passphrase: Callable[[], str]) -> IssuePorts:
    """What issuing a certificate needs, with the private key of the file `key`."""
    from datetime import datetime

    from ohmsworth.adapters.files import read_cable_texts, read_lot_texts
    from ohmsworth.adapters.papers import load_signer
    from ohmsworth.work.papers.ports import IssuePorts

    signer = load_signer(key, passphrase)
    return IssuePorts(
        read_cable_texts, read_lot_texts, signer, lambda: datetime.now(UTC).astimezone(), made_with()
    )


def verify_ports() -> VerifyPorts:
    """What verifying one needs."""
    from ohmsworth.adapters.files import read_cable_texts, read_lot_texts
    from ohmsworth.adapters.papers import fits
    from ohmsworth.work.papers.ports import VerifyPorts

    return VerifyPorts(read_cable_texts, read_lot_texts, fits, draw_page, made_with())


def draw_page(form: Form, document: Document, data: str, issued: datetime) -> bytes:
    """A certificate's page with its data inside; the same data make the same bytes."""
    return as_pdf(document, issued, data) if form == "pdf" else as_html(document, data).encode()


def draw_label(label: Label, width: float, height: float, kind: str, issued: datetime) -> tuple[bytes, str]:
    """A label of that size (mm) as "pdf", "svg" or "png", and what is to be told about it."""
    from typing import cast

    from ohmsworth.adapters.render import LabelKind, LabelSize, to_label

    return to_label(label, LabelSize(width, height), cast("LabelKind", kind), issued)


def read_paper(path: Path) -> FoundPaper:
    """The certificate in a file."""
    from ohmsworth.adapters.files.decode import read_bytes
    from ohmsworth.adapters.papers import read_paper_file
    from ohmsworth.errors import InputRefused

    content, faults = read_bytes(path, path.name, "a certificate", "Check its name.")
    if content is None:
        raise InputRefused(tuple(faults))
    return read_paper_file(path.name, content)


def cable_texts(folder: Path) -> tuple[str, str | None]:
    """The texts of a cable's folder."""
    from ohmsworth.adapters.files import cable_texts as read

    return read(folder)


def is_lot(folder: Path) -> bool:
    """Whether a folder to certify is a study's, and not a cable's, by its files."""
    from ohmsworth.adapters.files import is_lot as tell

    return tell(folder)


def lot_texts(folder: Path) -> dict[str, str]:
    """The texts of the files of a lot's folder by their names."""
    from ohmsworth.adapters.files import lot_texts as read

    return read(folder)


def paper_name(number: str) -> str:
    """What the file of a certificate is called."""
    from ohmsworth.adapters.files import paper_name as name

    return name(number)


def write_new_files(files: list[tuple[Path, bytes]]) -> None:
    """Write files that are not there yet, all of them or none."""
    from ohmsworth.adapters.files import write_new_files as write

    write(files)
