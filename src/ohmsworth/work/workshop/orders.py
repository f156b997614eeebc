"""An order out of the records: cables that are described there, cut from the reels and priced by the prices that are kept."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Hashable, Mapping
from dataclasses import dataclass, replace
from threading import Lock

from ohmsworth.cables.request import CableRequest
from ohmsworth.cables.supply import MOST_COPIES
from ohmsworth.cables.workshop.cutting import Reel
from ohmsworth.cables.workshop.estimate import Prices
from ohmsworth.cables.workshop.pieces import cut_list
from ohmsworth.errors import Fault, InputRefused, shorten
from ohmsworth.work.builds.desk import CableDesk
from ohmsworth.work.builds.face import NO_NAME, name_of
from ohmsworth.work.shop import Shop
from ohmsworth.work.workshop.lists import WorkshopLists, read_lists
from ohmsworth.work.workshop.loaded import LoadedWorkshop, OrderedCable
from ohmsworth.work.workshop.order import ToldWorkshop, report_workshop

#: Cables of one order.
MOST_CABLES = 100
#: Seconds for the solver: each wire, and all wires of an order together.
SECONDS, TOGETHER = 3.0, 15.0
LONGER, LONGER_TOGETHER = 20.0, 60.0
#: Answers held ready, so that page, pictures and PDF show one and the same plan.
_HELD = 16
#: Orders that wait while another one is planned; whoever comes later is asked to try again.
_WAITING = 4


@dataclass(frozen=True, slots=True)
class Order:
    """What is to be built and how it is planned.

    Parameters
    ----------
    copies
        Copies by the card of the cable; None for as many as its description says.
    reels, prices
        Whether the reels and the prices of the records are used.
    without
        Reels that are left out: wire and name.
    longer
        Whether the solver is given more time than a page should take.
    """

    copies: Mapping[int, int | None]
    reels: bool = True
    prices: bool = True
    without: frozenset[tuple[str, str]] = frozenset()
    longer: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class Laid:
    """An order laid out for planning: its cables, and the reels in stock that it may be cut from, also those left out."""

    loaded: LoadedWorkshop
    in_stock: tuple[Reel, ...]
    seconds: float
    key: Hashable


def typed_copies(typed: Mapping[int, str]) -> dict[int, int | None]:
    """Copies by cable out of what was typed; blank for as many as the description says.

    Raises
    ------
    InputRefused
        With every fault; `where` is "copies." and the number of the cable.
    """
    found: dict[int, int | None] = {}
    faults = []
    for cable, text in typed.items():
        plain = text.strip()
        if not plain:
            found[cable] = None
        elif plain.isascii() and plain.isdigit() and len(plain) < 9 and 1 <= int(plain) <= MOST_COPIES:
            found[cable] = int(plain)
        else:
            mend = "Write how many copies are wanted."
            expected = f"a whole number from 1 to {MOST_COPIES}"
            faults.append(Fault(f"copies.{cable}", shorten(plain), expected, mend))
    if faults:
        raise InputRefused(tuple(faults))
    return found


class OrderDesk:
    """Answers about orders, each planned once; safe between threads."""

    def __init__(self, shop: Shop, cables: CableDesk) -> None:
        self._shop, self._cables = shop, cables
        self._lock, self._planning = Lock(), Lock()
        self._lists: WorkshopLists | None = None
        self._told: OrderedDict[Hashable, ToldWorkshop] = OrderedDict()
        self._waiting = 0

    def lists(self) -> WorkshopLists:
        """The lists as they stand in the records."""
        with self._lock:
            before = self._lists
        lists = read_lists(self._shop.records, before)
        with self._lock:
            self._lists = lists
        return lists

    def called(self, cable: int) -> str:
        """What a cable is called; raises NoSuchCard."""
        return " ".join(part for part in name_of(self._cables.state(cable).toml) if part) or NO_NAME

    def described_copies(self, cable: int) -> int | None:
        """How many copies its description says; None where it cannot be read."""
        try:
            return self._described(cable).supply.quantity
        except InputRefused:
            return None

    def lay(self, order: Order) -> Laid:
        """Read what the order needs.

        Raises
        ------
        InputRefused
            With every fault of its cables and of the lists.
        NoSuchCard
            For what is no cable.
        """
        faults = _order_faults(order)
        requests: dict[int, CableRequest] = {}
        for cable, copies in order.copies.items() if not faults else ():
            try:
                request = self._described(cable)
            except InputRefused as refused:
                faults += [replace(one, where=f"{self.called(cable)}, {one.where}") for one in refused.faults]
                continue
            quantity = request.supply.quantity if copies is None else copies
            requests[cable] = replace(request, supply=replace(request.supply, quantity=quantity))
        lists = self.lists()
        (reels, unused), more = self._reels(lists) if order.reels else ((None, ()), [])
        prices, again = self._prices(lists) if order.prices else (None, [])
        faults += [*more, *again]
        if faults:
            raise InputRefused(tuple(faults))
        ordered = tuple(OrderedCable(f"no. {cable}", one) for cable, one in requests.items())
        wires = {line.stock for request in requests.values() for line in cut_list(request)}
        in_stock = tuple(reel for reel in reels or () if reel.stock in wires)
        used = None
        if reels is not None:
            used = tuple(reel for reel in reels if (reel.stock, reel.name) not in order.without)
        each, together = (LONGER, LONGER_TOGETHER) if order.longer else (SECONDS, TOGETHER)
        texts = tuple((cable, self._cables.state(cable).toml) for cable in requests)
        copied = tuple(request.supply.quantity for request in requests.values())
        key = (texts, copied, used, lists.prices.written if order.prices else 0, order.longer)
        loaded = LoadedWorkshop(ordered, used, prices, unused)
        return Laid(loaded, in_stock, min(each, together / max(len(wires), 1)), key)

    def tell(self, laid: Laid) -> ToldWorkshop:
        """The answer and its report: the one that is held, or planned now.

        Raises
        ------
        InputRefused
            While too many orders are being planned.
        """
        held = self._held(laid.key)
        if held is not None:
            return held
        self._wait()
        try:
            with self._planning:  # one at a time, and readings of others go on beside it
                told = self._held(laid.key) or report_workshop(laid.loaded, seconds=laid.seconds)
        finally:
            with self._lock:
                self._waiting -= 1
        with self._lock:
            self._told[laid.key] = told
            while len(self._told) > _HELD:
                self._told.popitem(last=False)
        return told

    def _wait(self) -> None:
        with self._lock:
            if self._waiting > _WAITING:
                found, mend = "other orders that are being planned", "Try again in a minute."
                raise InputRefused((Fault("this order", found, "no more than a few at a time", mend),))
            self._waiting += 1

    def _held(self, key: Hashable) -> ToldWorkshop | None:
        with self._lock:
            told = self._told.get(key)
            if told is not None:
                self._told.move_to_end(key)
            return told

    def _described(self, cable: int) -> CableRequest:
        return self._cables.teller.described(self._cables.state(cable).toml).request

    def _reels(self, lists: WorkshopLists) -> tuple[tuple[tuple[Reel, ...], tuple[str, ...]], list[Fault]]:
        """The reels with headings that are not used, and what is wrong with them."""
        if not lists.reels.text:
            return ((), ()), [_none_kept("reels in stock")]
        try:
            read = self._shop.workshop.reels(lists.reels.text)
        except InputRefused as refused:
            return ((), ()), list(refused.faults)
        return (read.reels, read.unused), []

    def _prices(self, lists: WorkshopLists) -> tuple[Prices | None, list[Fault]]:
        if not lists.prices.text:
            return None, [_none_kept("prices")]
        try:
            return self._shop.workshop.prices(lists.prices.text), []
        except InputRefused as refused:
            return None, list(refused.faults)


def _order_faults(order: Order) -> list[Fault]:
    if not order.copies:
        return [Fault("this order", "no cable", "one cable or more", "Choose what is to be built.")]
    if len(order.copies) > MOST_CABLES:
        found, mend = f"{len(order.copies)} cables", "Make several orders of it."
        return [Fault("this order", found, f"at most {MOST_CABLES}", mend)]
    return []


def _none_kept(what: str) -> Fault:
    return Fault(what, "none in the records", what, "Write them down once, or plan without them.")
