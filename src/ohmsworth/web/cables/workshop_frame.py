"""What stands on every page of the workshop: its turns, and what answers about orders."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar, cast

from fastapi import Request

from ohmsworth.web.at_hand import shop_of
from ohmsworth.web.cables.frame import cable_desk
from ohmsworth.web.pages import Page, Place

if TYPE_CHECKING:
    from ohmsworth.work.workshop.orders import OrderDesk

ORDER, REELS, PRICES = "/cables/order", "/cables/reels", "/cables/prices"
_TURNS = (("Order", ORDER), ("Reels", REELS), ("Prices", PRICES))


@dataclass(frozen=True, kw_only=True)
class WorkshopPage(Page):
    """A page about what is to be built."""

    place: ClassVar[str] = "Cables"

    turns: tuple[Place, ...]


def workshop_turns(here: str) -> tuple[Place, ...]:
    """The turns, of which the page at the address `here` is one."""
    return tuple(Place(label, address, address == here) for label, address in _TURNS)


def order_desk(request: Request) -> OrderDesk:
    """Orders laid out for planning; made when the first one is asked for, since it brings the computing along."""
    if request.app.state.orders is None:
        from ohmsworth.work.workshop.orders import OrderDesk

        request.app.state.orders = OrderDesk(shop_of(request), cable_desk(request))
    return cast("OrderDesk", request.app.state.orders)
