"""The page of an order: which cables, how many copies, from which reels, at which prices; and what that takes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import Response
from markupsafe import Markup

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.web.at_hand import go_to, shop_of, who
from ohmsworth.web.cables.order_asked import OrderAsked, read_asked, reel_value
from ohmsworth.web.cables.workshop_frame import ORDER, REELS, WorkshopPage, order_desk, workshop_turns
from ohmsworth.web.drawing import report_fragment
from ohmsworth.web.filters import fault_words
from ohmsworth.web.forms import Posted, Sent
from ohmsworth.web.pages import show
from ohmsworth.work.builds.writing import Sending
from ohmsworth.work.records import Card

if TYPE_CHECKING:
    from ohmsworth.work.workshop.order import ToldWorkshop
    from ohmsworth.work.workshop.orders import Laid, OrderDesk

pages = APIRouter(prefix=ORDER)
#: Cables that are offered beside those of the order.
OFFERED = 30
_COPIES = "copies."


@dataclass(frozen=True, slots=True)
class Chosen:
    """A cable of the order, with its copies as they stand in their field."""

    number: int
    name: str
    copies: str
    fault: str


@dataclass(frozen=True, slots=True)
class OfferedReel:
    """A reel that the order may be cut from, as a field of the form."""

    value: str
    wire: str
    name: str
    metres: str
    out: bool


@dataclass(frozen=True, slots=True)
class PlanTold:
    """What came of planning.

    Parameters
    ----------
    title
        What is built.
    report
        The answer inside the page.
    query
        How its files are asked for.
    longer
        The address where the solver has more time; "" where that would be of no use.
    cut
        Stands for the plan where it can be taken off the reels, else "".
    fields
        By which the same is asked again.
    key
        Of the line that takes it off.
    """

    title: str
    report: Markup
    query: str
    longer: str
    cut: str
    fields: tuple[tuple[str, str], ...]
    key: str


@dataclass(frozen=True, kw_only=True)
class OrderPage(WorkshopPage):
    """The form, and the plan where something is ordered.

    `offered` are further cables with how many `search` finds; `reels_kept` and `prices_kept` say what the records hold;
    `faults` are of no field.
    """

    template: ClassVar[str] = "cable_order.html.j2"

    chosen: tuple[Chosen, ...]
    offered: tuple[Card, ...]
    found: int
    search: str
    reels_kept: bool
    reels_used: bool
    prices_kept: bool
    prices_used: bool
    in_stock: tuple[OfferedReel, ...]
    faults: tuple[str, ...]
    plan: PlanTold | None


@pages.get("")
def order(request: Request) -> Response:
    """The form; with cables in the address, what they take."""
    return _answered(request, read_asked(request.query_params.multi_items()))


@pages.post("/cut")
def cut(request: Request, sent: Posted) -> Response:
    """Write what is left on the reels after the plan was cut."""
    from ohmsworth.work.workshop.after import write_cut

    asked = read_asked(_items(sent))
    key = sent.text("key") or shop_of(request).new_key()
    try:
        _, told = planned(request, asked)
        write_cut(shop_of(request), told.answer, sent.text("plan"), Sending(who(request), key))
    except InputRefused as refused:
        return _answered(request, asked, refused.faults)
    return go_to(f"{REELS}?said=cut")


def planned(request: Request, asked: OrderAsked) -> tuple[Laid, ToldWorkshop]:
    """The answer about what is asked; raises InputRefused."""
    desk = order_desk(request)
    lists = desk.lists()
    laid = desk.lay(asked.order(bool(lists.reels.text), bool(lists.prices.text)))
    return laid, desk.tell(laid)


def _items(sent: Sent) -> list[tuple[str, str]]:
    return [(name, value) for name, values in sent.every.items() for value in values]


def _answered(request: Request, asked: OrderAsked, faults: tuple[Fault, ...] = ()) -> Response:
    desk = order_desk(request)
    records, lists = shop_of(request).records, desk.lists()
    names = {cable: desk.called(cable) for cable in asked.cables}  # a card of another kind is no page
    found, plan = list(faults), None
    reels: tuple[OfferedReel, ...] = ()
    if asked.cables:
        try:
            laid, told = planned(request, asked)
            reels, plan = _offered_reels(laid, asked), _told(request, asked, told)
        except InputRefused as refused:
            found += refused.faults
    beside = {fault.where: fault_words(fault) for fault in found if fault.where.startswith(_COPIES)}
    offered = records.cards("cable", search=asked.search, most=OFFERED + len(asked.cables))
    page = OrderPage(
        title="An order for the workshop",
        turns=workshop_turns(ORDER),
        chosen=_chosen(desk, asked, names, beside),
        offered=tuple(card for card in offered if card.number not in names)[:OFFERED],
        found=records.count("cable", search=asked.search),
        search=asked.search,
        reels_kept=bool(lists.reels.text),
        reels_used=asked.reels or not asked.chosen,
        prices_kept=bool(lists.prices.text),
        prices_used=asked.prices or not asked.chosen,
        in_stock=reels,
        faults=tuple(f"{one.where}: {fault_words(one)}" for one in found if one.where not in beside),
        plan=plan,
    )
    return show(request, page, 422 if found else 200)


def _chosen(
    desk: OrderDesk, asked: OrderAsked, names: Mapping[int, str], beside: Mapping[str, str]
) -> tuple[Chosen, ...]:
    typed = dict(asked.copies)
    chosen = []
    for cable, name in names.items():
        copies = typed.get(cable) or str(desk.described_copies(cable) or "")
        chosen.append(Chosen(cable, name, copies, beside.get(f"{_COPIES}{cable}", "")))
    return tuple(chosen)


def _offered_reels(laid: Laid, asked: OrderAsked) -> tuple[OfferedReel, ...]:
    from ohmsworth.report.workshop.words import metres

    return tuple(
        OfferedReel(
            reel_value(reel.stock, reel.name), reel.stock, reel.name, metres(reel.millimetres / 1000),
            (reel.stock, reel.name) in asked.out,
        )
        for reel in laid.in_stock
    )  # fmt: skip


def _told(request: Request, asked: OrderAsked, told: ToldWorkshop) -> PlanTold:
    from ohmsworth.work.workshop.after import plan_mark

    query, answer = asked.query(), told.answer
    drawn = report_fragment(request, told.report, lambda name: f"{ORDER}/pictures/{name}?{query}")
    unproven = any(stock.proven is False for stock in answer.stocks)
    return PlanTold(
        title=told.report.title,
        report=drawn,
        query=query,
        longer=f"{ORDER}?{asked.for_longer().query()}" if unproven and not asked.longer else "",
        cut=plan_mark(answer) if any(stock.reels for stock in answer.stocks) else "",
        fields=asked.fields(),
        key=shop_of(request).new_key(),
    )
