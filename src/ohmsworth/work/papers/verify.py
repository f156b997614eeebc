"""Verifying a certificate: is it whole, do its results follow, who signed it, does its page show it, does the folder agree."""

from __future__ import annotations

import base64
from collections.abc import Mapping
from dataclasses import dataclass

from ohmsworth.errors import OhmsworthError
from ohmsworth.report.papers.certificate import ALGORITHM, Certificate
from ohmsworth.report.papers.lot_certificate import LotCertificate
from ohmsworth.report.papers.verification import (
    FAILS,
    FOLDER,
    FORMAT,
    HOLDS,
    NOT_CHECKED,
    PAGE,
    SIGNED,
    WHOLE,
    CheckAnswer,
    VerificationAnswer,
)
from ohmsworth.report.papers.verification_words import verification_notes, verification_sentence
from ohmsworth.work.papers.canonical import digest_of, sealed_bytes
from ohmsworth.work.papers.compared import records_checks, same_cable, same_lot
from ohmsworth.work.papers.follows import results_check
from ohmsworth.work.papers.held import HeldPaper
from ohmsworth.work.papers.ports import FoundPaper, VerifyPorts
from ohmsworth.work.papers.printing import printed_page


@dataclass(frozen=True, slots=True)
class VerifyAsked:
    """A certificate to verify.

    Parameters
    ----------
    file
        Its name, for the answer.
    paper
        As found in the file.
    public_key
        Of the shop, had from the shop; None where nobody has it.
    now
        The texts of cable.toml and test.csv as they are now; None where nothing is to be compared.
    in_records, held
        Whether the shop's records were asked, and what they hold under its number; None for nothing.
    lot_now
        Of a lot, the texts of its study's files as they are now, by their names; None where nothing is to be compared.
    """

    file: str
    paper: FoundPaper
    public_key: bytes | None = None
    now: tuple[str, str] | None = None
    in_records: bool = False
    held: HeldPaper | None = None
    lot_now: Mapping[str, str] | None = None


def verify_certificate(asked: VerifyAsked, ports: VerifyPorts) -> VerificationAnswer:
    """Everything that can be said of a certificate; that something fails is an answer, no error."""
    paper = asked.paper.certificate
    checks = [
        _whole(asked.paper),
        _signed(asked.paper, asked.public_key, ports),
        results_check(paper, ports),
    ]
    if asked.paper.form != "json":
        checks.append(_page(asked.paper, ports))
    if isinstance(paper, Certificate) and asked.now is not None:
        checks.append(same_cable(FOLDER, "folder", (paper, asked.now), ports))
    if isinstance(paper, LotCertificate) and asked.lot_now is not None:
        checks.append(same_lot(FOLDER, "folder", (paper, asked.lot_now), ports))
    if asked.in_records:
        checks += records_checks(paper, asked.held, ports)
    fits = all(check.result != FAILS for check in checks)
    known = asked.public_key is not None
    return VerificationAnswer(
        format=FORMAT,
        file=asked.file,
        fits=fits,
        signer="known" if known else "not known",
        sentence=verification_sentence(paper, tuple(checks), known),
        checks=tuple(checks),
        notes=verification_notes(paper, known, asked.in_records),
        kind=paper.kind,
        number=paper.number,
        shop=paper.shop,
        cable=paper.cable.name if isinstance(paper, Certificate) else "",
        serial=paper.cable.serial if isinstance(paper, Certificate) else "",
        verdict=paper.results.verdict,
        tested=paper.tested,
        tested_by=paper.tested_by,
        customer=paper.customer,
        issued=paper.issued,
        supersedes=paper.supersedes.number,
        stated_digest=paper.digest,
        public_key=paper.signature.public_key,
        lot=paper.lot.name if isinstance(paper, LotCertificate) else "",
        lot_number=paper.lot.number if isinstance(paper, LotCertificate) else "",
    )


def _whole(found: FoundPaper) -> CheckAnswer:
    if digest_of(found.data) == found.certificate.digest:
        return CheckAnswer(WHOLE, HOLDS, "The digest fits everything in the file.")
    return CheckAnswer(
        WHOLE, FAILS, "The digest does not fit: something in the file was changed, or the digest itself."
    )


def _signed(found: FoundPaper, given: bytes | None, ports: VerifyPorts) -> CheckAnswer:
    signature = found.certificate.signature
    inside, value = _decoded(signature.public_key), _decoded(signature.value)
    if signature.algorithm != ALGORITHM or inside is None or value is None:
        return CheckAnswer(SIGNED, FAILS, "There is no signature that can be read.")
    signed = sealed_bytes(found.data)
    if given is None:
        if ports.fits(inside, signed, value):
            return CheckAnswer(
                SIGNED,
                HOLDS,
                "The signature fits the key inside the file: nothing changed since it was signed.",
            )
        return CheckAnswer(SIGNED, FAILS, "The signature does not fit the key inside the file.")
    if not ports.fits(given, signed, value):
        return CheckAnswer(
            SIGNED,
            FAILS,
            "The signature was not made with the key that you hold: its owner did not sign this file.",
        )
    if inside != given:
        return CheckAnswer(
            SIGNED, FAILS, "The signature is by the key that you hold, and the file names another key."
        )
    return CheckAnswer(SIGNED, HOLDS, "The signature was made with the key that you hold.")


def _decoded(text: str) -> bytes | None:
    """Bytes of base64, written in the one way there is; None for anything else."""
    try:
        data = base64.b64decode(text, validate=True)
    except ValueError:
        return None
    return data if base64.b64encode(data).decode("ascii") == text else None


def _page(found: FoundPaper, ports: VerifyPorts) -> CheckAnswer:
    """Whether the page is the one that its data make: what people read is not what programs read."""
    try:
        drawn = printed_page(found, found.form, ports.draw_page)
    except (ValueError, OhmsworthError):
        return CheckAnswer(PAGE, FAILS, "The data make no page.")
    if drawn == found.content:
        return CheckAnswer(PAGE, HOLDS, "The page shows what its data say, and nothing else.")
    words = "The page is not the one that this program makes of its data: "
    if found.certificate.made_with == ports.made_with:
        return CheckAnswer(PAGE, FAILS, f"{words}what it shows was changed.")
    words += f"{found.certificate.made_with} made it, and this is {ports.made_with}. Compare what it shows with what stands here."
    return CheckAnswer(PAGE, NOT_CHECKED, words)
