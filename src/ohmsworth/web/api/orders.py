"""Orders of the workshop over JSON: what cables of the records take, the reels in stock and the prices."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Request
from fastapi.responses import JSONResponse
from pydantic import BaseModel, Field, StringConstraints

from ohmsworth.cables.supply import MOST_COPIES
from ohmsworth.report.answer import as_json
from ohmsworth.web.api.forms import After, Key, Name, Number, Strict, Words
from ohmsworth.web.api.studies import REFUSALS
from ohmsworth.web.at_hand import shop_of, who
from ohmsworth.web.cables.workshop_frame import order_desk
from ohmsworth.work.builds.writing import Sending
from ohmsworth.work.workshop.lists import ListName, read_lists
from ohmsworth.work.workshop.orders import MOST_CABLES, Order
from ohmsworth.work.workshop.writing import LONGEST, write_list

pages = APIRouter(prefix="/api/cables", tags=["orders"], responses=REFUSALS)
Copies = Annotated[int, Field(ge=1, le=MOST_COPIES)]


class OrderedCable(Strict):
    """A cable to be built."""

    cable: Number
    copies: Copies | None = Field(None, description="Left out: as many as its description says.")


class LeftOut(Strict):
    """A reel that is not to be cut."""

    wire: Name
    reel: Name


class NewOrder(Strict):
    """What is to be built, and how it is planned."""

    cables: Annotated[list[OrderedCable], Field(min_length=1, max_length=MOST_CABLES)]
    reels: bool = Field(False, description="Plan it from the reels in stock that the records keep.")
    prices: bool = Field(False, description="Say what it comes to by the prices that the records keep.")
    without: Annotated[list[LeftOut], Field(max_length=2000)] = Field(default_factory=list)
    longer: bool = Field(
        False, description="Look up to a minute for a better plan, in place of some seconds."
    )


class NewList(Strict):
    """A list as it is to stand from now on; "" for none. What it said before stays in the records."""

    key: Key
    text: Annotated[str, StringConstraints(max_length=LONGEST)]
    reason: Words = ""
    line: After | None = Field(
        None, description="The line that the caller had read: refused where another one wrote it since."
    )


class ListOut(BaseModel):
    """A list as it stands; `line` is the line of the records' log that wrote it, 0 for none."""

    text: str
    line: int


@pages.post("/order", response_class=JSONResponse)
def order(request: Request, sent: NewOrder) -> JSONResponse:
    """What it takes, as `ohmsworth workshop --json` gives it; nothing is kept of it."""
    asked = Order(
        {one.cable: one.copies for one in sent.cables},
        sent.reels,
        sent.prices,
        frozenset((one.wire, one.reel) for one in sent.without),
        sent.longer,
    )
    desk = order_desk(request)
    return JSONResponse(as_json(desk.tell(desk.lay(asked)).answer))


@pages.get("/reels")
def reels(request: Request) -> ListOut:
    """The reels in stock, as the text of a reels.csv."""
    return _list(request, "reels")


@pages.post("/reels")
def write_reels(request: Request, sent: NewList) -> ListOut:
    """Write them anew; the same key twice does it once."""
    return _written(request, "reels", sent)


@pages.get("/prices")
def prices(request: Request) -> ListOut:
    """Prices and times, as the text of a prices.toml."""
    return _list(request, "prices")


@pages.post("/prices")
def write_prices(request: Request, sent: NewList) -> ListOut:
    """Write them anew; the same key twice does it once."""
    return _written(request, "prices", sent)


def _list(request: Request, name: ListName) -> ListOut:
    kept = read_lists(shop_of(request).records).named(name)
    return ListOut(text=kept.text, line=kept.written)


def _written(request: Request, name: ListName, sent: NewList) -> ListOut:
    shop = shop_of(request)
    seen = read_lists(shop.records).named(name).written if sent.line is None else sent.line
    write_list(shop, name, sent.text, seen, sent.reason, Sending(who(request), sent.key))
    return _list(request, name)
