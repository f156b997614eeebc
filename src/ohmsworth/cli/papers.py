"""What the commands about papers read, print and write."""

from __future__ import annotations

import os
import shlex
import sys
from collections.abc import Sequence
from pathlib import Path

from ohmsworth import wiring
from ohmsworth.cli.printing import print_json, print_text, terminal_width
from ohmsworth.cli.refusals import target_faults
from ohmsworth.errors import Fault, InputRefused
from ohmsworth.report.answer import as_json
from ohmsworth.report.papers.pages import paper_summary
from ohmsworth.report.papers.verification_pages import verification_document
from ohmsworth.wiring.kept_papers import PASSPHRASE
from ohmsworth.wiring.paper_files import (
    PaperTargets,
    Verifying,
    certify_folder,
    checked_label,
    print_paper,
    verify_file,
)

NOT_FITTING = 1
_NAMES = ("--label", "--label-size")


def certify(folder: Path, key: Path, targets: PaperTargets, as_data: bool) -> None:
    """Issue a certificate, and say what was written."""
    _check(targets)
    made = certify_folder(folder, key, targets, _passphrase)
    if as_data:
        print_json(made.data)
        return
    print_text(wiring.as_text(paper_summary(made.certificate), terminal_width()))
    if os.name == "posix" and key.stat().st_mode & 0o077:
        print_text(f"Others on this computer can read the key: chmod 600 {shlex.quote(str(key))}")
    _say_written(made.written, made.told)


def papers(file: Path, targets: PaperTargets) -> None:
    """Print a certificate once more; one that does not fit is not printed."""
    _check(targets)
    if not targets.files():
        mend = "Say what to write: --html FILE, --pdf FILE or --label FILE."
        raise InputRefused((Fault("the command", "nothing to write", "one option at least", mend),))
    printed = print_paper(file, targets)
    _say_written(printed.written, printed.told)


def verify(wish: Verifying, as_data: bool) -> int:
    """Print what a verification says; 1 where the certificate does not fit."""
    answer = verify_file(wish, "--records")
    if as_data:
        print_json(as_json(answer))
    else:
        print_text(wiring.as_text(verification_document(answer), terminal_width()))
    return 0 if answer.fits else NOT_FITTING


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


def _check(targets: PaperTargets) -> None:
    """Refuse what cannot be written, by the names of the options."""
    faults = target_faults((("--html", targets.html), ("--pdf", targets.pdf), ("--label", targets.label)))
    try:
        checked_label(targets, _NAMES)
    except InputRefused as refused:
        faults += refused.faults
    if faults:
        raise InputRefused(tuple(faults))


def _say_written(paths: Sequence[Path], told: str) -> None:
    for path in paths:
        print_text(f"Written: {path}")
    if told:
        print_text(told)
