"""Papers from files to files: issued, printed once more, and verified; for the commands and for other programs."""

from __future__ import annotations

import os
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ohmsworth.errors import Fault, InputRefused, OutputFault, shorten
from ohmsworth.wiring import papers
from ohmsworth.wiring.folders import load_cable, load_lot
from ohmsworth.wiring.ports import shop
from ohmsworth.wiring.records import open_records, refuse_missing_records

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from ohmsworth.report.papers.kinds import Paper
    from ohmsworth.report.papers.verification import VerificationAnswer
    from ohmsworth.work.papers.held import HeldPaper
    from ohmsworth.work.papers.issue import Issued
    from ohmsworth.work.papers.ports import Form, FoundPaper

_LABELS = (".pdf", ".svg", ".png")
#: What a label and its size are called where they are at fault.
NAMES = ("label", "label_size")


@dataclass(frozen=True, slots=True)
class PaperTargets:
    """Files to write beside a certificate, and how large the label is: width and height in mm, as text."""

    html: Path | None
    pdf: Path | None
    label: Path | None
    label_size: str

    def files(self) -> list[Path]:
        """Those that are asked for."""
        return [path for path in (self.html, self.pdf, self.label) if path is not None]


@dataclass(frozen=True, slots=True)
class Printed:
    """The files that were written, and what is to be told about the label, "" for nothing."""

    written: tuple[Path, ...]
    told: str


@dataclass(frozen=True, slots=True, eq=False)
class Certified:
    """A certificate that was issued.

    Parameters
    ----------
    certificate
        As records: of a cable a `Certificate`, of a lot a `LotCertificate`.
    data
        The same as dicts, lists and texts.
    content
        The bytes of its file.
    written
        Its file, then the pages and the label that were asked for.
    told
        What is to be told about the label; "" for nothing.
    """

    certificate: Paper
    data: dict[str, object]
    content: bytes
    written: tuple[Path, ...]
    told: str


@dataclass(frozen=True, slots=True)
class Verifying:
    """A certificate's file, and what it is to be held against: a folder, a public key's file, records."""

    file: Path
    folder: Path | None
    key: Path | None
    records: str | None


def certify_folder(
    folder: Path, key: Path, targets: PaperTargets, passphrase: Callable[[], str]
) -> Certified:
    """Issue a certificate of a cable or a lot, and write its file, its pages and its label: all of them or none.

    Raises
    ------
    InputRefused
        With everything that is missing or wrong; nothing was signed.
    OutputFault
        Where a file is there already: none is ever replaced.
    """
    size = checked_label(targets)
    of_lot = papers.is_lot(folder)
    paper = load_lot(folder).study.paper if of_lot else load_cable(folder).paper
    place = old = None
    if paper is not None:
        place = folder / papers.paper_name(paper.number)
        _refuse_taken([place, *targets.files()], paper.number)
        before = folder / papers.paper_name(paper.supersedes)
        old = papers.read_paper(before) if paper.supersedes and before.exists() else None
    made = _issued(folder, key, passphrase, of_lot, old)
    assert place is not None  # without a table [certificate] nothing is issued
    pages, told = _pages(_found(made), targets, size)
    papers.write_new_files([(place, made.content), *pages])
    written = (place, *(path for path, _ in pages))
    return Certified(made.certificate, made.data, made.content, written, told)


def _issued(
    folder: Path, key: Path, passphrase: Callable[[], str], of_lot: bool, old: FoundPaper | None
) -> Issued:
    from ohmsworth.work.papers.issue import IssueAsked, issue
    from ohmsworth.work.papers.issue_lot import LotIssueAsked, issue_lot

    ports = papers.issue_ports(key, passphrase)
    if of_lot:
        return issue_lot(LotIssueAsked(papers.lot_texts(folder), old), ports)
    return issue(IssueAsked(*papers.cable_texts(folder), old), ports)


def _found(made: Issued) -> FoundPaper:
    from ohmsworth.work.papers.ports import FoundPaper

    return FoundPaper(made.data, made.certificate, "json", made.content)


def print_paper(file: Path, targets: PaperTargets) -> Printed:
    """Print a certificate once more; one that does not fit is not printed.

    Raises
    ------
    InputRefused
        Where the file holds no certificate, or one that does not fit, or nothing is to be written.
    OutputFault
        Where a file is there already: none is ever replaced.
    """
    import shlex

    from ohmsworth.work.papers.verify import VerifyAsked, verify_certificate

    size = checked_label(targets)
    if not targets.files():
        mend = "Say what to write: a web page, a PDF or a label."
        raise InputRefused((Fault("what to write", "nothing", "one file at least", mend),))
    _refuse_taken(targets.files(), "")
    found = papers.read_paper(file)
    answer = verify_certificate(VerifyAsked(file.name, found), papers.verify_ports())
    if not answer.fits:
        mend = f"'ohmsworth verify {shlex.quote(str(file))}' tells what is wrong."
        raise InputRefused((Fault(file.name, "a certificate that does not fit", "a whole one", mend),))
    pages, told = _pages(found, targets, size)
    papers.write_new_files(pages)
    return Printed(tuple(path for path, _ in pages), told)


def verify_file(wish: Verifying, where: str = "records") -> VerificationAnswer:
    """What is said of a certificate; that something fails is an answer.

    Parameters
    ----------
    wish
        The certificate, and what it is held against.
    where
        What the records are called where there are none.

    Raises
    ------
    InputRefused
        Where the file holds no certificate, or what it is held against cannot be read.
    """
    from ohmsworth.report.papers.lot_certificate import LotCertificate
    from ohmsworth.work.papers.verify import VerifyAsked, verify_certificate

    public = None if wish.key is None else papers.public_key(wish.key)
    paper = papers.read_paper(wish.file)
    now = lot_now = None
    if wish.folder is not None and isinstance(paper.certificate, LotCertificate):
        lot_now = papers.lot_texts(wish.folder)
    elif wish.folder is not None:
        description, readings = papers.cable_texts(wish.folder)
        now = (description, readings or "")
    held = None if wish.records is None else _held(paper, wish.records, where)
    asked = VerifyAsked(wish.file.name, paper, public, now, wish.records is not None, held, lot_now)
    return verify_certificate(asked, papers.verify_ports())


def _held(paper: FoundPaper, address: str, where: str) -> HeldPaper | None:
    """What the records hold under the number of a paper; records that are not there are not made."""
    from ohmsworth.work.held_papers import held_in_shop

    refuse_missing_records(address, where)
    with open_records(address) as records:
        return held_in_shop(shop(records), paper.certificate.number, papers.paper_name)


def checked_label(targets: PaperTargets, names: tuple[str, str] = NAMES) -> tuple[float, float]:
    """Width and height of the label in mm, when its file can be written so.

    Parameters
    ----------
    targets
        What is asked for.
    names
        What the file and its size are called where they are at fault.

    Raises
    ------
    InputRefused
        For an ending that no label has, and for a size that cannot be.
    """
    from ohmsworth.work.papers.printing import label_size

    faults: list[Fault] = []
    if targets.label is not None and targets.label.suffix.lower() not in _LABELS:
        where = f"{names[0]} {shorten(str(targets.label), 200)}"
        found = f"the ending {targets.label.suffix or 'none'}"
        faults.append(Fault(where, found, "a name such as label.pdf, .svg or .png", "Correct its name."))
    size: tuple[float, float] | None = None
    try:
        size = label_size(targets.label_size, names[1])
    except InputRefused as refused:
        faults += refused.faults
    if faults or size is None:
        raise InputRefused(tuple(faults))
    return size


def _refuse_taken(paths: list[Path], number: str) -> None:
    """Nothing is replaced: a number is given once."""
    for path in paths:
        if os.path.lexists(path):
            mend = "choose another name for it"
            if number and path is paths[0]:
                mend = f"a corrected certificate has a new number, with supersedes = {number!r} and a reason"
            raise OutputFault(f"{path} is there already, and is never replaced: {mend}.")
    if len({os.path.realpath(path) for path in paths}) < len(paths):
        raise OutputFault("Two files of one name are asked for; choose another name for one of them.")


def _pages(
    found: FoundPaper, targets: PaperTargets, size: tuple[float, float]
) -> tuple[list[tuple[Path, bytes]], str]:
    """The pages and the label that are asked for, and what is to be told about them."""
    from ohmsworth.work.papers.printing import printed_label, printed_page

    told = ""
    forms: tuple[tuple[Path | None, Form], ...] = ((targets.html, "html"), (targets.pdf, "pdf"))
    made = [(path, printed_page(found, form, papers.draw_page)) for path, form in forms if path is not None]
    if targets.label is not None:
        kind = targets.label.suffix.lower().lstrip(".")
        content, told = printed_label(found, size, kind, papers.draw_label)
        made.append((targets.label, content))
    return made, told
