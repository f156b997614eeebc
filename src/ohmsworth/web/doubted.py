"""Readings that came later and are doubtful: told on the first page, study by study, until somebody has looked at each."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import Response

from ohmsworth.web.at_hand import desk_of, shop_of
from ohmsworth.web.pages import Fragment, Page, show
from ohmsworth.web.today import MOST_OPEN
from ohmsworth.work.taken_reading import TakenReading

pages = APIRouter()


@dataclass(frozen=True, slots=True)
class OfStudy:
    """The readings of one study that are to be looked at."""

    number: int
    title: str
    readings: tuple[TakenReading, ...]


@dataclass(frozen=True, kw_only=True)
class DoubtedPart(Fragment):
    """For the first page, which does not wait for the logs of all studies."""

    template: ClassVar[str] = "doubted_part.html.j2"

    studies: tuple[OfStudy, ...]


@dataclass(frozen=True, kw_only=True)
class Doubted(Page):
    """The same as a page, for a browser without scripts."""

    template: ClassVar[str] = "doubted.html.j2"
    place: ClassVar[str] = "Today"

    studies: tuple[OfStudy, ...]


@pages.get("/studies/doubted")
def doubted(request: Request) -> Response:
    """Those of the studies that the first page lists as open."""
    desk, found = desk_of(request), []
    for card in shop_of(request).records.cards("study", state="open", most=MOST_OPEN):
        readings = desk.state(card.number).doubted
        if readings:
            found.append(OfStudy(card.number, card.face.title, readings))
    if request.headers.get("hx-request") == "true":
        return show(request, DoubtedPart(studies=tuple(found)))
    return show(request, Doubted(title="Readings to look at", studies=tuple(found)))
