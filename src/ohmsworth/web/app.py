"""The application: every page group joined, behind one guard."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

from fastapi import FastAPI
from starlette.staticfiles import StaticFiles

from ohmsworth.web.aside import Aside
from ohmsworth.web.door.admission import Admission
from ohmsworth.web.door.callers import Door
from ohmsworth.web.door.offers import offers_to
from ohmsworth.web.drawing import style_pages
from ohmsworth.web.faults import answer_faults
from ohmsworth.web.groups import FIRST_GROUPS, PAGE_GROUPS, PROGRAM_GROUPS, group_named
from ohmsworth.web.guard import Guard
from ohmsworth.web.instruments_at_hand import put_instruments
from ohmsworth.web.later import Rest, RestFirst
from ohmsworth.web.pages import STATIC
from ohmsworth.web.persons import WhoIsThere
from ohmsworth.work.drawing import NO_DRAWING, Drawing
from ohmsworth.work.instrument_ports import NO_INSTRUMENTS, InstrumentPorts
from ohmsworth.work.keeping import NO_KEEPING, Keeping
from ohmsworth.work.papers.kept.ports import NO_PAPERS, PaperPorts
from ohmsworth.work.shop import Shop
from ohmsworth.work.study_desk import Desk

if TYPE_CHECKING:
    from ohmsworth.work.record_take import RecordingPorts


@dataclass(frozen=True, slots=True)
class Serving:
    """How the bench is served.

    Parameters
    ----------
    hosts
        Names by which browsers may call it.
    typeface
        Folder of the typeface's files.
    drawing
        The writers that draw reports.
    instruments
        What opens meters and sources.
    secret
        By which a second start of the program knows this one; "" where none may ask.
    keeping
        What takes records out and in.
    papers
        What issues and verifies the papers of cables.
    door
        Who is let in; None for everybody who can reach it.
    recording
        Gives what plays and records takes over frequency; None for a bench without.
    lazily
        Load most pages when they are first asked for.
    """

    hosts: frozenset[str]
    typeface: Path
    drawing: Drawing = field(default=NO_DRAWING)
    instruments: InstrumentPorts = field(default=NO_INSTRUMENTS)
    secret: str = ""
    keeping: Keeping = field(default=NO_KEEPING)
    papers: PaperPorts = field(default=NO_PAPERS)
    door: Door | None = None
    recording: Callable[[], RecordingPorts] | None = None
    lazily: bool = False


def _include_rest(app: FastAPI) -> None:
    for name in PAGE_GROUPS:
        app.include_router(group_named(name), include_in_schema=False)
    for name in PROGRAM_GROUPS:
        app.include_router(group_named(name))


def create_app(shop: Shop, serving: Serving) -> FastAPI:
    """The bench as an ASGI application over the ports in `shop`."""
    app = FastAPI(title="Ohmsworth", docs_url=None, redoc_url=None, openapi_url=None)
    app.state.shop, app.state.desk = shop, Desk(shop)
    app.state.cables, app.state.orders, app.state.papers = None, None, serving.papers
    app.state.drawing = serving.drawing
    app.include_router(style_pages, include_in_schema=False)
    app.state.secret = serving.secret
    app.state.door = serving.door
    app.state.offers_to = offers_to
    app.state.signing_in = serving.door is not None and serving.door.sign_ins is not None
    #: Called in turn when the serving has ended and before the records are closed: a source is switched off here.
    app.state.at_end = []
    put_instruments(app, serving.instruments, shop.records)
    app.state.recording, app.state.recorder = serving.recording, None
    app.state.keeping, app.state.aside = serving.keeping, Aside()
    app.state.at_end.append(app.state.aside.close)
    app.mount("/static/type", StaticFiles(directory=serving.typeface))
    app.mount("/static", StaticFiles(directory=STATIC))
    for name in FIRST_GROUPS:
        app.include_router(group_named(name), include_in_schema=False)
    app.state.rest = Rest(lambda: _include_rest(app))
    if not serving.lazily:
        app.state.rest.load()
    answer_faults(app)

    app.add_middleware(Admission, door=serving.door)
    app.add_middleware(WhoIsThere)
    app.add_middleware(RestFirst, rest=app.state.rest, clock=shop.clock)
    app.add_middleware(Guard, hosts=serving.hosts)
    return app
