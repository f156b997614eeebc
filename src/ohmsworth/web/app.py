"""The application: every page group joined, behind one guard."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

from fastapi import FastAPI
from starlette.staticfiles import StaticFiles

from ohmsworth.web import circuit_files, circuit_report, circuits, studies, today
from ohmsworth.web.drawing import style_pages
from ohmsworth.web.faults import answer_faults
from ohmsworth.web.guard import Guard
from ohmsworth.web.pages import STATIC
from ohmsworth.web.persons import WhoIsThere
from ohmsworth.work.drawing import NO_DRAWING, Drawing
from ohmsworth.work.shelf import Shelf
from ohmsworth.work.shop import Shop

PAGE_GROUPS = (
    today.pages,
    studies.pages,
    circuit_files.file_pages,
    circuit_report.report_pages,
    circuits.pages,
)


def _never_on() -> str:
    return ""


@dataclass(frozen=True, slots=True)
class Serving:
    """How the bench is served.

    Parameters
    ----------
    hosts
        Names by which browsers may call it.
    typeface
        Folder of the typeface's files.
    current_on
        Gives what is to be said while a source's current is on, else "".
    drawing
        The writers that draw reports.
    """

    hosts: frozenset[str]
    typeface: Path
    current_on: Callable[[], str] = field(default=_never_on)
    drawing: Drawing = field(default=NO_DRAWING)


def create_app(shop: Shop, serving: Serving) -> FastAPI:
    """The bench as an ASGI application over the ports in `shop`."""
    app = FastAPI(title="Ohmsworth", docs_url=None, redoc_url=None, openapi_url=None)
    app.state.shop, app.state.shelf = shop, Shelf(shop.records)
    app.state.current_on, app.state.drawing = serving.current_on, serving.drawing
    app.include_router(style_pages, include_in_schema=False)
    app.mount("/static/type", StaticFiles(directory=serving.typeface))
    app.mount("/static", StaticFiles(directory=STATIC))
    for group in PAGE_GROUPS:
        app.include_router(group, include_in_schema=False)
    answer_faults(app)

    app.add_middleware(WhoIsThere)
    app.add_middleware(Guard, hosts=serving.hosts)
    return app
