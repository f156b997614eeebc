"""What cable.toml says of how the cable is made: copies, what its wires are cut from, further parts."""

from __future__ import annotations

from collections.abc import Iterable

from ohmsworth.adapters.files.asked import Asked
from ohmsworth.cables.supply import MOST_COPIES, Stock, Supply
from ohmsworth.readings.names import clean_name

#: Keys of a kind that are read here.
KIND_KEYS = ("stock", "stock_by_colour")
#: More of one part on one cable than this are a slip.
_MOST_PARTS = 10_000


def read_supply(asked: Asked, kinds: Iterable[str]) -> Supply:
    """The keys `quantity`, `bulk`, `joint_allowance` and ``[[parts]]``, and what each of `kinds` is cut from."""
    quantity = asked.whole("quantity", 1, MOST_COPIES)
    bulk = clean_name(asked.text("bulk") or "")
    allowance = asked.quantity("joint_allowance", "length", 1e-3, 100.0)
    names = list(kinds)
    stocks = {name: stock for name in names if (stock := _stock(asked, name)) is not None}
    if bulk and names and len(stocks) == len(names):
        mend = "Remove 'bulk', or the 'stock' of the kinds that are its cores."
        asked.fault("bulk", "a bought cable, and a stock for every kind", "a kind that is its core", mend)
    return Supply(quantity or 1, bulk, stocks, allowance, _further(asked))


def _stock(asked: Asked, kind: str) -> Stock | None:
    """What a kind is cut from; None where it says nothing of it."""
    whole = asked.table["kinds"]
    for name, values in whole.items():
        if name.strip() == kind and isinstance(values, dict) and set(KIND_KEYS) & set(values):
            table = Asked(values, f"{asked.where}, [kinds.{name}]", asked.faults)
            own = table.text("stock")
            return Stock(clean_name(own or kind), table.truth("stock_by_colour", False))
    return None


def _further(asked: Asked) -> tuple[tuple[str, int], ...]:
    found: dict[str, int] = {}
    for table in asked.several("parts"):
        name, number = table.text("name"), table.whole("number", 1, _MOST_PARTS)
        if "name" not in table.table:
            table.fault("name", "no such key", 'name = "what it is called in prices.toml"', "Add it.")
        table.done()
        if name:
            found[clean_name(name)] = found.get(clean_name(name), 0) + (number or 1)
    return tuple(found.items())
