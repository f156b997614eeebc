"""Today: what is open, what is due, and who is at the bench."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta
from typing import TYPE_CHECKING, ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import Response

from ohmsworth.web.at_hand import desk_of, go_to, shop_of
from ohmsworth.web.copies import copies_told
from ohmsworth.web.forms import Posted
from ohmsworth.web.pages import Page, show
from ohmsworth.web.persons import COOKIE, YEAR, as_cookie
from ohmsworth.work.records import Card
from ohmsworth.work.shop_settings import read_settings

if TYPE_CHECKING:
    from ohmsworth.work.shop_fitness import Day

pages = APIRouter()
#: Open studies that are listed.
MOST_OPEN = 12
#: More check standards than this are not all read every day.
MOST_STANDARDS = 4


@dataclass(frozen=True, kw_only=True)
class Today(Page):
    """The first page of the day."""

    template: ClassVar[str] = "today.html.j2"
    place: ClassVar[str] = "Today"

    open_studies: tuple[Card, ...]
    due: tuple[Card, ...]
    overdue: frozenset[int]
    ahead: int
    copies: str
    checks: tuple[Day, ...]


@dataclass(frozen=True, kw_only=True)
class Who(Page):
    """Who is at the bench: the name that stands beside every reading."""

    template: ClassVar[str] = "who.html.j2"

    people: tuple[str, ...]
    who: str
    back: str


@pages.get("/")
def today(request: Request) -> Response:
    """What is open and what is due."""
    shop = shop_of(request)
    now = shop.clock().date()
    ahead = read_settings(shop.records).ahead
    due = shop.records.cards(due_by=now + timedelta(days=ahead), most=30)
    return show(
        request,
        Today(
            title="Today",
            open_studies=shop.records.cards("study", state="open", most=MOST_OPEN),
            due=due,
            overdue=frozenset(
                card.number for card in due if card.face.due is not None and card.face.due < now
            ),
            ahead=ahead,
            copies=copies_told(request),
            checks=_days(request),
        ),
    )


def _days(request: Request) -> tuple[Day, ...]:
    """What the day's checks say; what judges them is loaded only where there is a check standard."""
    shop = shop_of(request)
    if not shop.records.count("check standard", state="open"):
        return ()
    from ohmsworth.work.shop_fitness import day_of
    from ohmsworth.work.standards import standards

    found = standards(shop.records)[:MOST_STANDARDS]
    return tuple(day_of(shop, desk_of(request), one) for one in found)


def _people(request: Request) -> tuple[str, ...]:
    return tuple(sorted(card.face.title for card in shop_of(request).records.cards("person", state="open")))


@pages.get("/who")
def who_page(request: Request) -> Response:
    """Ask who is at the bench; a sign-in has said it already."""
    if getattr(request.state, "account", None):
        return go_to("/me")
    return show(
        request,
        Who(title="Who is at the bench?", people=_people(request), who=request.state.who, back="/"),
    )


@pages.post("/who")
def say_who(sent: Posted) -> Response:
    """Remember who is at this bench."""
    answer = go_to("/")
    answer.set_cookie(COOKIE, as_cookie(sent.text("who")), max_age=YEAR, httponly=True, samesite="strict")
    return answer
