"""Parts of pages that papers of every kind have: head and foot, the seal, what it takes the place of, how to check it."""

from __future__ import annotations

from dataclasses import replace

from ohmsworth.report.document import Block, Bullets, CodeFigure, Document, Paragraph, Section, Table
from ohmsworth.report.papers.certificate import PaperHead, PaperMeter
from ohmsworth.report.papers.certificate_words import (
    SHORT_DIGEST,
    grouped_digest,
    heading,
    mark_words,
    seal_text,
    subject_words,
)
from ohmsworth.report.papers.kinds import Paper
from ohmsworth.report.papers.lot_certificate import LotCertificate, PaperLotMeter
from ohmsworth.report.tables import table
from ohmsworth.units import show_stated

_KEY = (
    "The key printed here proves only that nothing changed since it was signed. Who signed is proven by the shop's public "
    "key, had from the shop itself: 'ohmsworth verify FILE --key SHOP.pub'."
)


def sealed_document(paper: Paper, sections: tuple[Section, ...]) -> Document:
    """The pages of a paper, with who issued it at the head and its digest at the foot of each."""
    footer = f"{heading(paper)}, {subject_words(paper)}. SHA-256 {paper.digest[:SHORT_DIGEST]}…"
    issued_by = ", ".join(part for part in (paper.shop, paper.address) if part)
    return Document(heading(paper), f"Issued by {issued_by} on {paper.issued[:10]}.", "en", footer, sections)


def sealed_summary(paper: Paper, first_page: tuple[Block, ...]) -> Document:
    """What fits a terminal."""
    blocks = tuple(block for block in first_page if not isinstance(block, CodeFigure))
    digest = Paragraph(f"SHA-256 {grouped_digest(paper.digest)}")
    return Document(heading(paper), "", "en", "", (Section("Result", (*blocks, digest)),))


def superseded_words(paper: PaperHead) -> tuple[Paragraph, ...]:
    """What it takes the place of, and why; nothing of a first one."""
    old = paper.supersedes
    if not old.number:
        return ()
    words = (
        f"This paper takes the place of number {old.number} (SHA-256 {old.digest[:SHORT_DIGEST]}…), which no longer holds. "
        f"Why: {old.reason}"
    )
    return (Paragraph(words, "warning"),)


def seal_figure(paper: Paper) -> CodeFigure:
    """The code that a telephone reads, with the digest beside it."""
    lines = (
        heading(paper),
        mark_words(paper),
        f"SHA-256 {grouped_digest(paper.digest[: 2 * SHORT_DIGEST])}",
        grouped_digest(paper.digest[2 * SHORT_DIGEST :]),
    )
    content = seal_text(paper, paper.digest)
    mark = "lot" if isinstance(paper, LotCertificate) else "serial"
    return CodeFigure(
        "seal",
        f"A code that a telephone reads: {content}.",
        f"Number, result, {mark} and the beginning of the digest.",
        content,
        lines,
    )


def accuracy_words(meter: PaperMeter | PaperLotMeter, unit: str) -> str:
    """What is stated of a meter that reads in `unit`."""
    told = []
    if float(meter.gain):
        told.append(f"{100 * float(meter.gain):.4g} % of reading")
    if float(meter.counts):
        told.append(f"{float(meter.counts):g} counts of {show_stated(float(meter.resolution), unit)}")
    if meter.stated_uncertainty:
        told.append(f"standard uncertainty {show_stated(float(meter.stated_uncertainty), unit)}")
    return " + ".join(told) or f"half a count of {show_stated(float(meter.resolution), unit)}"


def lines_table(file: str, header: str, text: str) -> Table:
    """Every line of a file of readings, as it was written."""
    rows = tuple((str(k), line) for k, line in enumerate(text.splitlines(), start=1) if line.strip())
    made = table(f"Every line of {file}, as it was written", ("line", header), rows, (0,))
    return replace(made, small=True)


def check_blocks(paper: Paper, described: str, statement: str) -> tuple[Block, ...]:
    """The seal in full, and how to check the paper: `described` stands in it, and `statement` says what it is not."""
    seal = (
        ("digest (SHA-256)", grouped_digest(paper.digest)),
        ("public key of the shop", paper.signature.public_key),
        (f"signature ({paper.signature.algorithm})", " ".join(_cut(paper.signature.value, 44))),
        ("made with", paper.made_with),
    )
    data = (
        f"The data of this paper, with {described} and every reading, are a file of their own and stand inside "
        "this page as well. 'ohmsworth verify FILE' tells whether they are whole, whether the results follow from the readings, "
        "and whether the signature fits."
    )
    return (table("Seal", ("what", "value"), seal), Bullets((data, _KEY, statement)))


def _cut(text: str, width: int) -> list[str]:
    return [text[k : k + width] for k in range(0, len(text), width)]
