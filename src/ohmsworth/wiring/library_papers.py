"""What other programs call by ``ohmsworth`` about papers: the shop's key, and certificates issued, printed and verified."""

from __future__ import annotations

import os
from os import PathLike
from pathlib import Path
from typing import TYPE_CHECKING

from ohmsworth.wiring import papers as adapters
from ohmsworth.wiring.paper_files import (
    PaperTargets,
    Verifying,
    certify_folder,
    print_paper,
    verify_file,
)

if TYPE_CHECKING:
    from collections.abc import Callable

    from ohmsworth.report.papers.verification import VerificationAnswer
    from ohmsworth.wiring.paper_files import Certified, Printed


def make_key(file: str | PathLike[str], passphrase: str = "") -> tuple[Path, Path]:
    """Make the shop's key for signing papers: a private file, and the public one beside it with ``.pub`` at its end.

    Parameters
    ----------
    file
        Name of the private file; never replaced.
    passphrase
        Locks it; "" for none: then whoever has the file can sign.

    Returns
    -------
    tuple[Path, Path]
        The private file, which its owner alone can read, and the public one, for customers.

    Raises
    ------
    OutputFault
        Where one of the files is there already, or cannot be written.
    """
    return adapters.make_key(Path(file), passphrase)


def certify(
    folder: str | PathLike[str],
    key: str | PathLike[str],
    *,
    html: str | PathLike[str] | None = None,
    pdf: str | PathLike[str] | None = None,
    label: str | PathLike[str] | None = None,
    label_size: str | None = None,
    passphrase: str | None = None,
) -> Certified:
    """Issue a signed certificate of a cable or a lot, or a test report where it did not pass.

    It goes into the folder as ``certificate-NUMBER.json``; all files are written, or none.

    Parameters
    ----------
    folder
        Of a cable: ``cable.toml`` with ``[certificate]``, and ``test.csv`` with the whole test. Of a lot: ``study.toml`` with
        ``[lot]`` and ``[certificate]``, and its sample.
    key
        File of the shop's private key, from `make_key`.
    html, pdf
        Names of pages to write too.
    label
        Name of a label with a code to write too, which ends with .pdf, .svg or .png.
    label_size
        Width and height of the label in mm, such as "60x30", which None takes.
    passphrase
        Of a key that is locked; None takes what ``OHMSWORTH_KEY_PASSPHRASE`` holds.

    Returns
    -------
    Certified
        The certificate as records, as data and as the bytes of its file, and the names of the files that were written.

    Raises
    ------
    InputRefused
        With everything that is missing or wrong; nothing was signed then.
    OutputFault
        Where a file is there already, since a number is given once, or cannot be written.
    """
    return certify_folder(
        Path(folder), Path(key), _targets(html, pdf, label, label_size), _passphrase(passphrase)
    )


def papers(
    file: str | PathLike[str],
    *,
    html: str | PathLike[str] | None = None,
    pdf: str | PathLike[str] | None = None,
    label: str | PathLike[str] | None = None,
    label_size: str | None = None,
) -> Printed:
    """Print an issued certificate once more: its pages and its label, always the same to the last byte.

    Parameters
    ----------
    file
        The certificate: its .json file, or its page as .html or .pdf.
    html, pdf, label, label_size
        What to write, as of `certify`; one of them at least.

    Returns
    -------
    Printed
        The names of the files that were written, and what is to be told about the label.

    Raises
    ------
    InputRefused
        Where the file holds no certificate or one that does not fit, or nothing is to be written.
    OutputFault
        Where a file is there already, or cannot be written.
    """
    return print_paper(Path(file), _targets(html, pdf, label, label_size))


def verify(
    file: str | PathLike[str],
    public_key: str | PathLike[str] | None = None,
    *,
    folder: str | PathLike[str] | None = None,
    records: str | PathLike[str] | None = None,
) -> VerificationAnswer:
    """Say whether a certificate is whole, follows from its readings, and who signed it.

    Parameters
    ----------
    file
        The certificate: its .json file, or its page as .html or .pdf.
    public_key
        File of the shop's public key, had from the shop; without one nobody knows who signed it.
    folder
        Of the cable or the lot: does it still hold the same readings?
    records
        Path or address of the shop's records: do they hold this paper, and does it still count?

    Returns
    -------
    VerificationAnswer
        Every check with what it found; `fits` is False where one of them fails, which is no error.

    Raises
    ------
    InputRefused
        Where the file holds no certificate, or what it is held against cannot be read.
    """
    address = None if records is None else os.fspath(records)
    return verify_file(Verifying(Path(file), _path(folder), _path(public_key), address))


def _targets(
    html: str | PathLike[str] | None,
    pdf: str | PathLike[str] | None,
    label: str | PathLike[str] | None,
    label_size: str | None,
) -> PaperTargets:
    from ohmsworth.work.papers.printing import LABEL_SIZE

    return PaperTargets(_path(html), _path(pdf), _path(label), label_size or LABEL_SIZE)


def _passphrase(given: str | None) -> Callable[[], str]:
    """Of a key that is locked: as given, or from the environment; nobody is asked."""

    def told() -> str:
        from ohmsworth.errors import Fault, InputRefused
        from ohmsworth.wiring.kept_papers import PASSPHRASE

        found = os.environ.get(PASSPHRASE) if given is None else given
        if found is None:
            mend = f"Give it as passphrase, or set {PASSPHRASE}."
            raise InputRefused((Fault("the key", "locked by a passphrase", "the passphrase", mend),))
        return found

    return told


def _path(name: str | PathLike[str] | None) -> Path | None:
    return None if name is None else Path(name)
