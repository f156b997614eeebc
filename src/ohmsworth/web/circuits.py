"""What does a milliohm do? Circuits and resistances chosen on a page, the ladder and what follows from it below."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import Response
from markupsafe import Markup
from starlette.exceptions import HTTPException

from ohmsworth.errors import Fault
from ohmsworth.report.words import capital
from ohmsworth.web.at_hand import go_to
from ohmsworth.web.circuit_fields import CircuitPart, circuit_part
from ohmsworth.web.circuit_files import FileLink, file_links
from ohmsworth.web.circuit_question import (
    FEW,
    KINDS,
    SLUGS,
    CircuitQuestion,
    answered,
    moved,
    read_question,
    understood,
)
from ohmsworth.web.circuit_report import PLACE, told_of
from ohmsworth.web.drawing import drawing_of
from ohmsworth.web.pages import Fragment, Page, drawn, show
from ohmsworth.work.meaning import MOST_ASKED

pages = APIRouter()
TITLE = "What does a milliohm do?"


@dataclass(frozen=True, slots=True)
class KindChoice:
    """A circuit that can be chosen, and the page about it alone."""

    slug: str
    title: str
    chosen: bool
    address: str


@dataclass(frozen=True, kw_only=True)
class CircuitsTold(Fragment):
    """The question as it was put, and what is told of it: all of the page that changes with a field."""

    template: ClassVar[str] = "circuits_told.html.j2"

    action: str
    only: str
    kinds: tuple[KindChoice, ...]
    ohms: str
    spread: str
    faults: Mapping[str, Fault]
    parts: tuple[CircuitPart, ...]
    hidden: tuple[tuple[str, str], ...]
    few: int
    most: int
    sentence: str
    told: Markup
    files: tuple[FileLink, ...]
    lesser: str
    greater: str
    here: str
    beside: str


@dataclass(frozen=True, kw_only=True)
class Circuits(Page):
    """The whole page."""

    template: ClassVar[str] = "circuits.html.j2"
    place: ClassVar[str] = "Circuits"

    body: Markup


@pages.get(PLACE)
def circuits(request: Request) -> Response:
    """The page about any circuits; what is asked stands in the address."""
    return _answer(request, read_question(request.query_params.multi_items()), "")


@pages.get(PLACE + "/{slug}")
def circuit(request: Request, slug: str) -> Response:
    """The page about one circuit."""
    if slug not in KINDS:
        raise HTTPException(404)
    pairs = [pair for pair in request.query_params.multi_items() if pair[0] != "use"]
    return _answer(request, read_question([("use", slug), *pairs]), KINDS[slug])


def _answer(request: Request, question: CircuitQuestion, only: str) -> Response:
    given = request.query_params.multi_items()
    action = f"{PLACE}/{SLUGS[only]}" if only else PLACE
    part = _is_part(request)
    if not part and any(name != "ohms" and not text.strip() for name, text in given):
        # A form also sends the fields that are empty: the address is to be short enough to be passed on.
        return go_to(_address(action, question))
    meant = understood(question, drawing_of(request).use)
    faults = dict(reversed(meant.faults))  # of several about one field the first is shown
    told = _told(request, question, only, faults, meant.ohms)
    status = 422 if faults else 200
    if part:
        return show(request, told, status)
    title = f"{capital(only)}: what does a milliohm do in it?" if only else TITLE
    # Drawn by an escaping template.
    return show(request, Circuits(title=title, body=Markup(drawn(request, told))), status)  # noqa: S704


def _is_part(request: Request) -> bool:
    """Whether the page itself asks, for the part of it that changes."""
    return request.headers.get("hx-request") == "true"


def _told(
    request: Request,
    question: CircuitQuestion,
    only: str,
    faults: Mapping[str, Fault],
    ohms: tuple[float, ...],
) -> CircuitsTold:
    action = f"{PLACE}/{SLUGS[only]}" if only else PLACE
    # A browser without script follows this address to what is left for later otherwise.
    whole = "" if "whole" in request.query_params else f"{_address(action, question)}&whole=yes"
    open_kinds = question.kinds if len(question.kinds) <= FEW else ()
    folded = [each for each in question.values if each[0] not in open_kinds]
    use_of = drawing_of(request).use
    return CircuitsTold(
        action=action,
        only=capital(only),
        kinds=tuple(
            KindChoice(
                slug, capital(kind), kind in question.kinds, _address(f"{PLACE}/{slug}", question.only(kind))
            )
            for kind, slug in SLUGS.items()
        ),
        ohms=question.ohms,
        spread=question.spread,
        faults=faults,
        parts=tuple(circuit_part(question, kind, faults) for kind in open_kinds),
        hidden=tuple((f"{SLUGS[kind]}.{key}", text) for kind, key, text in folded),
        few=FEW,
        most=MOST_ASKED,
        sentence="" if faults else answered(replace(question, spread=""), use_of).sentence,
        told=Markup() if faults else told_of(request, question, _is_part(request), whole),
        files=() if faults else file_links(question, ohms),
        lesser=_address(action, moved(question, ohms, 0.1)) if ohms and not faults else "",
        greater=_address(action, moved(question, ohms, 10)) if ohms and not faults else "",
        here=_address(action, question),
        beside=_address(PLACE, question),
    )


def _address(page: str, question: CircuitQuestion) -> str:
    """The address of `page` about `question`; the page of one circuit names that itself."""
    query = question.query() if page == PLACE else question.plain_query()
    return f"{page}?{query}" if query else page
