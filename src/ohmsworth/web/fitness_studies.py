"""Choosing the study of repeatability by which the bench is known: an ordinary study in which several people read."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import Response

from ohmsworth.web.at_hand import desk_of, go_to, shop_of, who
from ohmsworth.web.fitness_asked import PLACE
from ohmsworth.web.forms import Posted
from ohmsworth.web.pages import Page, show
from ohmsworth.work.records import NoSuchCard
from ohmsworth.work.shop_fitness import REPEATABILITY

pages = APIRouter(prefix=f"{PLACE}/studies")
EACH = 20


@dataclass(frozen=True, slots=True)
class Repeated:
    """A study that might show repeatability: who read in it, and how much."""

    number: int
    title: str
    state: str
    operators: tuple[str, ...]
    readings: int
    chosen: bool


@dataclass(frozen=True, kw_only=True)
class FitnessStudies(Page):
    """Studies to choose from, the last worked on first."""

    template: ClassVar[str] = "fitness_studies.html.j2"
    place: ClassVar[str] = "Bench fitness"

    studies: tuple[Repeated, ...]
    search: str
    count: int
    first: int
    each: int


@pages.get("")
def studies(request: Request, search: str = "", first: int = 0) -> Response:
    """The list."""
    records, search, first = shop_of(request).records, search[:200], max(first, 0)
    chosen = records.settings().get(REPEATABILITY, "")
    found = []
    for card in records.cards("study", search=search, first=first, most=EACH):
        counted = desk_of(request).state(card.number).counted
        people = tuple(dict.fromkeys(one.entry.operator for one in counted if one.entry.operator))
        found.append(
            Repeated(
                card.number,
                card.face.title,
                card.face.state,
                people,
                len(counted),
                str(card.number) == chosen,
            )
        )
    page = FitnessStudies(
        title="Which study shows the bench's repeatability?",
        studies=tuple(found),
        search=search,
        count=records.count("study", search=search),
        first=first,
        each=EACH,
    )
    return show(request, page)


@pages.post("")
def choose(request: Request, sent: Posted) -> Response:
    """Let the bench be known by a study from now on, or by none."""
    records, study = shop_of(request).records, sent.number("study")
    if study is not None and records.card(study).kind != "study":
        raise NoSuchCard(f"Card no. {study} is no study.")
    records.write_setting(REPEATABILITY, "" if study is None else str(study), who(request))
    return go_to(PLACE)
