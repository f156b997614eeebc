"""What is asked about an order: read out of an address or a form, and written into one again."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING
from urllib.parse import urlencode

from ohmsworth.errors import shorten
from ohmsworth.work.records import NoSuchCard

if TYPE_CHECKING:
    from ohmsworth.work.workshop.orders import Order

_LONGEST = 200
#: Lies between wire and reel in the value of a field: no name holds one.
_BETWEEN = "\t"
_COPIES = "copies."


@dataclass(frozen=True, slots=True)
class OrderAsked:
    """What stands in the form.

    Parameters
    ----------
    cables
        Their cards, in the order in which they were chosen.
    copies
        What was typed for each of them, as far as anything was.
    chosen
        Whether the form was sent: before, what is kept is used.
    reels, prices, longer
        What is ticked.
    out
        Reels that are left out, by wire and name.
    search
        What further cables are looked for by.
    """

    cables: tuple[int, ...] = ()
    copies: tuple[tuple[int, str], ...] = ()
    chosen: bool = False
    reels: bool = False
    prices: bool = False
    longer: bool = False
    out: tuple[tuple[str, str], ...] = ()
    search: str = ""

    def order(self, reels_kept: bool, prices_kept: bool) -> Order:
        """What is to be planned; raises InputRefused for copies that cannot be."""
        from ohmsworth.work.workshop.orders import Order, typed_copies

        typed = dict(self.copies)
        return Order(
            typed_copies({cable: typed.get(cable, "") for cable in self.cables}),
            reels_kept and (self.reels or not self.chosen),
            prices_kept and (self.prices or not self.chosen),
            frozenset(self.out),
            self.longer,
        )

    def fields(self) -> tuple[tuple[str, str], ...]:
        """The fields by which it is asked again."""
        typed = dict(self.copies)
        said = [("cable", str(cable)) for cable in self.cables]
        said += [(f"{_COPIES}{cable}", typed[cable]) for cable in self.cables if typed.get(cable)]
        ticked = {"chosen": self.chosen, "reels": self.reels, "prices": self.prices, "longer": self.longer}
        said += [(name, "yes") for name, yes in ticked.items() if yes]
        return (*said, *(("out", reel_value(wire, name)) for wire, name in self.out))

    def query(self) -> str:
        """The same as an address has it."""
        return urlencode(self.fields())

    def for_longer(self) -> OrderAsked:
        """The same with more time for the solver."""
        return replace(self, longer=True)


def reel_value(wire: str, name: str) -> str:
    """A reel as the value of a field."""
    return f"{wire}{_BETWEEN}{name}"


def read_asked(items: Iterable[tuple[str, str]]) -> OrderAsked:
    """What is asked by fields in their order.

    Raises
    ------
    NoSuchCard
        For a cable that is no number.
    """
    asked = OrderAsked()
    for name, value in items:
        if name == "cable" and (number := _number(value)) not in asked.cables:
            asked = replace(asked, cables=(*asked.cables, number))
        elif name.startswith(_COPIES):
            number = _number(name.removeprefix(_COPIES))
            asked = replace(asked, copies=(*asked.copies, (number, value.strip()[:_LONGEST])))
        elif name in ("chosen", "reels", "prices", "longer"):
            asked = replace(asked, **{name: value == "yes"})  # type: ignore[arg-type]
        elif name == "out":
            wire, _, reel = value.partition(_BETWEEN)
            asked = replace(asked, out=(*asked.out, (wire, reel)))
        elif name == "search":
            asked = replace(asked, search=value.strip()[:_LONGEST])
    return asked


def _number(text: str) -> int:
    plain = text.strip()
    if not (plain.isascii() and plain.isdigit() and len(plain) < 19):
        raise NoSuchCard(f"There is no cable {shorten(text)}.")
    return int(plain)
