"""A verification for a terminal."""

from __future__ import annotations

from ohmsworth.report.document import Block, Bullets, Document, Headline, Paragraph, Section
from ohmsworth.report.papers.certificate_words import grouped_digest
from ohmsworth.report.papers.verification import VerificationAnswer
from ohmsworth.report.papers.verification_words import was_issued_so
from ohmsworth.report.tables import table


def verification_document(answer: VerificationAnswer) -> Document:
    """Fits or not, every check, and what the data state, to be held against the paper at hand."""
    word = "fits" if answer.fits else "no longer holds" if was_issued_so(answer.checks) else "does not fit"
    checks = tuple((check.name, check.result, check.words) for check in answer.checks)
    blocks: list[Block] = [
        Headline(answer.sentence, "good" if answer.fits else "bad", word),
        table("Checks", ("check", "result", "what was found"), checks),
    ]
    for check in answer.checks:
        if check.details:
            blocks += [Paragraph(check.words), Bullets(check.details)]
    stated = (
        ("kind", answer.kind),
        ("number", answer.number),
        ("issued by", answer.shop),
        ("issued", answer.issued),
        *(
            (("lot", answer.lot), ("number of the lot", answer.lot_number))
            if answer.lot
            else (("cable", answer.cable), ("serial", answer.serial))
        ),
        ("result", answer.verdict),
        ("tested on", answer.tested),
        ("tested by", answer.tested_by),
        ("customer", answer.customer or "–"),
        ("digest", grouped_digest(answer.stated_digest)),
        ("key", answer.public_key),
    )
    blocks += [table("What the data state", ("what", "value"), stated), Bullets(answer.notes)]
    return Document(answer.file, "", "en", "", (Section("Verification", tuple(blocks)),))
