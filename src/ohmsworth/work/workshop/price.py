"""What an order costs, as records."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Sequence
from decimal import Decimal

from ohmsworth.cables.workshop.estimate import EstimateLine, Prices, estimate, in_full, rounded
from ohmsworth.cables.workshop.needs import Needs
from ohmsworth.cables.workshop.pieces import Pieces
from ohmsworth.errors import nearest_name
from ohmsworth.report.workshop.answer import EstimateAnswer, PriceLineAnswer, StockAnswer


def priced(
    prices: Prices, pieces: Sequence[Pieces], stocks: Sequence[StockAnswer], needs: Needs
) -> EstimateAnswer:
    """The estimate of parts, wire, scrap of the plan, and labour."""
    wires: Counter[str] = Counter()
    for line in pieces:
        wires[line.stock] += line.number * line.millimetres
    scrap = {stock.stock: round((stock.scrap or 0.0) * 1000) for stock in stocks}
    found = estimate(prices, needs.parts, wires, scrap, needs.steps)

    asked = {line.name for line in found.lines}

    def money(amount: Decimal) -> str:
        return text_of(rounded(amount, prices.decimals))

    def maybe(amount: Decimal | None) -> str | None:
        return None if amount is None else money(amount)

    return EstimateAnswer(
        currency=prices.currency,
        complete=found.complete,
        lines=tuple(_line(prices, line, maybe(line.amount), asked) for line in found.lines),
        materials=money(found.materials),
        surcharge_percent=_text(prices.surcharge),
        surcharge=maybe(found.surcharge),
        minutes=float(found.minutes),
        hourly_rate=_text(prices.hourly_rate),
        labour=money(found.labour),
        total=money(found.total),
        tax_percent=_text(prices.tax),
        tax=maybe(found.tax),
        total_with_tax=maybe(found.total_with_tax),
    )


def _line(prices: Prices, line: EstimateLine, amount: str | None, asked: Collection[str]) -> PriceLineAnswer:
    """A line; what it may be called in the price list is a name that no other line has."""
    known = {"part": prices.parts, "labour": prices.minutes}.get(line.group, prices.wires)
    free = tuple(name for name in known if name not in asked)
    nearest = "" if line.each is not None else nearest_name(line.name, free) or ""
    minutes = None if line.minutes is None else float(line.minutes)
    each = line.each
    if each is not None and line.group != "labour":  # "31.50", and a fraction of a cent as it was typed
        each = in_full(each, prices.decimals)
    return PriceLineAnswer(line.group, line.name, float(line.number), _text(each), minutes, amount, nearest)


def text_of(number: Decimal) -> str:
    """Every digit, and no exponent."""
    return format(number, "f")


def _text(number: Decimal | None) -> str | None:
    return None if number is None else text_of(number)
