"""What is kept, and where: how much it is, whether it is sound, and the copies of it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import FileResponse, Response
from starlette.exceptions import HTTPException

from ohmsworth.web.aside import packed
from ohmsworth.web.at_hand import go_to, keeping_of, shop_of
from ohmsworth.web.copies import Copies, copies_of, copy_folder
from ohmsworth.web.office import need_office
from ohmsworth.web.pages import Page, show
from ohmsworth.work.backups import DAILY, MONTHLY, copy_name, make_copy, moment_of

pages = APIRouter(prefix="/records")
SQLITE = "application/vnd.sqlite3"


@dataclass(frozen=True, kw_only=True)
class RecordsPage(Page):
    """The page; `checked` after it was looked over, with everything that is `wrong`."""

    template: ClassVar[str] = "records.html.j2"
    place: ClassVar[str] = "Records"

    where: str
    studies: int
    readings: int
    cards: int
    empty: bool
    copies: Copies
    daily: int
    monthly: int
    checked: bool
    wrong: tuple[str, ...]


@pages.get("")
def records(request: Request, made: str = "", restored: int = 0) -> Response:
    """What is kept."""
    notice = ""
    if made and moment_of(made) is not None:
        notice = f"A copy of everything was made: {made}."
    elif 0 < restored < 10**9:
        notice = f"The records were filled: {restored} cards are in them."
    return show(request, _page(request, notice=notice))


def _page(
    request: Request, *, notice: str = "", checked: bool = False, wrong: tuple[str, ...] = ()
) -> RecordsPage:
    kept = shop_of(request).records
    cards, studies = kept.count(), kept.count("study")
    return RecordsPage(
        title="Records",
        notice=notice,
        where=keeping_of(request).place,
        studies=studies,
        readings=kept.count_readings(),
        cards=cards - studies,
        empty=not cards and not kept.settings(),
        copies=copies_of(request),
        daily=DAILY,
        monthly=MONTHLY,
        checked=checked,
        wrong=wrong,
    )


@pages.post("/check")
def check(request: Request) -> Response:
    """Look everything over; a thread of its own does it, so that readings go on."""
    wrong = shop_of(request).records.check()
    notice = "" if wrong else "The records were looked over: everything in them is sound."
    return show(request, _page(request, notice=notice, checked=True, wrong=wrong))


@pages.post("/backup")
def back_up(request: Request) -> Response:
    """Make a copy in the folder of copies."""
    need_office(request)
    shop = shop_of(request)
    made = make_copy(shop.records, copy_folder(request), shop.clock())
    return go_to(f"/records?made={made.name.replace(' ', '%20')}")


@pages.get("/backup/now")
def download(request: Request) -> Response:
    """A copy to be kept on another machine."""
    need_office(request)
    shop = shop_of(request)
    return packed(request, shop.records.back_up, copy_name(shop.clock()), SQLITE)


@pages.get("/backup/copies/{name}")
def earlier(request: Request, name: str) -> Response:
    """One of the copies in the folder."""
    need_office(request)
    if moment_of(name) is None:
        raise HTTPException(404)
    path = copy_folder(request).path(name)
    if not path.is_file():
        raise HTTPException(404)
    return FileResponse(path, media_type=SQLITE, filename=name)
