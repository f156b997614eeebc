"""Everything that the records hold as files, with or without what cards say of people."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, ClassVar

from fastapi import APIRouter, Query, Request
from fastapi.responses import Response

from ohmsworth.web.aside import packed
from ohmsworth.web.at_hand import keeping_of, shop_of
from ohmsworth.web.office import need_office
from ohmsworth.web.pages import Page, show
from ohmsworth.work.cards.log import AWAY
from ohmsworth.work.export_shop import export_shop
from ohmsworth.work.leave_out import ABOUT_PEOPLE
from ohmsworth.work.records import Card

pages = APIRouter(prefix="/records/export")
#: Cards that can be chosen from on one page, of each kind.
MOST = 2000


@dataclass(frozen=True, kw_only=True)
class ExportPage(Page):
    """What may be left out."""

    template: ClassVar[str] = "records_export.html.j2"
    place: ClassVar[str] = "Records"

    people: tuple[Card, ...]


@pages.get("")
def choose(request: Request) -> Response:
    """Everything, or without chosen cards."""
    need_office(request)
    records = shop_of(request).records
    found = [card for kind in ABOUT_PEOPLE for card in records.cards(kind, most=MOST)]
    people = tuple(card for card in found if card.face.state in ("open", AWAY))
    return show(request, ExportPage(title="Everything as files", people=people))


@pages.get("/shop.zip")
def whole(request: Request, without: Annotated[list[int] | None, Query()] = None) -> Response:
    """The zip file, written to disk first and sent from there."""
    need_office(request)
    shop, keeping = shop_of(request), keeping_of(request)
    files = export_shop(shop.records, keeping.shop_format(), without or ())
    name = f"shop-{shop.clock():%Y-%m-%d}.zip"
    return packed(request, lambda path: keeping.write_zip(path, files), name)
