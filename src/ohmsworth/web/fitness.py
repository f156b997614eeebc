"""Bench fitness: the check standard over all studies and days, and what the bench can tell."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from functools import partial
from typing import ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import Response
from markupsafe import Markup

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.web.at_hand import desk_of, go_to, shop_of, who
from ohmsworth.web.drawing import drawing_of, picture_answer, report_fragment, to_keep
from ohmsworth.web.fitness_asked import PLACE, FitnessAsked, chosen_standard, read_asked
from ohmsworth.web.forms import Posted
from ohmsworth.web.pages import Page, Place, show
from ohmsworth.work.cards.choices import choices
from ohmsworth.work.cards.said import LimitCard
from ohmsworth.work.cards.writing import write_note
from ohmsworth.work.report_fitness import ToldFitness
from ohmsworth.work.shop_fitness import Day, day_of, tell_fitness
from ohmsworth.work.standards import since_setting, standards

pages = APIRouter(prefix=PLACE)


@dataclass(frozen=True, kw_only=True)
class BenchFitness(Page):
    """The verdict of the day, the report below it, and what can be asked of the bench."""

    template: ClassVar[str] = "fitness.html.j2"
    place: ClassVar[str] = "Bench fitness"

    day: Day | None
    turns: tuple[Place, ...]
    report: Markup
    faults: tuple[Fault, ...]
    standard: int | None
    since: date | None
    study: int | None
    study_title: str
    limit: str
    limit_fault: str
    limits: tuple[tuple[str, str], ...]
    pdf: str
    html: str
    without_study: str
    key: str


@pages.get("")
def fitness(request: Request) -> Response:
    """Whether the bench is fit today, and what it can tell."""
    asked = read_asked(request)
    shop, standard, study = shop_of(request), asked.asked.standard, asked.asked.study
    report = Markup()
    faults: tuple[Fault, ...] = ()
    if (standard is not None or study is not None) and not asked.limit_fault:
        report, faults = _report(request, asked)
    page = BenchFitness(
        title="Is the bench fit?",
        day=day_of(shop, desk_of(request), standard) if standard is not None else None,
        turns=_turns(asked),
        report=report,
        faults=faults,
        standard=standard.card if standard is not None else None,
        since=standard.since if standard is not None else None,
        study=study,
        study_title=shop.records.card(study).face.title if study is not None else "",
        limit=asked.limit_text,
        limit_fault=asked.limit_fault,
        limits=_limits(request),
        pdf=asked.address(f"{PLACE}/report.pdf"),
        html=asked.address(f"{PLACE}/report.html"),
        without_study=asked.address(study="none"),
        key=shop.new_key(),
    )
    return show(request, page, 422 if asked.limit_fault else 200)


def _told(request: Request, asked: FitnessAsked) -> ToldFitness:
    return tell_fitness(shop_of(request), desk_of(request), asked.asked)


def _report(request: Request, asked: FitnessAsked) -> tuple[Markup, tuple[Fault, ...]]:
    """The report; where the study of repeatability is at fault, its faults, and what the check standard says alone."""
    faults: tuple[Fault, ...] = ()
    for one in (asked, replace(asked, asked=replace(asked.asked, study=None))):
        try:
            document = _told(request, one).report
        except InputRefused as refused:
            faults = faults or refused.faults
            continue
        drawn = report_fragment(request, document, partial(_picture, one))
        return drawn if one.asked.standard or one.asked.study else Markup(), faults
    return Markup(), faults


def _picture(asked: FitnessAsked, name: str) -> str:
    return asked.address(f"{PLACE}/pictures/{name}")


def _turns(asked: FitnessAsked) -> tuple[Place, ...]:
    """The check standards, where there are several."""
    here = asked.asked.standard
    found = tuple(
        Place(one.said.name, asked.address(standard=str(one.card)), one == here) for one in asked.known
    )
    return found if len(found) > 1 else ()


def _limits(request: Request) -> tuple[tuple[str, str], ...]:
    """The limits of the shop as they are typed, with their names."""
    cards = choices(shop_of(request).records, "limit")
    return tuple((one.typed("resistance"), one.label) for one in cards if isinstance(one.said, LimitCard))


@pages.get("/pictures/{name}")
def picture(request: Request, name: str) -> Response:
    """A picture of the report, or its numbers."""
    return picture_answer(request, _told(request, read_asked(request)).report, name)


@pages.get("/report.pdf")
def pdf(request: Request) -> Response:
    """The report as a PDF."""
    told = _told(request, read_asked(request))
    content = drawing_of(request).pdf(told.report, shop_of(request).clock())
    return to_keep(content, "application/pdf", "bench-fitness.pdf")


@pages.get("/report.html")
def html(request: Request) -> Response:
    """The report as one page that needs nothing else."""
    told = _told(request, read_asked(request))
    return to_keep(drawing_of(request).html(told.report), "text/html; charset=utf-8", "bench-fitness.html")


@pages.post("/anew")
def begin_anew(request: Request, sent: Posted) -> Response:
    """Chart a check standard from today on, because something was changed for good; the earlier checks stay."""
    shop = shop_of(request)
    standard = chosen_standard(standards(shop.records), sent.text("standard"))
    reason = sent.text("reason")
    if standard is None or str(standard.card) != sent.text("standard") or not reason:
        mend = "Say in a few words what was changed: it stands on the check standard's card."
        raise InputRefused((Fault("the charts", "no reason", "why they begin anew", mend),))
    today = shop.clock().astimezone().date().isoformat()
    words = f"Its charts begin anew on {today}: {reason}"
    write_note(shop, standard.card, words, who(request), sent.text("key") or shop.new_key())
    shop.records.write_setting(since_setting(standard.card), today, who(request))
    return go_to(f"{PLACE}?standard={standard.card}")
