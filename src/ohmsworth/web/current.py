"""The current source from a page: on with a page that holds it, renewed by it, and off from everywhere."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import PlainTextResponse, Response

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.web.at_hand import go_to, shop_of
from ohmsworth.web.faults import Refused
from ohmsworth.web.forms import Posted
from ohmsworth.web.instruments_at_hand import meters_of, runs_of
from ohmsworth.web.pages import Fragment, show
from ohmsworth.web.source_part import SourcePart, source_part
from ohmsworth.work.bench_source import read_level
from ohmsworth.work.instruments import InstrumentFault, MayStillBeOn

pages = APIRouter(prefix="/meters")
LIVE = "/meters/live"


@dataclass(frozen=True, kw_only=True)
class SourceAlone(Fragment):
    """The source's part of a page."""

    template: ClassVar[str] = "source_part.html.j2"

    source: SourcePart


@pages.get("/source/part")
def part(request: Request, back: str = LIVE) -> Response:
    """The source as it is now."""
    key = shop_of(request).new_key()
    return show(request, SourceAlone(source=source_part(meters_of(request), source_page(back), "", key)))


@pages.get("/words")
def words(request: Request) -> Response:
    """What every page says while the current is on, or may be; nothing when it is off."""
    said = meters_of(request).source.words()
    return PlainTextResponse(said) if said else Response(status_code=204)


@pages.post("/source/on")
def switch_on(request: Request, sent: Posted) -> Response:
    """Switch on for as long as the page that asked for it is there."""
    meters, back = meters_of(request), source_page(sent.text("back"))
    holder = sent.text("holder") or shop_of(request).new_key()
    faults: tuple[Fault, ...] = ()
    try:
        run = runs_of(request).last()
        if run is not None and not run.state().over:
            mend = "Wait until it has ended, or stop it there."
            raise InputRefused((Fault("current source", "a reading under way", "none", mend),))
        meters.source.switch_on(read_level(sent.text("level")), holder)
    except InputRefused as refused:
        faults = refused.faults
    except InstrumentFault as error:
        faults = (error.fault,)
    if faults:
        page = Refused(
            title="The current is not switched on",
            words=meters.source.words(),
            faults=faults,
            back=back,
            back_words="Back",
        )
        return show(request, page, 422)
    return go_to(f"{back}?holder={holder}")


@pages.post("/source/renew")
def renew(request: Request, sent: Posted) -> Response:
    """The page is still there; 410 where there is nothing to be renewed."""
    return Response(status_code=204 if meters_of(request).source.renew(sent.text("holder")) else 410)


@pages.post("/off")
def off(request: Request, sent: Posted) -> Response:
    """Switch off at once; a page that is `leaving` ends only what it has switched on itself."""
    source, leaving = meters_of(request).source, sent.text("leaving")
    try:
        if leaving:
            source.leave(leaving)
            return Response(status_code=204)
        run = runs_of(request).last()
        if run is not None and not run.state().over:
            run.stop()
        source.switch_off()
    except MayStillBeOn as error:
        page = Refused(title=source.words() or error.fault.mend, faults=(error.fault,), back=LIVE)
        return show(request, page, 502)
    return go_to(source_page(sent.text("back")))


def source_page(address: str) -> str:
    """The address, where it is one of the pages with a source on it."""
    parts = address.split("/")
    if len(parts) == 4 and parts[1] == "studies" and parts[2].isascii() and parts[2].isdigit():
        return f"/studies/{parts[2]}/bench"
    return LIVE
