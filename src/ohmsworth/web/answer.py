"""The whole answer of a study, and the report that is handed over."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import Response
from markupsafe import Markup

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.report.answer import as_json
from ohmsworth.report.document import Document
from ohmsworth.report.papers.letter import Sender, letter
from ohmsworth.report.particulars import dated, with_particulars
from ohmsworth.web.aside import packed
from ohmsworth.web.at_hand import desk_of, keeping_of, shop_of, study_state
from ohmsworth.web.drawing import drawing_of, picture_answer, report_fragment, to_keep
from ohmsworth.web.pages import show
from ohmsworth.web.study_frame import StudyPage, readings_of, study_frame
from ohmsworth.work.answer_record import answer_record, steps_left
from ohmsworth.work.export_study import export_study
from ohmsworth.work.particulars import record_particulars
from ohmsworth.work.results import READINGS, TAKES
from ohmsworth.work.shop_settings import read_settings, signed
from ohmsworth.work.study_lines import rows_of, takes_in_file
from ohmsworth.work.study_log import StudyState

pages = APIRouter(prefix="/studies/{study}")


@dataclass(frozen=True, kw_only=True)
class WholeAnswer(StudyPage):
    """The report inside the page; `faults` where the readings cannot be answered yet."""

    template: ClassVar[str] = "answer.html.j2"

    report: Markup
    faults: tuple[Fault, ...]
    taken: int


@dataclass(frozen=True, kw_only=True)
class Report(StudyPage):
    """What can be handed over."""

    template: ClassVar[str] = "report.html.j2"

    sentence: str
    faults: tuple[Fault, ...]
    left: int
    tables: tuple[str, ...]


@pages.get("/answer")
def answer(request: Request, study: int) -> Response:
    """The sentence first, its evidence below it, the method last."""
    desk, state = desk_of(request), study_state(request, study)
    report = Markup()
    faults: tuple[Fault, ...] = ()
    try:
        document = answer_record(desk, study, state).report
        report = report_fragment(
            request,
            document,
            lambda name: f"/studies/{study}/pictures/{name}",
            reading_at=readings_of(study, state),
        )
    except InputRefused as refused:
        faults = refused.faults
    page = WholeAnswer(
        title=f"Answer of study {study}",
        study=study_frame(study, state, "Answer"),
        report=report,
        faults=faults,
        taken=len(rows_of(state)),
    )
    return show(request, page)


@pages.get("/report")
def report(request: Request, study: int) -> Response:
    """The ways of handing it over."""
    desk, state = desk_of(request), study_state(request, study)
    sentence = ""
    faults: tuple[Fault, ...] = ()
    try:
        sentence = answer_record(desk, study, state).answer.sentence
    except InputRefused as refused:
        faults = refused.faults
    left = steps_left(state)
    frame = study_frame(study, state, "Report")
    page = Report(
        title=f"Report of study {study}",
        study=frame,
        sentence=sentence,
        faults=faults,
        left=left,
        tables=_tables(state),
    )
    return show(request, page)


def _tables(state: StudyState) -> tuple[str, ...]:
    """What the folder of the study holds beside its question."""
    return (*((READINGS,) if state.counted else ()), *((TAKES,) if takes_in_file(state) else ()))


@pages.get("/pictures/{name}")
def picture(request: Request, study: int, name: str) -> Response:
    """A picture of the report, or its numbers."""
    told = answer_record(desk_of(request), study, study_state(request, study))
    return picture_answer(request, told.report, name)


@pages.get("/report.pdf")
def pdf(request: Request, study: int) -> Response:
    """The report as a PDF."""
    content = drawing_of(request).pdf(_handed_over(request, study), shop_of(request).clock())
    return to_keep(content, "application/pdf", f"study-{study}.pdf")


@pages.get("/report.html")
def html(request: Request, study: int) -> Response:
    """The report as one page that needs nothing else."""
    return to_keep(
        drawing_of(request).html(_handed_over(request, study)),
        "text/html; charset=utf-8",
        f"study-{study}.html",
    )


@pages.get("/letter.txt")
def letter_text(request: Request, study: int) -> Response:
    """A letter to the customer, to be edited."""
    state, shop = study_state(request, study), shop_of(request)
    told = answer_record(desk_of(request), study, state)
    settings = read_settings(shop.records)
    sender = Sender(settings.shop_name, settings.shop_address)
    text = letter(told.answer, record_particulars(shop, state), sender, shop.clock().astimezone().date())
    return to_keep(text, "text/plain; charset=utf-8", f"letter-{study}.txt")


def _handed_over(request: Request, study: int) -> Document:
    """The report of today with how it was measured, every reading, and the shop's name."""
    state, shop = study_state(request, study), shop_of(request)
    told = answer_record(desk_of(request), study, state)
    whole = with_particulars(told.report, record_particulars(shop, state))
    return signed(dated(whole, shop.clock().astimezone().date()), read_settings(shop.records))


@pages.get("/answer.json")
def data(request: Request, study: int) -> Response:
    """The answer as data."""
    import json

    told = answer_record(desk_of(request), study, study_state(request, study))
    text = json.dumps(as_json(told.answer), ensure_ascii=False, indent=2, allow_nan=False)
    return to_keep(text, "application/json", f"study-{study}.json")


@pages.get("/folder.zip")
def folder(request: Request, study: int) -> Response:
    """The study's folder with its whole log, as the command line answers it and the records take it in again."""
    shop, keeping = shop_of(request), keeping_of(request)
    files = export_study(shop.records, study, shop.folder_of, keeping.record_files)
    named = [(f"study-{study}/{name}", content) for name, content in sorted(files.items())]
    return packed(request, lambda path: keeping.write_zip(path, named), f"study-{study}.zip")
