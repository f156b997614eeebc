"""What can be taken away from the page about circuits: the report, and a circuit for other programs."""

from __future__ import annotations

from dataclasses import dataclass

from fastapi import APIRouter, Request
from fastapi.responses import Response
from starlette.exceptions import HTTPException

from ohmsworth.consequence.kinds import kind_of
from ohmsworth.report.meaning_pages import meaning_report
from ohmsworth.units import show_stated
from ohmsworth.web.at_hand import shop_of
from ohmsworth.web.circuit_question import (
    FEW,
    KINDS,
    SLUGS,
    CircuitQuestion,
    answered,
    read_question,
    understood,
)
from ohmsworth.web.drawing import drawing_of, to_keep
from ohmsworth.work.circuit_files import netlist_of, two_port_of
from ohmsworth.work.shop_settings import read_settings, signed
from ohmsworth.work.uses import made_uses

pages = APIRouter()
PLACE = "/circuits/files"
_REPORT = "what-a-milliohm-does"


@dataclass(frozen=True, slots=True)
class FileLink:
    """A file that can be taken away."""

    label: str
    address: str


def file_links(question: CircuitQuestion, ohms: tuple[float, ...]) -> tuple[FileLink, ...]:
    """The files about `question`: reports, and of few circuits each for other programs."""
    query = question.query()
    asked = f"?{query}" if query else ""
    links = [
        FileLink("The report (PDF)", f"{PLACE}/{_REPORT}.pdf{asked}"),
        FileLink("The report (one page, HTML)", f"{PLACE}/{_REPORT}.html{asked}"),
    ]
    contacts = f"{show_stated(ohms[0], 'Ω')} in every contact" if ohms else "ideal contacts"
    for kind in question.kinds if len(question.kinds) <= FEW else ():
        found = kind_of(kind)
        if found.path or found.signal:
            links.append(FileLink(f"{kind}, {contacts}: netlist", f"{PLACE}/{SLUGS[kind]}.cir{asked}"))
        if found.path:
            links.append(
                FileLink(f"{kind}, {contacts}: cable as a two-port", f"{PLACE}/{SLUGS[kind]}.s2p{asked}")
            )
    return tuple(links)


@pages.get(PLACE + "/{name}")
def circuit_file(request: Request, name: str) -> Response:
    """One of the files of `file_links`."""
    question = read_question(request.query_params.multi_items())
    stem, _, kind = name.rpartition(".")
    if stem == _REPORT and kind in ("pdf", "html"):
        return _report(request, question, kind)
    if stem in KINDS and KINDS[stem] in question.kinds and kind in ("cir", "s2p"):
        return _for_programs(request, question.only(KINDS[stem]), kind)
    raise HTTPException(404)


def _report(request: Request, question: CircuitQuestion, kind: str) -> Response:
    drawing = drawing_of(request)
    report = signed(meaning_report(answered(question, drawing.use)), read_settings(shop_of(request).records))
    if kind == "pdf":
        content = drawing.pdf(report, shop_of(request).clock())
        return to_keep(content, "application/pdf", f"{_REPORT}.pdf")
    return to_keep(drawing.html(report), "text/html; charset=utf-8", f"{_REPORT}.html")


def _for_programs(request: Request, question: CircuitQuestion, kind: str) -> Response:
    """The circuit with the first resistance in every contact."""
    drawing = drawing_of(request)
    answered(question, drawing.use)  # refuses what is at fault
    meant = understood(question, drawing.use)
    (use,) = made_uses(meant.uses)
    ohm = meant.ohms[0] if meant.ohms else 0.0
    name = f"{SLUGS[use.kind]}.{kind}"
    if kind == "cir":
        return to_keep(netlist_of(use, ohm), "text/plain; charset=utf-8", name)
    return to_keep(drawing.touchstone(*two_port_of(use, ohm)), "text/plain", name)
