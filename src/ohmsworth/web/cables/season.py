"""A season of cables: how many were right at once, what was wrong, and whether connectors and conductors drift."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar, get_args
from urllib.parse import urlencode

from fastapi import APIRouter, Request
from fastapi.responses import Response
from markupsafe import Markup

from ohmsworth.web.at_hand import go_to, shop_of
from ohmsworth.web.cables.frame import cable_desk
from ohmsworth.web.drawing import inline_answer, picture_answer, report_fragment, to_keep
from ohmsworth.web.pages import Page, show
from ohmsworth.work.records import CardFigures

if TYPE_CHECKING:
    from ohmsworth.work.builds.season import Season

pages = APIRouter(prefix="/cables/season")
LONGEST = 200


@dataclass(frozen=True, kw_only=True)
class SeasonPage(Page):
    """The season inside the page; `asked` is how the page and its files are asked for again."""

    template: ClassVar[str] = "cable_season.html.j2"
    place: ClassVar[str] = "Cables"

    by: str
    lengths: tuple[str, ...]
    search: str
    found: int
    unread: int
    asked: str
    report: Markup


@pages.get("")
def season(request: Request, by: str = "week", search: str = "") -> Response:
    """The season of all cables that `search` finds, by week or by month."""
    from ohmsworth.work.builds.season import By
    from ohmsworth.work.builds.season_words import season_report

    found, told = _told(request, by, search)
    asked = urlencode({"by": told.by, "search": search[:LONGEST]})
    report = report_fragment(
        request,
        season_report(told),
        lambda name: f"/cables/season/pictures/{name}?{asked}",
        # Every cable that is measured makes them new, and each takes as long as all the rest of the page.
        later=lambda name: f"/cables/season/drawn/{name}?{asked}",
    )
    page = SeasonPage(
        title="A season of cables",
        by=told.by,
        lengths=get_args(By),
        search=search[:LONGEST],
        found=len(found),
        unread=told.unread,
        asked=asked,
        report=report,
    )
    return show(request, page)


@pages.get("/pictures/{name}")
def picture(request: Request, name: str, by: str = "week", search: str = "") -> Response:
    """A picture of the season, or its numbers."""
    from ohmsworth.work.builds.season_words import season_report

    return picture_answer(request, season_report(_told(request, by, search)[1]), name)


@pages.get("/drawn/{name}")
def drawn_picture(request: Request, name: str, by: str = "week", search: str = "") -> Response:
    """A picture for the inside of the page, which fetches it when it is looked at."""
    from ohmsworth.work.builds.season_words import season_report

    return inline_answer(request, season_report(_told(request, by, search)[1]), name)


@pages.get("/cables.csv")
def cables(request: Request, search: str = "") -> Response:
    """The cables one by one."""
    from ohmsworth.work.builds.season_csv import season_csv

    return to_keep("\ufeff" + season_csv(_found(request, search)), "text/csv; charset=utf-8", "cables.csv")


@pages.post("/anew")
def worked_out(request: Request) -> Response:
    """Work the figures out of cables that were measured before the records kept any."""
    from ohmsworth.work.builds.season import anew

    anew(cable_desk(request))
    return go_to("/cables/season")


def _found(request: Request, search: str) -> Sequence[CardFigures]:
    return shop_of(request).records.figures_of("cable", search=search[:LONGEST])


def _told(request: Request, by: str, search: str) -> tuple[Sequence[CardFigures], Season]:
    from ohmsworth.work.builds.season import season_of

    found = _found(request, search)
    return found, season_of(found, "month" if by == "month" else "week")
