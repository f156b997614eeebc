"""What the page about circuits tells of a question, and the parts of it that are fetched later because they take long."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, Response
from markupsafe import Markup

from ohmsworth.report.document import Document
from ohmsworth.report.meaning_pages import meaning_page
from ohmsworth.web.circuit_question import FEW, CircuitQuestion, answered, read_question
from ohmsworth.web.drawing import drawing_of, inline_answer, picture_answer, report_fragment
from ohmsworth.web.pages import Fragment, drawn
from ohmsworth.work.drawing import FillUse

pages = APIRouter()
PLACE = "/circuits"
LADDER = "ladder.svg"
#: Ladder and thresholds, before the circuits one by one.
FIRST = 2


@dataclass(frozen=True, kw_only=True)
class CircuitsLater(Fragment):
    """What stands in the place of the circuits one by one until they are there."""

    template: ClassVar[str] = "circuits_later.html.j2"

    address: str
    whole: str


def told_of(request: Request, question: CircuitQuestion, at_once: bool, whole: str) -> Markup:
    """What is told of a question without faults.

    Parameters
    ----------
    request
        What is answered.
    question
        Of many circuits only the ladder and the thresholds are told. Where contacts scatter, many sets of them are put
        into each circuit: that is left for later.
    at_once
        Whether the ladder is drawn at once, because what it takes the place of is shown meanwhile.
    whole
        The address of the page with nothing left for later, for a browser without script; "" where that was asked for.
    """
    scattered = bool(question.spread) and _few(question) and bool(whole)
    document = _document(replace(question, spread="") if scattered else question, drawing_of(request).use)
    if scattered:
        document = replace(document, sections=document.sections[:FIRST])
    told = _fragment(request, document, question, at_once)
    if not scattered:
        return told
    later = CircuitsLater(address=f"{PLACE}/scattered?{question.query()}", whole=whole)
    return told + Markup(drawn(request, later))  # noqa: S704 - drawn by an escaping template


def _fragment(
    request: Request, document: Document, question: CircuitQuestion, at_once: bool, first: int = 1
) -> Markup:
    query = question.query()
    return report_fragment(
        request,
        document,
        lambda name: f"{PLACE}/pictures/{name}?{query}",
        anchors=tuple(f"part-{first + number}" for number in range(len(document.sections))),
        later=lambda name: "" if at_once and name == LADDER else f"{PLACE}/drawn/{name}?{query}",
    )


@pages.get(PLACE + "/scattered")
def scattered(request: Request) -> Response:
    """The circuits one by one, with contacts that scatter."""
    question = read_question(request.query_params.multi_items())
    document = _document(question, drawing_of(request).use)
    circuits = replace(document, sections=document.sections[FIRST:])
    return HTMLResponse(_fragment(request, circuits, question, False, FIRST + 1))


@pages.get(PLACE + "/pictures/{name}")
def picture(request: Request, name: str) -> Response:
    """A file of one of the pictures."""
    return picture_answer(request, _asked_document(request, name), name)


@pages.get(PLACE + "/drawn/{name}")
def drawing_later(request: Request, name: str) -> Response:
    """One of the pictures for the page itself."""
    return inline_answer(request, _asked_document(request, name), name)


def _asked_document(request: Request, name: str) -> Document:
    question = read_question(request.query_params.multi_items())
    if name.startswith("ladder."):  # the same however contacts scatter, and there sooner
        question = replace(question, spread="")
    return _document(question, drawing_of(request).use)


def _document(question: CircuitQuestion, use_of: FillUse) -> Document:
    """What is told of a question: of many circuits no more than their thresholds, so that no contact need be drawn."""
    few = _few(question)
    return meaning_page(answered(question if few else replace(question, spread=""), use_of), few)


def _few(question: CircuitQuestion) -> bool:
    return 0 < len(question.kinds) <= FEW
