"""The commands about papers of finished cables and of lots, and their options."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

from cyclopts import Parameter

#: How large a label is when nobody says, millimetre.
LABEL_SIZE = "60x30"


def certify(
    folder: Path,
    *,
    key: Path,
    html: Path | None = None,
    pdf: Path | None = None,
    label: Path | None = None,
    label_size: str = LABEL_SIZE,
    json: Annotated[bool, Parameter(negative=())] = False,
) -> None:
    """Issue a signed certificate of the cable or the lot in FOLDER, or a test report where it did not pass.

    It goes into FOLDER as certificate-NUMBER.json. No file is ever replaced.

    Parameters
    ----------
    folder
        Of a cable: cable.toml with [certificate], test.csv with the whole test. Of a lot: study.toml with [lot], [certificate].
    key
        File of the shop's private key (see make-key).
    html
        Write the certificate as one self-contained web page too.
    pdf
        Write the certificate as a PDF too.
    label
        Write a label with a code, as .pdf, .svg or .png.
    label_size
        Width and height of the label in mm.
    json
        Print the certificate as JSON instead of words.
    """
    from ohmsworth.cli import papers
    from ohmsworth.wiring.paper_files import PaperTargets

    papers.certify(folder, key, PaperTargets(html, pdf, label, label_size), json)


def papers(
    file: Path,
    *,
    html: Path | None = None,
    pdf: Path | None = None,
    label: Path | None = None,
    label_size: str = LABEL_SIZE,
) -> None:
    """Print an issued certificate once more: its pages and its label. No file is ever replaced.

    Parameters
    ----------
    file
        The certificate.
    html
        Write it as one self-contained web page.
    pdf
        Write it as a PDF.
    label
        Write a label with a code, as .pdf, .svg or .png.
    label_size
        Width and height of the label in mm.
    """
    from ohmsworth.cli import papers as printing
    from ohmsworth.wiring.paper_files import PaperTargets

    printing.papers(file, PaperTargets(html, pdf, label, label_size))


def verify(
    file: Path,
    *,
    folder: Path | None = None,
    key: Path | None = None,
    records: Annotated[str | None, Parameter(negative=(), show_default=False)] = None,
    json: Annotated[bool, Parameter(negative=())] = False,
) -> int:
    """Say whether a certificate is whole, follows from its readings, and who signed it. Exit code 1: it does not fit.

    Parameters
    ----------
    file
        The certificate: its .json file, or its page as .html or .pdf.
    folder
        The folder of the cable or lot: does it still hold the same readings?
    key
        File of the shop's public key, had from the shop.
    records
        Path or address of the shop's records: do they hold this paper, and does it still count?
    json
        Print everything as JSON instead of words.
    """
    from ohmsworth.cli import papers
    from ohmsworth.wiring.paper_files import Verifying

    return papers.verify(Verifying(file, folder, key, records), json)


def make_key(file: Path, *, passphrase: Annotated[bool, Parameter(negative=())] = False) -> None:
    """Make the shop's key for signing certificates: FILE, which stays with its owner, and FILE.pub for everybody.

    Parameters
    ----------
    file
        Of the private key; never replaced.
    passphrase
        Ask for a passphrase that locks it. Without asking, what OHMSWORTH_KEY_PASSPHRASE holds is taken.
    """
    from ohmsworth.cli import papers

    papers.make_key(file, passphrase)


PAPERS = (certify, papers, verify, make_key)
