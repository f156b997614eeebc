"""A report inside a page, its pictures as files, and the style sheet that draws it."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from hashlib import sha256
from typing import cast

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, Response
from markupsafe import Markup
from starlette.exceptions import HTTPException

from ohmsworth.report.document import Document
from ohmsworth.work.drawing import MEDIA_TYPES, Drawing

#: Its address lies among the static files: it is to be included before they are mounted.
style_pages = APIRouter()


def drawing_of(request: Request) -> Drawing:
    """The writers."""
    return cast(Drawing, request.app.state.drawing)


def report_fragment(
    request: Request,
    document: Document,
    link_of: Callable[[str], str],
    level: int = 2,
    anchors: tuple[str, ...] = (),
    later: Callable[[str], str] | None = None,
    reading_at: Callable[[int], str] | None = None,
) -> Markup:
    """`document` to be put into a template as it is; the page links /static/report.css in its block "styles".

    Parameters
    ----------
    request
        What is answered.
    document
        What to draw.
    link_of
        Gives the address of a picture's file by its name; that page answers with :func:`picture_answer`.
    level
        How deep the headings of the sections lie.
    anchors
        The id of each section, "part-1" and so on where there are none.
    later
        Where given, a picture that is not at hand is fetched from this address when it is looked at; that page answers
        with :func:`inline_answer`.
    reading_at
        Where given, the address of a reading by the number that the pages show; "" for none.
    """
    # The writers escape every text.
    draw = drawing_of(request).fragment
    return Markup(draw(document, link_of, level, anchors, later, reading_at))  # noqa: S704


def inline_answer(request: Request, document: Document, name: str) -> Response:
    """The drawing `name` for the inside of the page that left it for later; a 404 where there is none."""
    drawn = drawing_of(request).inline(document, name)
    if drawn is None:
        raise HTTPException(404)
    return HTMLResponse(drawn)


def picture_answer(request: Request, document: Document, name: str) -> Response:
    """The file `name` of a document's pictures, to be kept; raises a 404 where the document has none of that name."""
    content = drawing_of(request).picture(document, name)
    if content is None:
        raise HTTPException(404)
    return to_keep(content, MEDIA_TYPES[name.rpartition(".")[2]], name)


def to_keep(content: bytes | str, media_type: str, name: str) -> Response:
    """A file that the browser puts among its downloads, called `name` (plain letters)."""
    return Response(content, 200, {"content-disposition": f'attachment; filename="{name}"'}, media_type)


@style_pages.get("/static/report.css")
def report_style(request: Request) -> Response:
    """The rules that draw a report inside a page."""
    style, tag = _style(drawing_of(request).style)
    headers = {"etag": tag, "cache-control": "no-cache"}
    if request.headers.get("if-none-match") == tag:
        return Response(None, 304, headers)
    return Response(style, 200, headers, "text/css")


@lru_cache(maxsize=2)
def _style(made: Callable[[], str]) -> tuple[str, str]:
    style = made()
    return style, f'"{sha256(style.encode()).hexdigest()[:16]}"'
