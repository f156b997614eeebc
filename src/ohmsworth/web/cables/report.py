"""The report of a cable, and everything that is handed over: PDF, page, answer as data, the folder."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import Response
from markupsafe import Markup

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.report.answer import as_json
from ohmsworth.report.document import Document
from ohmsworth.report.particulars import dated
from ohmsworth.web.aside import packed
from ohmsworth.web.at_hand import keeping_of, shop_of
from ohmsworth.web.cables.frame import CablePage, cable_desk, cable_frame
from ohmsworth.web.drawing import drawing_of, picture_answer, report_fragment, to_keep
from ohmsworth.web.pages import show
from ohmsworth.web.papers.at_hand import papers_at
from ohmsworth.work.cable_study import tell_cable
from ohmsworth.work.paper_lines import paper_files
from ohmsworth.work.shop_settings import read_settings, signed

pages = APIRouter(prefix="/cables/{cable}")


@dataclass(frozen=True, kw_only=True)
class CableReport(CablePage):
    """The report inside the page; `faults` where the folder cannot be read."""

    template: ClassVar[str] = "cable_report.html.j2"

    report: Markup
    faults: tuple[Fault, ...]


@pages.get("/report")
def report(request: Request, cable: int) -> Response:
    """The verdict first, every wire, the method last."""
    desk = cable_desk(request)
    frame = cable_frame(desk, cable, desk.state(cable), "Report")
    drawn, faults = Markup(), tuple[Fault, ...]()
    try:
        drawn = report_fragment(
            request, _document(request, cable), lambda name: f"/cables/{cable}/pictures/{name}"
        )
    except InputRefused as refused:
        faults = refused.faults
    return show(
        request, CableReport(title=f"Report of {frame.name}", cable=frame, report=drawn, faults=faults)
    )


def _document(request: Request, cable: int) -> Document:
    desk = cable_desk(request)
    return tell_cable(desk.answer(desk.state(cable))).report


def _handed_over(request: Request, cable: int) -> Document:
    """The report of today in the shop's name."""
    shop = shop_of(request)
    day = shop.clock().astimezone().date()
    return signed(dated(_document(request, cable), day), read_settings(shop.records))


@pages.get("/pictures/{name}")
def picture(request: Request, cable: int, name: str) -> Response:
    """A picture of the report, or its numbers."""
    return picture_answer(request, _document(request, cable), name)


@pages.get("/report.pdf")
def pdf(request: Request, cable: int) -> Response:
    """The report as a PDF."""
    content = drawing_of(request).pdf(_handed_over(request, cable), shop_of(request).clock())
    return to_keep(content, "application/pdf", f"cable-{cable}.pdf")


@pages.get("/report.html")
def html(request: Request, cable: int) -> Response:
    """The report as one page that needs nothing else."""
    content = drawing_of(request).html(_handed_over(request, cable))
    return to_keep(content, "text/html; charset=utf-8", f"cable-{cable}.html")


@pages.get("/answer.json")
def data(request: Request, cable: int) -> Response:
    """The answer as data."""
    desk = cable_desk(request)
    told = as_json(desk.answer(desk.state(cable)))
    text = json.dumps(told, ensure_ascii=False, indent=2, allow_nan=False)
    return to_keep(text, "application/json", f"cable-{cable}.json")


@pages.get("/folder.zip")
def folder(request: Request, cable: int) -> Response:
    """The folder with cable.toml and test.csv, as the command line judges it."""
    desk, keeping = cable_desk(request), keeping_of(request)
    state = desk.state(cable)
    files = desk.teller.files(state)
    files |= paper_files(state, lambda line: desk.records.content(cable, line), papers_at(request).name_file)
    named = [(f"cable-{cable}/{name}", content) for name, content in sorted(files.items())]
    return packed(request, lambda path: keeping.write_zip(path, named), f"cable-{cable}.zip")
