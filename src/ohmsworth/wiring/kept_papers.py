"""Adapters of papers in the records, and of the key beside those."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

from ohmsworth.wiring import papers

if TYPE_CHECKING:
    from pathlib import Path

    from ohmsworth.work.papers.kept.form import PaperForm
    from ohmsworth.work.papers.kept.ports import PaperPorts, PaperReader, ShopKey
    from ohmsworth.work.papers.ports import FoundPaper, IssuePorts

#: Holds the passphrase of a key that is locked, since nobody is there to type it.
PASSPHRASE = "OHMSWORTH_KEY_PASSPHRASE"  # noqa: S105  # the name of a variable, not a passphrase


def paper_ports(key: Path) -> PaperPorts:
    """What papers in the records need, with the private key of the file `key`."""
    from ohmsworth.work.papers.kept.ports import PaperPorts

    def issuing() -> IssuePorts:
        return papers.issue_ports(key, _passphrase)

    return PaperPorts(
        shop_key(key),
        issuing,
        papers.verify_ports,
        with_paper,
        read_sent,
        papers.draw_label,
        papers.paper_name,
    )


def paper_reader() -> PaperReader:
    """What reads and verifies papers, where no key is needed."""
    from ohmsworth.work.papers.kept.ports import PaperReader

    return PaperReader(read_sent, papers.verify_ports, papers.paper_name)


def shop_key(key: Path) -> ShopKey:
    """The key in the file `key`."""
    from ohmsworth.work.papers.kept.ports import ShopKey

    def make() -> bytes:
        return papers.public_key(papers.make_key(key, "")[1])

    def public_file() -> bytes:
        from ohmsworth.adapters.papers import public_key_file

        return public_key_file(key)

    def read_public(data: bytes) -> bytes:
        from ohmsworth.adapters.papers import read_public_key

        return read_public_key(data, "that was sent")

    return ShopKey(str(key), lambda: os.path.lexists(key), make, public_file, read_public)


def with_paper(toml: str, form: PaperForm) -> str:
    """The text of a cable.toml or study.toml with a form's answers as its table [certificate]."""
    from ohmsworth.adapters.files import with_paper as write

    return write(toml, form)


def read_sent(name: str, content: bytes) -> FoundPaper:
    """The paper in a file that was sent."""
    from ohmsworth.adapters.papers import read_paper_file

    return read_paper_file(name, content)


def _passphrase() -> str:
    from ohmsworth.errors import Fault, InputRefused

    if PASSPHRASE in os.environ:
        return os.environ[PASSPHRASE]
    mend = f"Set {PASSPHRASE} before the bench is started."
    raise InputRefused((Fault("the key", "locked by a passphrase", "the passphrase", mend),))
