"""What stands on the label of a cable, or of a lot."""

from __future__ import annotations

from dataclasses import dataclass

from ohmsworth.report.papers.certificate import Certificate
from ohmsworth.report.papers.certificate_words import passed, result_words, seal_text
from ohmsworth.report.papers.kinds import Paper
from ohmsworth.report.papers.lot_certificate import LotCertificate
from ohmsworth.report.words import count
from ohmsworth.units import show_stated


@dataclass(frozen=True, slots=True)
class Label:
    """The words of a label, `title` set bold, the others one a line, and what its code holds."""

    title: str
    lines: tuple[str, ...]
    content: str


def label_of(paper: Paper) -> Label:
    """What the label of a certified cable or lot says."""
    return _of_cable(paper) if isinstance(paper, Certificate) else _of_lot(paper)


def _of_lot(paper: LotCertificate) -> Label:
    """Name, number, size, day and result of a certified lot."""
    result = result_words(paper)
    size = f"{count(int(paper.lot.size), 'piece')}, " if paper.lot.size else ""
    lines = (
        f"lot {paper.lot.number}",
        f"{size}{paper.results.measured} measured",
        f"tested {paper.tested}",
        f"{result if passed(paper) else result.upper()}, {paper.number}",
    )
    return Label(paper.lot.name, lines, seal_text(paper, paper.digest))


def _of_cable(paper: Certificate) -> Label:
    """Name, serial, length, day and result of a certified cable."""
    result = "passed" if passed(paper) else "NOT PASSED"
    lines = (
        f"serial {paper.cable.serial}",
        show_stated(float(paper.cable.length), "m"),
        f"tested {paper.tested}",
        f"{result}, {paper.number}",
    )
    return Label(paper.cable.name, lines, seal_text(paper, paper.digest))
