"""The leading part of the bench, put together from the study and the instruments, alone or inside of its page."""

from __future__ import annotations

from dataclasses import replace
from typing import cast

from fastapi import Request
from fastapi.responses import HTMLResponse, Response

from ohmsworth.errors import InputRefused
from ohmsworth.readings.entry import Entry, Sign
from ohmsworth.web.at_hand import desk_of, shop_of, study_state
from ohmsworth.web.bench_form import BenchForm, draft_of, form_after, form_for, mark_of
from ohmsworth.web.bench_meters_part import meters_part, run_part
from ohmsworth.web.bench_page import Bench, BenchNow, Now, Shown, make_now
from ohmsworth.web.instruments_at_hand import meters_of, runs_of
from ohmsworth.web.pages import drawn, show
from ohmsworth.web.source_part import source_part
from ohmsworth.web.study_frame import study_frame
from ohmsworth.work.columns import Columns, columns_of
from ohmsworth.work.drafts import Draft
from ohmsworth.work.next_step import NextStep, asked_step
from ohmsworth.work.steps import step_for
from ohmsworth.work.study_log import StudyState


def now_of(request: Request, study: int, do: str, shown: Shown | None = None) -> Now:
    """What leads; what is read by meter just now, where that is so."""
    state = study_state(request, study)
    step = step_for(state, do)
    form = form_for(state, columns_asked(request, study, state), step, do)
    leading = _made(request, study, state, step, form, shown or Shown(wanted=do not in ("", "sheet")))
    run = runs_of(request).under_way(study)
    return replace(leading, run=run_part(run.state(), run.plan)) if run is not None else leading


def columns_asked(request: Request, study: int, state: StudyState) -> Columns:
    """What is asked with a reading; the usual where the question cannot be read."""
    desk = desk_of(request)
    try:
        return columns_of(desk.question(study, state), state)
    except InputRefused:
        return Columns()


def draft_here(request: Request, study: int, state: StudyState, form: BenchForm, by: str) -> Draft:
    """What the form of the bench says, in the name of `by`."""
    return draft_of(form, state, columns_asked(request, study, state), by)


def _made(
    request: Request,
    study: int,
    state: StudyState,
    step: NextStep | None,
    form: BenchForm,
    shown: Shown,
    key: str = "",
) -> Now:
    columns = columns_asked(request, study, state)
    leading = make_now(study, state, columns, step, form, key or shop_of(request).new_key(), shown)
    return replace(
        leading,
        by=getattr(request.state, "who", ""),
        meters=meters_part(meters_of(request), state, form),
        comma_said=mark_of(request) == "either",
    )


def after_taking(request: Request, study: int, after: StudyState, form: BenchForm, shown: Shown) -> Now:
    """What leads after a reading was kept; units and temperature stay as they were."""
    step = step_for(after, "" if form.step is not None or not form.free else "on")
    columns = columns_asked(request, study, after)
    return _made(request, study, after, step, form_after(after, columns, step, form), shown)


def same_step(
    request: Request, study: int, state: StudyState, form: BenchForm, key: str, shown: Shown
) -> Now:
    """The same step again, with everything that was typed still there."""
    step = step_for(state, "", form.step) if form.step is not None else _beside(state, form)
    return _made(request, study, state, step, form, shown, key)


def _beside(state: StudyState, form: BenchForm) -> NextStep | None:
    """What a form beside the sheet asks for; None where it does not say of what."""
    if not form.specimen or form.polarity not in ("+", "-", "0", ""):
        return None
    entry = Entry(form.specimen, form.condition, form.contact, form.mating, cast(Sign, form.polarity))
    return asked_step([one.entry for one in state.counted], entry)


def whole_page(request: Request, study: int, leading: Now, status: int = 200, notice: str = "") -> Response:
    """The page."""
    state = study_state(request, study)
    holder, back = request.query_params.get("holder", ""), f"/studies/{study}/bench"
    page = Bench(
        title=f"Bench: study {study}",
        notice=notice,
        study=study_frame(study, state, "Bench"),
        now=leading,
        source=source_part(meters_of(request), back, holder, shop_of(request).new_key()),
    )
    return show(request, page, status)


def answered(request: Request, study: int, leading: Now, status: int = 200, event: str = "taken") -> Response:
    """The fragment for a page that asked for it, with what it tells the rest; the whole page for one without scripts."""
    if request.headers.get("hx-request") != "true":
        return whole_page(request, study, leading, status)
    headers = {"HX-Trigger": event} if status == 200 and event else {}
    return HTMLResponse(drawn(request, BenchNow(now=leading)), status, headers)
