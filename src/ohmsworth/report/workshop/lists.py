"""The workshop's lists as tables: the reels in stock wire by wire, and what the shop asks for."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from decimal import Decimal

from ohmsworth.cables.workshop.cutting import Reel
from ohmsworth.cables.workshop.estimate import Prices, in_full
from ohmsworth.report.document import Table
from ohmsworth.report.tables import table
from ohmsworth.report.words import count
from ohmsworth.report.workshop.words import amount, metres


def reel_tables(reels: Iterable[Reel]) -> tuple[Table, ...]:
    """A table of each wire, in the order of the list."""
    by_wire: dict[str, list[Reel]] = {}
    for reel in reels:
        by_wire.setdefault(reel.stock, []).append(reel)
    return tuple(_wire(name, own) for name, own in by_wire.items())


def _wire(name: str, reels: list[Reel]) -> Table:
    rows = tuple(
        (
            reel.name,
            metres(reel.millimetres / 1000),
            "–" if reel.useful is None else metres(reel.useful / 1000),
        )
        for reel in reels
    )
    whole = metres(sum(reel.millimetres for reel in reels) / 1000)
    caption = f"{name}: {whole} on {count(len(reels), 'reel')}"
    return table(caption, ("reel", "has", "a rest is useful from"), rows, (1, 2))


def price_tables(prices: Prices) -> tuple[Table, ...]:
    """Parts, wires, times and what comes on top, as far as they are stated."""

    def money(stated: Decimal) -> str:
        return amount(f"{in_full(stated, prices.decimals):f}", prices.currency)

    def named(caption: str, what: str, each: str, listed: Mapping[str, str]) -> list[Table]:
        rows = tuple(listed.items())
        return [table(caption, (what, each), rows, (1,))] if rows else []

    rates = {}
    if prices.hourly_rate is not None:
        rates["an hour of work"] = money(prices.hourly_rate)
    if prices.surcharge is not None:
        rates["surcharge on parts and wire"] = f"{prices.surcharge:f} %"
    if prices.tax is not None:
        rates["tax"] = f"{prices.tax:f} %"
    return (
        *named("Rates", "for", "stated", rates),
        *named("Parts", "part", "each", {name: money(price) for name, price in prices.parts.items()}),
        *named("Wires", "wire", "a metre", {name: money(price) for name, price in prices.wires.items()}),
        *named(
            "Times", "step", "minutes for one", {step: f"{time:f}" for step, time in prices.minutes.items()}
        ),
    )
