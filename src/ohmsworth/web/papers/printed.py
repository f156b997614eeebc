"""A paper to download: its data, its pages and its label, drawn from what was kept."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal

from fastapi import Request
from fastapi.responses import Response

from ohmsworth.errors import InputRefused
from ohmsworth.web.drawing import to_keep
from ohmsworth.web.filters import fault_words
from ohmsworth.web.papers.at_hand import papers_at
from ohmsworth.work.paper_lines import HoldsPapers, KeptPaper, papers_of
from ohmsworth.work.papers.kept.issuing import kept_paper
from ohmsworth.work.papers.ports import Form, FoundPaper
from ohmsworth.work.papers.printing import label_size, printed_label, printed_page
from ohmsworth.work.records import NoSuchCard, Records

_PAGES: dict[Form, str] = {"html": "text/html; charset=utf-8", "pdf": "application/pdf"}
#: What a label is drawn as.
LabelKind = Literal["pdf", "svg", "png"]
_LABELS: dict[LabelKind, str] = {"pdf": "application/pdf", "svg": "image/svg+xml", "png": "image/png"}


@dataclass(frozen=True, slots=True)
class Printing:
    """A paper that is printed: as it is kept, and as it was issued; `at` is the address of its files, `back` of its page."""

    kept: KeptPaper
    found: FoundPaper
    at: str
    back: str


@dataclass(frozen=True, slots=True)
class LabelShown:
    """A label as it will be, with what is to be told about it; `fault` where it cannot be of that size.

    `at` is the address of its files without their ending, `back` of the page of papers, `holds` what stands on it.
    """

    at: str
    back: str
    holds: str
    size: str
    told: str
    fault: str


def paper_in(
    request: Request, records: Records, card: int, state: HoldsPapers, number: int, back: str
) -> Printing:
    """The paper in line `number` of a card's log; raises NoSuchCard where that is none."""
    kept = next((one for one in papers_of(state) if one.line == number), None)
    if kept is None:
        raise NoSuchCard(f"Line {number} of card {card} is no paper.")
    found = kept_paper(records, papers_at(request).reader, card, kept)
    return Printing(kept, found, f"{back}/{number}", back)


def data_file(paper: Printing) -> Response:
    """Its file, to the byte."""
    return to_keep(
        paper.found.content, "application/json", plain_name(f"certificate-{paper.kept.number}.json")
    )


def page_file(request: Request, paper: Printing, form: Form) -> Response:
    """Its page as "html" or "pdf"."""
    content = printed_page(paper.found, form, papers_at(request).verifying().draw_page)
    return to_keep(content, _PAGES[form], plain_name(f"certificate-{paper.kept.number}.{form}"))


def label_shown(request: Request, paper: Printing, size: str, holds: str) -> LabelShown:
    """How its label looks in a size."""
    told = fault = ""
    try:
        wanted = label_size(size, "the size")
        told = printed_label(paper.found, wanted, "png", papers_at(request).draw_label)[1]
    except InputRefused as refused:
        fault = " ".join(map(fault_words, refused.faults))
    return LabelShown(f"{paper.at}/label", paper.back, holds, size, told, fault)


def label_file(request: Request, paper: Printing, size: str, kind: LabelKind) -> Response:
    """Its label as "pdf", "svg" or "png"."""
    wanted = label_size(size, "the size of the label")
    content, _ = printed_label(paper.found, wanted, kind, papers_at(request).draw_label)
    return to_keep(content, _LABELS[kind], plain_name(f"label-{paper.kept.number}.{kind}"))


def plain_name(name: str) -> str:
    """A name for a download, in letters that every browser takes."""
    return re.sub(r"[^A-Za-z0-9._-]+", "-", name)
