"""The addresses at which a paper is downloaded, alike for cables and lots."""

from __future__ import annotations

from collections.abc import Callable

from fastapi import APIRouter, Request
from fastapi.responses import Response

from ohmsworth.web.papers.printed import LabelKind, Printing, data_file, label_file, page_file
from ohmsworth.work.papers.printing import LABEL_SIZE


def add_files(pages: APIRouter, paper: Callable[[Request, int, int], Printing]) -> None:
    """Add the files of a paper to a router whose prefix holds the number of a `card`.

    Parameters
    ----------
    pages
        Of the papers of cables, or of lots.
    paper
        The paper in a line of a card's log; raises NoSuchCard where that is none.
    """

    @pages.get("/{number}.json")
    def data(request: Request, card: int, number: int) -> Response:
        """Its file, to the byte."""
        return data_file(paper(request, card, number))

    @pages.get("/{number}.html")
    def html(request: Request, card: int, number: int) -> Response:
        """Its web page."""
        return page_file(request, paper(request, card, number), "html")

    @pages.get("/{number}.pdf")
    def pdf(request: Request, card: int, number: int) -> Response:
        """Its PDF."""
        return page_file(request, paper(request, card, number), "pdf")

    @pages.get("/{number}/label.{kind}")
    def label_in(
        request: Request, card: int, number: int, kind: LabelKind, size: str = LABEL_SIZE
    ) -> Response:
        """Its label for a printer (PDF), as a drawing (SVG) or as a picture (PNG)."""
        return label_file(request, paper(request, card, number), size, kind)
