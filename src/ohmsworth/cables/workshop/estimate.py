"""What an order costs, by the shop's own prices and times, to the last digit: decimal numbers, commercial rounding.

Each line is rounded once, to the decimals of the currency, half away from zero; sums are sums of rounded lines, so that the
columns add up as they stand. What has no price is named, and the total then says that it is not the whole.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from decimal import ROUND_HALF_UP, Decimal
from typing import Literal

#: Of a line of an estimate.
Group = Literal["part", "wire", "scrap", "labour"]
_HOUR = 60


@dataclass(frozen=True, slots=True)
class Prices:
    """What a shop states of its prices and times.

    Parameters
    ----------
    currency
        In words or by its sign.
    decimals
        Digits after the point of an amount of money.
    parts, wires
        Price of one by name; of a metre by the name of the wire.
    minutes
        For one of each step by its name.
    hourly_rate
        Price of an hour; None where it is not stated, as below.
    surcharge
        On parts and wire, percent.
    tax
        Percent of the total.
    """

    currency: str
    decimals: int = 2
    parts: Mapping[str, Decimal] = field(default_factory=dict)
    wires: Mapping[str, Decimal] = field(default_factory=dict)
    minutes: Mapping[str, Decimal] = field(default_factory=dict)
    hourly_rate: Decimal | None = None
    surcharge: Decimal | None = None
    tax: Decimal | None = None


@dataclass(frozen=True, slots=True)
class EstimateLine:
    """A line: so many of something at a price each.

    Parameters
    ----------
    group
        What it is of.
    name
        Of the part, the wire or the step.
    number
        How many, or metres of a wire.
    each
        Price of one, or minutes of a step; None where the shop states none.
    minutes
        Of all, for a step.
    amount
        Money, rounded; None where it cannot be told.
    """

    group: Group
    name: str
    number: Decimal
    each: Decimal | None
    minutes: Decimal | None
    amount: Decimal | None


@dataclass(frozen=True, slots=True)
class Estimate:
    """What an order costs.

    Parameters
    ----------
    lines
        Parts, wire, labour.
    materials, surcharge
        Sum of parts and wire, and what comes on top; None of a surcharge that is not stated.
    minutes, labour
        Of the steps whose time is stated, and their price.
    total, tax, total_with_tax
        The sums; the last two None without a tax.
    complete
        Whether every line has a price.
    """

    lines: tuple[EstimateLine, ...]
    materials: Decimal
    surcharge: Decimal | None
    minutes: Decimal
    labour: Decimal
    total: Decimal
    tax: Decimal | None
    total_with_tax: Decimal | None
    complete: bool

    @property
    def unpriced(self) -> tuple[EstimateLine, ...]:
        """Lines without a price."""
        return tuple(line for line in self.lines if line.amount is None)


def estimate(
    prices: Prices,
    parts: Mapping[str, int],
    wires: Mapping[str, int],
    scrap: Mapping[str, int],
    steps: Mapping[str, int],
) -> Estimate:
    """What parts, wire and labour cost.

    Parameters
    ----------
    prices
        The shop's own.
    parts
        How many of each.
    wires, scrap
        Millimetres of each wire that are cut for the order, and that are of no use after it.
    steps
        How often each step of the work is done; those that are never done are left out.
    """
    lines = [_bought(prices, "part", name, Decimal(n), prices.parts.get(name)) for name, n in parts.items()]
    lines += [_metres(prices, "wire", name, millimetres) for name, millimetres in wires.items()]
    lines += [
        _metres(prices, "scrap", name, millimetres) for name, millimetres in scrap.items() if millimetres
    ]
    lines += [_done(prices, step, number) for step, number in steps.items() if number]
    materials = _sum(line.amount for line in lines if line.group != "labour")
    labour = _sum(line.amount for line in lines if line.group == "labour")
    surcharge = _share(prices, materials, prices.surcharge)
    total = materials + (surcharge or Decimal(0)) + labour
    tax = _share(prices, total, prices.tax)
    return Estimate(
        tuple(lines),
        materials,
        surcharge,
        _sum(line.minutes for line in lines),
        labour,
        total,
        tax,
        None if tax is None else total + tax,
        all(line.amount is not None for line in lines),
    )


def _bought(prices: Prices, group: Group, name: str, number: Decimal, each: Decimal | None) -> EstimateLine:
    amount = None if each is None else rounded(number * each, prices.decimals)
    return EstimateLine(group, name, number, each, None, amount)


def _metres(prices: Prices, group: Group, name: str, millimetres: int) -> EstimateLine:
    return _bought(prices, group, name, Decimal(millimetres) / 1000, prices.wires.get(name))


def _done(prices: Prices, step: str, number: int) -> EstimateLine:
    each = prices.minutes.get(step)
    minutes = None if each is None else number * each
    amount = None
    if minutes is not None and prices.hourly_rate is not None:
        amount = rounded(minutes * prices.hourly_rate / _HOUR, prices.decimals)
    return EstimateLine("labour", step, Decimal(number), each, minutes, amount)


def rounded(money: Decimal, decimals: int) -> Decimal:
    """`money` to so many decimals, half away from zero as in commerce.

    Examples
    --------
    >>> rounded(Decimal("2.345"), 2), rounded(Decimal("2.5"), 0)
    (Decimal('2.35'), Decimal('3'))
    """
    return money.quantize(Decimal(1).scaleb(-decimals), ROUND_HALF_UP)


def in_full(money: Decimal, decimals: int) -> Decimal:
    """`money` with so many decimals, and with more where it was typed so.

    Examples
    --------
    >>> in_full(Decimal("4.2"), 2), in_full(Decimal("0.055"), 2)
    (Decimal('4.20'), Decimal('0.055'))
    """
    shown = rounded(money, decimals)
    return shown if shown == money else money


def _share(prices: Prices, of: Decimal, percent: Decimal | None) -> Decimal | None:
    return None if percent is None else rounded(of * percent / 100, prices.decimals)


def _sum(amounts: Iterable[Decimal | None]) -> Decimal:
    return sum((amount for amount in amounts if amount is not None), Decimal(0))
