"""A study's question: asked on a plain form, changed on the same form or in its text, closed and opened again."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import Response

from ohmsworth.consequence import USE_KINDS
from ohmsworth.errors import Fault, InputRefused
from ohmsworth.materials import PLATINGS
from ohmsworth.readings.plan_request import ASSIGNMENTS
from ohmsworth.web.at_hand import desk_of, go_to, shop_of, study_state, who
from ohmsworth.web.forms import Posted, Sent
from ohmsworth.web.instruments_at_hand import meters_of
from ohmsworth.web.pages import Page, show
from ohmsworth.web.study_frame import StudyPage, study_frame
from ohmsworth.work.make_study import make_study, plain_sheet, with_reference
from ohmsworth.work.meter_cards import with_meters
from ohmsworth.work.shop_settings import read_settings, with_default_meters
from ohmsworth.work.study_cards import change_question, close_study, lay_sheet, open_again
from ohmsworth.work.study_form import MeterForm, StudyForm, UseForm

pages = APIRouter()

#: Uses that are offered by a tick; one with a measured lead needs a file beside study.toml.
OFFERED_USES = tuple(kind for kind in USE_KINDS if kind != "measured lead")
ASSIGNMENT_WORDS = {
    "separate": "each condition has specimens of its own",
    "either order": "the same specimens in every condition, in any order",
    "before and after": "the same specimens, treated in between",
}


@dataclass(frozen=True, kw_only=True)
class NewStudy(Page):
    """The form for a new question."""

    template: ClassVar[str] = "new_study.html.j2"
    place: ClassVar[str] = "Studies"

    form: StudyForm
    faults: Mapping[str, str]
    others: tuple[str, ...]
    uses: tuple[str, ...]
    platings: tuple[str, ...]
    assignments: Mapping[str, str]
    key: str


@dataclass(frozen=True, kw_only=True)
class Question(StudyPage):
    """The question of a study, to be looked at and changed."""

    template: ClassVar[str] = "question.html.j2"

    form: StudyForm
    faults: Mapping[str, str]
    others: tuple[str, ...]
    uses: tuple[str, ...]
    platings: tuple[str, ...]
    assignments: Mapping[str, str]
    text: str
    key: str
    steps: int
    taken: int


@pages.get("/studies/new")
def ask(request: Request) -> Response:
    """The empty form."""
    shop = shop_of(request)
    form = StudyForm(conditions=("new", "tarnished"), specimens="3", matings="2")
    form = with_default_meters(form, read_settings(shop.records))
    form = with_meters(form, shop.records, meters_of(request).connections())
    return show(request, _new_page(request, form, (), shop.new_key()))


@pages.post("/studies/new")
def asked(request: Request, sent: Posted) -> Response:
    """Put the question into the records and go to the bench."""
    shop, form, key = shop_of(request), read_study_form(sent), sent.text("key") or shop_of(request).new_key()
    try:
        study = make_study(shop, form, who(request), key)
    except InputRefused as refused:
        return show(request, _new_page(request, form, refused.faults, key), 422)
    return go_to(f"/studies/{study}/bench")


def _new_page(request: Request, form: StudyForm, faults: tuple[Fault, ...], key: str) -> NewStudy:
    by_field, others = _sorted(request, faults)
    return NewStudy(
        title="A new question",
        form=form,
        faults=by_field,
        others=others,
        uses=OFFERED_USES,
        platings=tuple(PLATINGS),
        assignments=ASSIGNMENT_WORDS,
        key=key,
    )


def _sorted(request: Request, faults: tuple[Fault, ...]) -> tuple[dict[str, str], tuple[str, ...]]:
    """What is said beside each field, and what belongs to none."""
    by_field: dict[str, str] = {}
    others = []
    for fault in faults:
        field = shop_of(request).field_of(fault) or fault.where
        words = f"Found {fault.found}; expected {fault.expected}. {fault.mend}"
        if field.split(".")[0] in StudyForm.__dataclass_fields__:
            by_field[field] = words
        else:
            others.append(f"{fault.where}: {words}")
    return by_field, tuple(others)


def read_study_form(sent: Sent, before: StudyForm | None = None) -> StudyForm:
    """The form as it was filled in; `before` gives the settings of circuits that the form does not show."""
    conditions = tuple(
        " ".join(line.split()) for line in sent.text("conditions").splitlines() if line.strip()
    )
    known = {use.kind: use for use in before.uses} if before else {}
    uses = tuple(known.get(kind, UseForm(kind)) for kind in sent.every.get("uses", ()) if kind in USE_KINDS)
    assignment = sent.text("assignment")

    def meter(name: str) -> MeterForm:
        return MeterForm(sent.text(f"{name}.accuracy"), sent.text(f"{name}.resolution"))

    return StudyForm(
        question=sent.text("question"),
        conditions=conditions,
        reference=sent.text("reference"),
        limit=sent.text("limit"),
        limit_source=sent.text("limit_source"),
        margin=sent.text("margin"),
        scale=sent.text("scale"),
        plating=sent.text("plating"),
        uses=uses,
        voltmeter=meter("voltmeter"),
        ammeter=meter("ammeter"),
        ohmmeter=meter("ohmmeter"),
        open_circuit_voltage=sent.text("open_circuit_voltage"),
        check_name=sent.text("check_name"),
        check_value=sent.text("check_value"),
        check_uncertainty=sent.text("check_uncertainty"),
        specimens=sent.text("specimens"),
        matings=sent.text("matings"),
        reversal=sent.text("reversal") != "",
        assignment=assignment if assignment in ASSIGNMENTS else "",
        seed=sent.text("seed"),
    )


@pages.get("/studies/{study}/question")
def question(request: Request, study: int) -> Response:
    """The question as it stands."""
    return show(request, _question_page(request, study, None, None, ()))


def _question_page(
    request: Request, study: int, form: StudyForm | None, text: str | None, faults: tuple[Fault, ...]
) -> Question:
    shop, state = shop_of(request), study_state(request, study)
    by_field, others = _sorted(request, faults)
    return Question(
        title=f"Question of study {study}",
        study=study_frame(study, state, "Question"),
        form=form or shop.form_of(state.question),
        faults=by_field,
        others=others,
        uses=OFFERED_USES,
        platings=tuple(PLATINGS),
        assignments=ASSIGNMENT_WORDS,
        text=state.question if text is None else text,
        key=shop.new_key(),
        steps=len(state.sheet),
        taken=len(state.counted),
    )


@pages.post("/studies/{study}/question")
def change(request: Request, study: int, sent: Posted) -> Response:
    """Write the question anew, from the form or from its text; or lay a new sheet; or close the study, or open it again."""
    shop, state, by = shop_of(request), study_state(request, study), who(request)
    key, reason, wanted = sent.text("key") or shop.new_key(), sent.text("reason"), sent.text("change")
    if wanted == "close":
        close_study(shop, study, reason, by, key)
    elif wanted == "open":
        open_again(shop, study, reason, by, key)
    else:
        form = text = None
        if wanted == "text":
            text = sent.first.get("toml", "").replace("\r\n", "\n")
        else:
            before = shop.form_of(state.question)
            form = with_reference(read_study_form(sent, before))
            text = shop.revise_question(state.question, form)
        try:
            desk_of(request).read(study, replace(state, question=text))
            sheet = plain_sheet(form) if wanted == "sheet" and form is not None else None
        except InputRefused as refused:
            return show(request, _question_page(request, study, form, text, refused.faults), 422)
        if text != state.question:
            change_question(shop, study, text, reason, by, key)
        if sheet is not None:
            lay_sheet(shop, study, sheet, reason, by, f"{key}.sheet")
    return go_to(f"/studies/{study}/question")
