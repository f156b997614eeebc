"""The pages of a paper, whatever it is about."""

from __future__ import annotations

from ohmsworth.report.document import Document
from ohmsworth.report.papers.certificate import Certificate
from ohmsworth.report.papers.certificate_pages import certificate_document, certificate_summary
from ohmsworth.report.papers.kinds import Paper
from ohmsworth.report.papers.lot_pages import lot_paper_document, lot_paper_summary


def paper_document(paper: Paper) -> Document:
    """The whole paper."""
    return certificate_document(paper) if isinstance(paper, Certificate) else lot_paper_document(paper)


def paper_summary(paper: Paper) -> Document:
    """What fits a terminal."""
    return certificate_summary(paper) if isinstance(paper, Certificate) else lot_paper_summary(paper)
