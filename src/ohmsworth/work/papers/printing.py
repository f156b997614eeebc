"""A paper printed from its data, as often as it is asked for: its pages and its label."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import datetime

from ohmsworth.errors import Fault, InputRefused, shorten
from ohmsworth.report.papers.label import Label, label_of
from ohmsworth.report.papers.pages import paper_document
from ohmsworth.units import parse_number
from ohmsworth.work.papers.issue import file_text
from ohmsworth.work.papers.ports import DrawPage, Form, FoundPaper

#: Sides of a label, mm, and its size where nobody says.
LEAST, MOST = 10.0, 300.0
LABEL_SIZE = "60x30"
#: Draws a label of a size as "pdf", "svg" or "png", and says what is to be told about it.
DrawLabel = Callable[[Label, float, float, str, datetime], tuple[bytes, str]]


def printed_page(found: FoundPaper, form: Form, draw_page: DrawPage) -> bytes:
    """The page of a paper as "html" or "pdf", always the same to the last byte."""
    paper = found.certificate
    return draw_page(form, paper_document(paper), file_text(found.data), datetime.fromisoformat(paper.issued))


def printed_label(
    found: FoundPaper, size: tuple[float, float], kind: str, draw_label: DrawLabel
) -> tuple[bytes, str]:
    """The label of a paper, and what is to be told about it."""
    paper = found.certificate
    return draw_label(label_of(paper), *size, kind, datetime.fromisoformat(paper.issued))


def label_size(text: str, where: str) -> tuple[float, float]:
    """Width and height of a label, in mm.

    Raises
    ------
    InputRefused
        With a fault at `where` for anything else.

    Examples
    --------
    >>> label_size("60 x 30 mm", "the size")
    (60.0, 30.0)
    """
    match = re.fullmatch(r"\s*([0-9.,]{1,6})\s*[xX×]\s*([0-9.,]{1,6})\s*(?:mm)?\s*", text)
    try:
        size = (parse_number(match[1]), parse_number(match[2])) if match else None
    except ValueError:
        size = None
    if size is None or not all(LEAST <= side <= MOST for side in size):
        expected = f"width and height in mm, {LEAST:g} to {MOST:g} each, such as {LABEL_SIZE}"
        raise InputRefused((Fault(where, shorten(text), expected, "Measure the label."),))
    return size
