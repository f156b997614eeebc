"""A shop in memory with two cables, reels and prices, of which every figure can be worked out by hand."""

from __future__ import annotations

from dataclasses import dataclass, field

from tests.unit.work.cards.shops import new_shop

from ohmsworth.work.builds.desk import CableDesk
from ohmsworth.work.builds.writing import Sending, open_cable
from ohmsworth.work.shop import Shop
from ohmsworth.work.workshop.lists import ListName
from ohmsworth.work.workshop.orders import OrderDesk
from ohmsworth.work.workshop.writing import write_list

#: Three wires of 3 m with 5 cm at either end: three pieces of 3.1 m a copy.
LEAD = """\
name = "lead"
length = "3 m"
quantity = 4
[ends.A]
connector = "3-pin, male"
contacts = ["1-3"]
allowance = "5 cm"
[ends.B]
connector = "3-pin, female"
contacts = ["1-3"]
allowance = "5 cm"
[kinds.core]
conductor = "0.22 mm²"
tolerance = "5 %"
stock = "strand"
[[wires]]
from = "A:1-3"
to = "B:1-3"
"""
#: One piece of 40.2 m a copy.
LINE = """\
name = "line"
length = "40 m"
bulk = "two cores"
[ends.A]
contacts = ["1-2"]
allowance = "10 cm"
[ends.B]
contacts = ["1-2"]
allowance = "10 cm"
[kinds.core]
conductor = "0.22 mm²"
tolerance = "5 %"
[[wires]]
from = "A:1-2"
to = "B:1-2"
"""
REELS = "wire,reel,length [m],useful [m]\nstrand,S1,40,2\ntwo cores,T1,41,1\ntwo cores,T2,100,1\nrope,,9,\n"
PRICES = """\
currency = "€"
hourly_rate = 60
tax = "20 %"
[parts]
"3-pin, male" = 4.20
"3-pin, female" = 4.60
[wires]
strand = 0.25
"two cores" = 1.10
[minutes]
termination = 2
cable = 10
measurement = 0.5
"""


@dataclass
class OrderShop:
    """The shop; `lead` and `line` are the cards of its cables."""

    shop: Shop = field(default_factory=new_shop)

    def __post_init__(self) -> None:
        self.cables = CableDesk(self.shop)
        self.orders = OrderDesk(self.shop, self.cables)
        self.lead, self.line = (
            open_cable(self.cables, toml, "Ada", f"the-{n}") for n, toml in enumerate((LEAD, LINE))
        )

    def write(
        self, name: ListName, text: str, by: str = "Ada", seen: int | None = None, key: str = ""
    ) -> bool:
        """Write a list as somebody who had seen what stood there, unless `seen` says otherwise."""
        now = self.orders.lists().named(name).written
        sending = Sending(by, key or self.shop.new_key())
        return write_list(self.shop, name, text, now if seen is None else seen, "", sending)
