"""Readings by meter at the bench: begun, looked at, turned by hand, stopped."""

from __future__ import annotations

import contextlib
from dataclasses import dataclass, replace
from typing import ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, Response

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.readings.entry import Entry, Sign
from ohmsworth.web.at_hand import desk_of, shop_of, study_state, who
from ohmsworth.web.bench_form import BenchForm, form_of, last_typed, mark_of, read_bench_form
from ohmsworth.web.bench_meters_part import RunPart, run_part, use_ohms
from ohmsworth.web.bench_page import Now, Shown
from ohmsworth.web.bench_show import after_taking, answered, draft_here, now_of, same_step
from ohmsworth.web.forms import Posted
from ohmsworth.web.instruments_at_hand import meters_of, runs_of
from ohmsworth.web.pages import Fragment, drawn
from ohmsworth.work.bench_meters import BenchMeters
from ohmsworth.work.current_source import CurrentSource
from ohmsworth.work.drafts import read_draft
from ohmsworth.work.instruments import MayStillBeOn
from ohmsworth.work.keep_read import keeper
from ohmsworth.work.meter_run import Plan, Run, RunState
from ohmsworth.work.read_meters import FORMS, SETTLE_SECONDS, Meters
from ohmsworth.work.study_log import StudyState

pages = APIRouter(prefix="/studies/{study}/bench")
#: Seconds within which a reading is answered at once; a longer one is looked at again and again.
AT_ONCE = 0.8
SEQUENCES: dict[str, tuple[Sign, ...]] = {
    "reversal": FORMS["reversal"],
    "three": FORMS["three"],
    "zero": ("0", "+"),
}


@dataclass(frozen=True, kw_only=True)
class BenchRun(Fragment):
    """What is being read."""

    template: ClassVar[str] = "bench_run.html.j2"

    run: RunPart


@pages.post("/meters")
def read(request: Request, study: int, sent: Posted) -> Response:
    """Read the meters, once or in a sequence."""
    shop, state = shop_of(request), study_state(request, study)
    form, key = read_bench_form(sent), sent.text("key") or shop.new_key()
    try:
        drafted = read_draft(
            draft_here(request, study, state, form, who(request)),
            mark_of(request),
            shop.clock(),
            typed=False,
        )
        plan = _plan(request, study, state, form, key, sent.text("read"), drafted.entry)
        keep = keeper(shop, desk_of(request), study, who(request))
        run = Run(plan, keep, shop.clock, shop.new_key, meters_of(request).ports.turn)
        run = runs_of(request).begin(run)
    except InputRefused as refused:
        shown = Shown(faults=refused.faults)
        return answered(
            request, study, same_step(request, study, study_state(request, study), form, key, shown), 422
        )
    run.wait(AT_ONCE)
    return _answer(request, study, run)


def _plan(
    request: Request, study: int, state: StudyState, form: BenchForm, key: str, wanted: str, about: Entry
) -> Plan:
    """What is to be read; nothing is opened yet."""
    meters = meters_of(request)
    ohms = use_ohms(meters, state, form)
    if not meters.able(ohms):
        what = "a resistance" if ohms else "voltage and current"
        mend = "Connect one on the page of the meters, or type what it shows."
        raise InputRefused((Fault("meters", "none that is connected", f"one that reads {what}", mend),))
    about = replace(about, polarity=about.polarity or "+")
    signs = SEQUENCES.get(wanted, (about.polarity,)) if not ohms else (about.polarity,)
    last = last_typed(state)

    def open_meters() -> tuple[Meters, dict[str, str]]:
        meters.ports.connect(about.specimen)
        return meters.for_reading(ohms, last.current if last is not None else None)

    plan = Plan(
        key,
        study,
        about,
        signs,
        open_meters,
        settle=SETTLE_SECONDS if len(signs) > 1 else 0.0,
    )
    if ohms or "source" not in meters.connections():
        return plan
    on = meters.source.state()
    return replace(
        plan,
        source=lambda: _held(meters, key),
        level=meters.source.level().value,
        settle=meters.source.settle(),
        stays_on=on is not None and on.output == "on" and len(signs) == 1,
    )


def _held(meters: BenchMeters, key: str) -> CurrentSource:
    source = meters.source.opened()
    if source.state().output == "off":
        meters.source.hold(key)
    return source


@pages.get("/reading")
def reading(request: Request, study: int, run: str = "", after: int = -1) -> Response:
    """What is being read now; nothing where nothing has happened since `after`, and the bench again when it has ended."""
    last = runs_of(request).last()
    if last is None or last.plan.study != study or last.plan.key != run:
        return _ended(request, answered(request, study, now_of(request, study, ""), event=""))
    if last.state().version <= after and not last.state().over:
        return Response(status_code=204)
    return _answer(request, study, last, part=True)


@pages.post("/reading/turned")
def turned(request: Request, study: int) -> Response:
    """The person has turned the current."""
    run = runs_of(request).under_way(study)
    if run is None:
        return answered(request, study, now_of(request, study, ""))
    run.turned()
    return _answer(request, study, run)


@pages.post("/reading/stop")
def stop(request: Request, study: int) -> Response:
    """Stop, and switch the current off; what was read is kept."""
    run = runs_of(request).under_way(study)
    if run is None:
        return answered(request, study, now_of(request, study, ""))
    with contextlib.suppress(MayStillBeOn):  # the page says it, for as long as it is so
        run.stop()
    run.join(AT_ONCE)
    return _answer(request, study, run)


def _answer(request: Request, study: int, run: Run, part: bool = False) -> Response:
    """The run as it is, or what became of it; `part` where only the run's own part of the page is asked for."""
    state = run.state()
    if state.over:
        leading = _after(request, study, run, state)
        answer = answered(request, study, leading, event="taken" if state.kept else "")
        return _ended(request, answer) if part else answer
    if part and request.headers.get("hx-request") == "true":
        headers = {"HX-Trigger": "taken"} if state.kept else {}
        return HTMLResponse(drawn(request, BenchRun(run=run_part(state, run.plan))), headers=headers)
    return answered(request, study, now_of(request, study, ""), event="taken" if state.kept else "")


def _ended(request: Request, answer: Response) -> Response:
    """The whole leading part in the place of the run's own."""
    if request.headers.get("hx-request") == "true":
        answer.headers["HX-Retarget"] = "#now"
        answer.headers["HX-Reswap"] = "outerHTML"
    return answer


def _after(request: Request, study: int, run: Run, state: RunState) -> Now:
    """What leads when it is over: the doubtful reading, the same step again, or the next one."""
    words = state.why
    if state.kept and (words or state.faults):
        count = len(state.kept)
        words = f"{words} {count} {'reading is' if count == 1 else 'readings are'} kept.".strip()
    if state.asked is not None:
        entry, key, taken = state.asked
        return same_step(
            request, study, study_state(request, study), form_of(entry), key, Shown(taken=taken, words=words)
        )
    if not state.kept:
        form, key = form_of(run.plan.about), shop_of(request).new_key()
        return same_step(
            request, study, study_state(request, study), form, key, Shown(faults=state.faults, words=words)
        )
    shown = Shown(taken=state.kept[-1], faults=state.faults, words=words)
    return after_taking(request, study, study_state(request, study), form_of(run.plan.about), shown)
