"""A study's question: asked on a plain form, changed on the same form or in its text, closed and opened again."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import Response

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.web.at_hand import desk_of, go_to, shop_of, study_state, who
from ohmsworth.web.forms import Posted, Sent
from ohmsworth.web.instruments_at_hand import meters_of
from ohmsworth.web.pages import Page, show
from ohmsworth.web.question_form import (
    Choosing,
    Planned,
    choosing,
    read_picked,
    read_plan,
    read_study_form,
    sorted_faults,
)
from ohmsworth.web.study_frame import StudyPage, study_frame
from ohmsworth.work.closed import refuse_closed
from ohmsworth.work.how_many import how_many
from ohmsworth.work.make_study import link_names, make_study, plain_sheet, with_reference
from ohmsworth.work.meter_cards import with_meters
from ohmsworth.work.picked_cards import offered, with_cards
from ohmsworth.work.shop_settings import read_settings, with_default_meters
from ohmsworth.work.study_again import do_again, want_retest
from ohmsworth.work.study_cards import change_question, close_study, lay_sheet, name_job, open_again
from ohmsworth.work.study_form import StudyForm
from ohmsworth.work.study_log import StudyState
from ohmsworth.work.tone_files import PLAN

pages = APIRouter()


@dataclass(frozen=True, kw_only=True)
class NewStudy(Page):
    """The form for a new question."""

    template: ClassVar[str] = "new_study.html.j2"
    place: ClassVar[str] = "Studies"

    form: StudyForm
    faults: Mapping[str, str]
    others: tuple[str, ...]
    choosing: Choosing
    key: str


@dataclass(frozen=True, kw_only=True)
class Question(StudyPage):
    """The question of a study, to be looked at and changed."""

    template: ClassVar[str] = "question.html.j2"

    form: StudyForm
    faults: Mapping[str, str]
    others: tuple[str, ...]
    choosing: Choosing
    text: str
    key: str
    steps: int
    taken: int
    job: int | None
    retest: date | None


@pages.get("/studies/new")
def ask(request: Request) -> Response:
    """The empty form."""
    shop = shop_of(request)
    form = StudyForm(conditions=("new", "tarnished"), specimens="3", matings="2")
    form = with_default_meters(form, read_settings(shop.records))
    form = with_meters(form, shop.records, meters_of(request).connections())
    return show(request, _new_page(request, form, choosing(request), (), shop.new_key()))


@pages.post("/studies/new")
def asked(request: Request, sent: Posted) -> Response:
    """Put the question into the records and go to the bench; or say how many specimens it needs."""
    shop, form, key = shop_of(request), read_study_form(sent), sent.text("key") or shop_of(request).new_key()
    picked, known = read_picked(sent), offered(shop.records)
    planned = Planned(read_plan(sent))
    try:
        form = with_cards(form, picked, known)
        if sent.text("change") == "plan":
            form, planned = _planned(request, form, planned)
            return show(request, _new_page(request, form, choosing(request, picked, planned, known), (), key))
        study = make_study(shop, form, who(request), key, int(picked["job"]) if picked["job"] else None)
    except InputRefused as refused:
        chosen = choosing(request, picked, planned, known)
        return show(request, _new_page(request, form, chosen, refused.faults, key), 422)
    return go_to(f"/studies/{study}/bench")


def _planned(request: Request, form: StudyForm, planned: Planned) -> tuple[StudyForm, Planned]:
    """The form with the numbers of the cheapest plan; raises InputRefused."""
    found = how_many(shop_of(request), desk_of(request), form, planned.plan)
    return found.form, Planned(planned.plan, found.answer.sentence, found.answer.findings)


def _new_page(
    request: Request, form: StudyForm, chosen: Choosing, faults: tuple[Fault, ...], key: str
) -> NewStudy:
    by_field, others = sorted_faults(request, faults)
    return NewStudy(
        title="A new question", form=form, faults=by_field, others=others, choosing=chosen, key=key
    )


@pages.get("/studies/{study}/question")
def question(request: Request, study: int) -> Response:
    """The question as it stands."""
    return show(request, _question_page(request, study, None, None, ()))


def _question_page(
    request: Request,
    study: int,
    form: StudyForm | None,
    text: str | None,
    faults: tuple[Fault, ...],
    chosen: Choosing | None = None,
) -> Question:
    shop, state = shop_of(request), study_state(request, study)
    by_field, others = sorted_faults(request, faults)
    return Question(
        title=f"Question of study {study}",
        study=study_frame(study, state, "Question"),
        form=form or shop.form_of(state.question),
        faults=by_field,
        others=others,
        choosing=replace(chosen or choosing(request), takes=_has_takes(state)),
        text=state.question if text is None else text,
        key=shop.new_key(),
        steps=len(state.sheet),
        taken=len(state.counted),
        job=state.job,
        retest=state.retest,
    )


def _has_takes(state: StudyState) -> bool:
    """Whether takes are kept, or their tones are planned."""
    return bool(state.takes) or any(one.beside and one.name == PLAN for one in state.files)


@pages.post("/studies/{study}/question")
def change(request: Request, study: int, sent: Posted) -> Response:
    """Write the question anew, from the form or from its text; lay a new sheet; or do what else is done to a study."""
    state, wanted = study_state(request, study), sent.text("change")
    if wanted in ("close", "open", "job", "retest", "again"):
        return _done(request, study, state, sent)
    refuse_closed(state)
    if wanted == "text":
        text = sent.first.get("toml", "").replace("\r\n", "\n")
        return _written(request, study, state, sent, text)
    return _from_form(request, study, state, sent)


def _done(request: Request, study: int, state: StudyState, sent: Sent) -> Response:
    """What leaves the question as it is."""
    shop, by, wanted = shop_of(request), who(request), sent.text("change")
    key, reason = sent.text("key") or shop.new_key(), sent.text("reason")
    if wanted == "close":
        close_study(shop, study, reason, by, key)
    elif wanted == "open":
        open_again(shop, study, reason, by, key)
    elif wanted == "again":
        return go_to(f"/studies/{do_again(shop, study, state, by, key)}/bench")
    try:
        if wanted == "job":
            job = sent.text("job")
            with_cards(StudyForm(), {"job": job if job != str(state.job) else ""}, offered(shop.records))
            name_job(shop, study, int(job) if job else None, by, key)
        elif wanted == "retest":
            want_retest(shop, study, sent.text("retest"), reason, by, key)
    except InputRefused as refused:
        return show(request, _question_page(request, study, None, None, refused.faults), 422)
    return go_to(f"/studies/{study}/question")


def _written(request: Request, study: int, state: StudyState, sent: Sent, text: str) -> Response:
    """The question as its text says it."""
    shop = shop_of(request)
    try:
        desk_of(request).read(study, replace(state, question=text))
    except InputRefused as refused:
        return show(request, _question_page(request, study, None, text, refused.faults), 422)
    if text != state.question:
        key = sent.text("key") or shop.new_key()
        change_question(shop, study, text, sent.text("reason"), who(request), key)
    return go_to(f"/studies/{study}/question")


def _from_form(request: Request, study: int, state: StudyState, sent: Sent) -> Response:
    """The question as the form says it, with a new sheet where that is wanted; or how many specimens it needs."""
    shop, by, wanted = shop_of(request), who(request), sent.text("change")
    key, reason = sent.text("key") or shop.new_key(), sent.text("reason")
    form = read_study_form(sent, shop.form_of(state.question))
    picked, known = read_picked(sent), offered(shop.records)
    planned = Planned(read_plan(sent))
    try:
        form = with_reference(with_cards(form, picked, known))
        if wanted == "plan":
            form, planned = _planned(request, form, planned)
            chosen = choosing(request, picked, planned, known)
            return show(request, _question_page(request, study, form, None, (), chosen))
        text = shop.revise_question(state.question, form)
        desk_of(request).read(study, replace(state, question=text))
        sheet = plain_sheet(form) if wanted == "sheet" else None
    except InputRefused as refused:
        chosen = choosing(request, picked, planned, known)
        return show(request, _question_page(request, study, form, None, refused.faults, chosen), 422)
    if text != state.question:
        change_question(shop, study, text, reason, by, key)
    if sheet is not None:
        lay_sheet(shop, study, sheet, reason, by, f"{key}.sheet")
        link_names(shop, study, form, by, key)
    return go_to(f"/studies/{study}/question")
