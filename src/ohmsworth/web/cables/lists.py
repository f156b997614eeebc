"""The workshop's lists: the reels in stock and the shop's prices, each written once and changed where it stands."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import Response
from markupsafe import Markup

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.report.document import Document, Section, Table
from ohmsworth.web.at_hand import go_to, shop_of, who
from ohmsworth.web.cables.workshop_frame import PRICES, REELS, WorkshopPage, workshop_turns
from ohmsworth.web.drawing import report_fragment, to_keep
from ohmsworth.web.forms import Posted
from ohmsworth.web.pages import show
from ohmsworth.work.records import Line
from ohmsworth.work.workshop.lists import FILES, ListName, read_lists

pages = APIRouter()
#: Earlier texts that are shown; all stand in the records.
SHOWN = 20
_ADDRESS: dict[ListName, str] = {"reels": REELS, "prices": PRICES}
_TITLES: dict[ListName, str] = {"reels": "Reels in stock", "prices": "Prices and times"}
_MEDIA: dict[ListName, str] = {"reels": "text/csv; charset=utf-8", "prices": "application/toml"}
_SAID = {
    "cut": "What is left on the reels is written down.",
    "kept": "Written down. What it said before is kept below.",
    "same": "Nothing was changed: it says so already.",
}


@dataclass(frozen=True, kw_only=True)
class ListPage(WorkshopPage):
    """One of the two lists: what it says in tables, its text to be changed, and earlier ones.

    `now` is the line that wrote it, None where nothing is kept; `typed` is what stands in the form, `faults` what is wrong with
    it, and `unreadable` with what is kept.
    """

    template: ClassVar[str] = "cable_list_text.html.j2"

    name: ListName
    address: str
    file: str
    listed: Markup
    typed: str
    reason: str
    seen: int
    key: str
    faults: tuple[Fault, ...]
    unreadable: tuple[Fault, ...]
    now: Line | None
    kept: bool
    earlier: tuple[Line, ...]


@pages.get(REELS)
def reels(request: Request, said: str = "") -> Response:
    """What is in stock."""
    return show(request, _page(request, "reels", _SAID.get(said, "")))


@pages.post(REELS)
def reels_written(request: Request, sent: Posted) -> Response:
    """Write it anew."""
    return _written(request, "reels", sent)


@pages.get(f"{REELS}/{FILES['reels']}")
def reels_file(request: Request) -> Response:
    """The list as a file."""
    return _file(request, "reels")


@pages.get(PRICES)
def prices(request: Request, said: str = "") -> Response:
    """What the shop asks for."""
    return show(request, _page(request, "prices", _SAID.get(said, "")))


@pages.post(PRICES)
def prices_written(request: Request, sent: Posted) -> Response:
    """Write it anew."""
    return _written(request, "prices", sent)


@pages.get(f"{PRICES}/{FILES['prices']}")
def prices_file(request: Request) -> Response:
    """The list as a file."""
    return _file(request, "prices")


def _written(request: Request, name: ListName, sent: Posted) -> Response:
    from ohmsworth.work.builds.writing import Sending
    from ohmsworth.work.workshop.writing import write_list

    shop, file = shop_of(request), sent.files.get("file")
    key, typed, reason = sent.text("key") or shop.new_key(), sent.first.get("text", ""), sent.text("reason")
    try:
        if file is not None:
            typed = shop.workshop.text(file.content, FILES[name])
        new = write_list(shop, name, typed, sent.number("seen") or 0, reason, Sending(who(request), key))
    except InputRefused as refused:
        page = replace(_page(request, name), typed=typed, reason=reason, faults=refused.faults)
        return show(request, page, 422)
    return go_to(f"{_ADDRESS[name]}?said={'kept' if new else 'same'}")


def _file(request: Request, name: ListName) -> Response:
    text = read_lists(shop_of(request).records).named(name).text
    return to_keep(text, _MEDIA[name], FILES[name])


def _drawn(request: Request, title: str, tables: tuple[Table, ...]) -> Markup:
    return report_fragment(
        request, Document(title, "", "en", "", (Section(title, tables),)), lambda name: name
    )


def _page(request: Request, name: ListName, notice: str = "") -> ListPage:
    from ohmsworth.report.workshop.lists import price_tables, reel_tables

    shop = shop_of(request)
    kept = read_lists(shop.records).named(name)
    listed, unreadable = Markup(), tuple[Fault, ...]()
    try:
        if kept.text and name == "reels":
            listed = _drawn(request, "What is there", reel_tables(shop.workshop.reels(kept.text).reels))
        elif kept.text:
            listed = _drawn(request, "What is asked", price_tables(shop.workshop.prices(kept.text)))
    except InputRefused as refused:
        unreadable = refused.faults
    return ListPage(
        title=_TITLES[name],
        notice=notice,
        turns=workshop_turns(_ADDRESS[name]),
        name=name,
        address=_ADDRESS[name],
        file=FILES[name],
        listed=listed,
        typed=kept.text,
        reason="",
        seen=kept.written,
        key=shop.new_key(),
        faults=(),
        unreadable=unreadable,
        now=kept.lines[-1] if kept.lines else None,
        kept=bool(kept.text),
        earlier=tuple(reversed(kept.lines[:-1]))[:SHOWN],
    )
