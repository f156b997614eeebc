"""The one place that turns an error into a page that helps."""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass, field
from typing import Any, ClassVar

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import HTMLResponse, JSONResponse, Response
from starlette.exceptions import HTTPException

from ohmsworth.errors import Fault, InputRefused, OhmsworthError, shorten
from ohmsworth.web.at_hand import own_page
from ohmsworth.web.forms import Sent
from ohmsworth.web.pages import Fragment, Page, drawn, show
from ohmsworth.web.words import PLACE_OF_REFUSALS
from ohmsworth.work.records import NoSuchCard, RecordsFault


@dataclass(frozen=True, kw_only=True)
class Refused(Page):
    """What went wrong, and where to go from here."""

    template: ClassVar[str] = "refused.html.j2"

    words: str = ""
    faults: tuple[Fault, ...] = field(default=())
    back: str = "/"
    back_words: str = "Back to today"
    #: What was typed, to be sent again by a button; and that of it which a person has typed.
    again: tuple[tuple[str, str], ...] = ()
    typed: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, kw_only=True)
class RefusedPart(Fragment):
    """The same for a page that asked for a part of itself."""

    template: ClassVar[str] = "refused_part.html.j2"

    title: str
    words: str
    faults: tuple[Fault, ...]


def answer_faults(app: FastAPI) -> None:
    """Give `app` a page for every error."""

    @app.exception_handler(InputRefused)
    def refused(request: Request, error: InputRefused) -> Response:
        page = Refused(
            title="This cannot be used as it is", faults=error.faults, back=_back(request), back_words="Back"
        )
        return told(request, page, 422)

    @app.exception_handler(NoSuchCard)
    def missing(request: Request, error: NoSuchCard) -> Response:
        return told(request, Refused(title="There is no such card in the records", words=str(error)), 404)

    @app.exception_handler(RecordsFault)
    def unkept(request: Request, error: RecordsFault) -> Response:
        page = Refused(
            title="The records cannot be reached just now",
            words=str(error),
            back=_back(request),
            back_words="Back" if _again(request) else "Try again",
            again=_again(request),
            typed=tuple((name, text) for name, text in _again(request) if _is_typed(name, text)),
        )
        return told(request, page, 503)

    @app.exception_handler(OhmsworthError)
    def other(request: Request, error: OhmsworthError) -> Response:
        page = Refused(title="This cannot be used as it is", words=str(error), back=_back(request))
        return told(request, page, 422)

    @app.exception_handler(HTTPException)
    def plain(request: Request, error: HTTPException) -> Response:
        titles = {
            404: "There is no such page",
            405: "A page is not asked for in this way",
            403: "Not for this sign-in",
        }
        title = titles.get(error.status_code, "This cannot be done")
        words = "" if error.status_code == 404 else str(error.detail)
        return told(request, Refused(title=title, words=words), error.status_code)

    @app.exception_handler(RequestValidationError)
    def malformed(request: Request, error: RequestValidationError) -> Response:
        if not _for_program(request):
            return told(request, Refused(title="There is no such page"), 404)
        faults = tuple(_sent_fault(one) for one in error.errors())
        return told(request, Refused(title="This cannot be used as it is", faults=faults), 422)

    @app.exception_handler(Exception)
    def broken(request: Request, error: Exception) -> Response:
        words = f"{type(error).__name__}. Everything that was confirmed is kept. Please report it with what you did just before."
        return told(request, Refused(title="The program itself failed", words=words), 500)


#: Fields that a page fills in by itself.
_OWN = ("key", "step", "by", "instead", "waited", "elapsed", "volunteered", "of", "about", "keep", "change")


def _again(request: Request) -> tuple[tuple[str, str], ...]:
    """The form that was sent, unless it holds a secret: those are not put into a page."""
    sent = getattr(request.state, "sent", None)
    if not isinstance(sent, Sent) or any("password" in name or "token" in name for name in sent.every):
        return ()
    return tuple((name, text) for name, texts in sent.every.items() for text in texts)


def _is_typed(name: str, text: str) -> bool:
    return bool(text.strip()) and name not in _OWN and not name.endswith("_unit")


def _for_program(request: Request) -> bool:
    return request.url.path.startswith("/api/")


def _sent_fault(error: dict[str, Any]) -> Fault:
    """What the check of a program's request found."""
    where = ".".join(str(part) for part in error.get("loc", ())[1:]) or "the request"
    found = shorten(repr(error.get("input")), 60)
    return Fault(where, found, str(error.get("msg", "something else")), "See /api/openapi.json.")


def told(request: Request, page: Refused, status: int) -> Response:
    """What went wrong: as JSON for a program, as a page, or as a few words where only a part of a page was asked for."""
    if _for_program(request):
        listed = [dataclasses.asdict(fault) for fault in page.faults]
        message = f"{page.title}. {page.words}".strip()
        return JSONResponse({"message": message, "faults": listed}, status)
    if request.headers.get("hx-request") != "true":
        return show(request, page, status)
    part = RefusedPart(title=page.title, words=page.words, faults=page.faults)
    return HTMLResponse(drawn(request, part), status, PLACE_OF_REFUSALS)


def _back(request: Request) -> str:
    """Where a person came from, on this server; the page itself otherwise."""
    from urllib.parse import urlsplit

    came = urlsplit(request.headers.get("referer", ""))
    here = came.netloc == request.headers.get("host")
    return own_page(came.path if here and came.path else request.url.path)
