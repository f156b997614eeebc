"""What stands on the label of a cable."""

from __future__ import annotations

from dataclasses import dataclass

from ohmsworth.report.papers.certificate import Certificate
from ohmsworth.report.papers.certificate_words import passed, seal_text
from ohmsworth.units import show_stated


@dataclass(frozen=True, slots=True)
class Label:
    """The words of a label, `title` set bold, the others one a line, and what its code holds."""

    title: str
    lines: tuple[str, ...]
    content: str


def label_of(paper: Certificate) -> Label:
    """Name, serial, length, day and result of a certified cable."""
    result = "passed" if passed(paper) else "NOT PASSED"
    lines = (
        f"serial {paper.cable.serial}",
        show_stated(float(paper.cable.length), "m"),
        f"tested {paper.tested}",
        f"{result}, {paper.number}",
    )
    return Label(paper.cable.name, lines, seal_text(paper, paper.digest))
