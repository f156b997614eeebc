"""What the commands about papers read, print and write."""

from __future__ import annotations

import os
import shlex
import sys
from dataclasses import dataclass
from pathlib import Path

from ohmsworth import wiring
from ohmsworth.cli.printing import print_json, print_text, terminal_width
from ohmsworth.cli.refusals import refuse_missing_records, target_faults
from ohmsworth.errors import Fault, InputRefused, OutputFault, shorten
from ohmsworth.report.answer import as_json
from ohmsworth.report.papers.lot_certificate import LotCertificate
from ohmsworth.report.papers.pages import paper_summary
from ohmsworth.report.papers.verification import VerificationAnswer
from ohmsworth.report.papers.verification_pages import verification_document
from ohmsworth.wiring.kept_papers import PASSPHRASE
from ohmsworth.work.papers.held import HeldPaper
from ohmsworth.work.papers.issue import IssueAsked, Issued, issue
from ohmsworth.work.papers.issue_lot import LotIssueAsked, issue_lot
from ohmsworth.work.papers.ports import Form, FoundPaper
from ohmsworth.work.papers.printing import label_size, printed_label, printed_page
from ohmsworth.work.papers.verify import VerifyAsked, verify_certificate

NOT_FITTING = 1
_LABELS = (".pdf", ".svg", ".png")


@dataclass(frozen=True, slots=True)
class Targets:
    """Files to write, and how large the label is."""

    html: Path | None
    pdf: Path | None
    label: Path | None
    label_size: str

    def files(self) -> list[Path]:
        """Those that are asked for."""
        return [path for path in (self.html, self.pdf, self.label) if path is not None]


@dataclass(frozen=True, slots=True)
class Verifying:
    """A certificate's file, and what it is to be held against."""

    file: Path
    folder: Path | None
    key: Path | None
    records: str | None


def certify(folder: Path, key: Path, targets: Targets, as_data: bool) -> None:
    """Issue a certificate, and write its file, its pages and its label: all of them or none."""
    size = _checked(targets)
    of_lot = wiring.is_lot(folder)
    paper = wiring.load_lot(folder).study.paper if of_lot else wiring.load_cable(folder).paper
    place = old = None
    if paper is not None:
        place = folder / wiring.paper_name(paper.number)
        _refuse_taken([place, *targets.files()], paper.number)
        before = folder / wiring.paper_name(paper.supersedes)
        old = wiring.read_paper(before) if paper.supersedes and before.exists() else None
    made = _issued(folder, key, of_lot, old)
    assert place is not None  # without a table [certificate] nothing is issued
    found = FoundPaper(made.data, made.certificate, "json", made.content)
    pages, told = _pages(found, targets, size)
    wiring.write_new_files([(place, made.content), *pages])
    if as_data:
        print_json(made.data)
        return
    print_text(wiring.as_text(paper_summary(made.certificate), terminal_width()))
    if os.name == "posix" and key.stat().st_mode & 0o077:
        print_text(f"Others on this computer can read the key: chmod 600 {shlex.quote(str(key))}")
    _say_written([place, *(path for path, _ in pages)], told)


def _issued(folder: Path, key: Path, of_lot: bool, old: FoundPaper | None) -> Issued:
    ports = wiring.issue_ports(key, _passphrase)
    if of_lot:
        return issue_lot(LotIssueAsked(wiring.lot_texts(folder), old), ports)
    return issue(IssueAsked(*wiring.cable_texts(folder), old), ports)


def papers(file: Path, targets: Targets) -> None:
    """Print a certificate once more; one that does not fit is not printed."""
    size = _checked(targets)
    if not targets.files():
        mend = "Say what to write: --html FILE, --pdf FILE or --label FILE."
        raise InputRefused((Fault("the command", "nothing to write", "one option at least", mend),))
    _refuse_taken(targets.files(), "")
    found = wiring.read_paper(file)
    answer = verify_certificate(VerifyAsked(file.name, found), wiring.verify_ports())
    if not answer.fits:
        mend = f"'ohmsworth verify {shlex.quote(str(file))}' tells what is wrong."
        raise InputRefused((Fault(file.name, "a certificate that does not fit", "a whole one", mend),))
    pages, told = _pages(found, targets, size)
    wiring.write_new_files(pages)
    _say_written([path for path, _ in pages], told)


def verify(wish: Verifying, as_data: bool) -> int:
    """Print what a verification says; 1 where the certificate does not fit."""
    answer = verified(wish)
    if as_data:
        print_json(as_json(answer))
    else:
        print_text(wiring.as_text(verification_document(answer), terminal_width()))
    return 0 if answer.fits else NOT_FITTING


def verified(wish: Verifying) -> VerificationAnswer:
    """What is said of a certificate."""
    public = None if wish.key is None else wiring.public_key(wish.key)
    paper = wiring.read_paper(wish.file)
    now = lot_now = None
    if wish.folder is not None and isinstance(paper.certificate, LotCertificate):
        lot_now = wiring.lot_texts(wish.folder)
    elif wish.folder is not None:
        description, readings = wiring.cable_texts(wish.folder)
        now = (description, readings or "")
    held = None if wish.records is None else _held(paper, wish.records)
    asked = VerifyAsked(wish.file.name, paper, public, now, wish.records is not None, held, lot_now)
    return verify_certificate(asked, wiring.verify_ports())


def _held(paper: FoundPaper, address: str) -> HeldPaper | None:
    """What the records hold under the number of a paper; records that are not there are not made."""
    from ohmsworth.work.held_papers import held_in_shop

    refuse_missing_records(address)
    with wiring.open_records(address) as records:
        return held_in_shop(wiring.shop(records), paper.certificate.number, wiring.paper_name)


def make_key(file: Path, ask: bool) -> None:
    """Make a key, and say what each half is for."""
    passphrase = os.environ.get(PASSPHRASE, "")
    if ask:
        passphrase = _asked_twice()
    private, public = wiring.make_key(file, passphrase)
    locked = (
        "locked by its passphrase" if passphrase else "without a passphrase: whoever has the file can sign"
    )
    print_text(
        f"Written: {private} (private, {locked})\nWritten: {public} (public, for your customers)\n"
        f"Keep the private one where nobody else reads it, with a copy in a safe place: a lost key cannot be made again."
    )


def _asked_twice() -> str:
    from getpass import getpass

    first, again = getpass("Passphrase: "), getpass("The same once more: ")
    if not first or first != again:
        found = "nothing" if not first else "two different ones"
        raise InputRefused((Fault("the passphrase", found, "the same passphrase twice", "Type it again."),))
    return first


def _passphrase() -> str:
    """Of a key that is locked: from the environment, or from somebody who is there to type it."""
    if PASSPHRASE in os.environ:
        return os.environ[PASSPHRASE]
    if sys.stdin is None or not sys.stdin.isatty():
        mend = f"Set {PASSPHRASE}, or run the command in a terminal."
        raise InputRefused((Fault("the key", "a passphrase, and nobody to type it", "the passphrase", mend),))
    from getpass import getpass

    return getpass("Passphrase of the key: ")


def _checked(targets: Targets) -> tuple[float, float]:
    """The size of the label, when nothing is wrong with what is asked for."""
    faults = target_faults((("--html", targets.html), ("--pdf", targets.pdf), ("--label", targets.label)))
    if targets.label is not None and targets.label.suffix.lower() not in _LABELS:
        where, found = (
            f"--label {shorten(str(targets.label), 200)}",
            f"the ending {targets.label.suffix or 'none'}",
        )
        faults.append(Fault(where, found, "a name such as label.pdf, .svg or .png", "Correct its name."))
    size: tuple[float, float] | None = None
    try:
        size = label_size(targets.label_size, "--label-size")
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
    found: FoundPaper, targets: Targets, size: tuple[float, float]
) -> tuple[list[tuple[Path, bytes]], str]:
    """The pages and the label that are asked for, and what is to be told about them."""
    told = ""
    forms: tuple[tuple[Path | None, Form], ...] = ((targets.html, "html"), (targets.pdf, "pdf"))
    made = [(path, printed_page(found, form, wiring.draw_page)) for path, form in forms if path is not None]
    if targets.label is not None:
        kind = targets.label.suffix.lower().lstrip(".")
        content, told = printed_label(found, size, kind, wiring.draw_label)
        made.append((targets.label, content))
    return made, told


def _say_written(paths: list[Path], told: str) -> None:
    for path in paths:
        print_text(f"Written: {path}")
    if told:
        print_text(told)
