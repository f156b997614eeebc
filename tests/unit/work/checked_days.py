"""A shop whose check standard was read day by day, in one study or another."""

import random
from datetime import timedelta

from tests.unit.work.cards.shops import BY, STANDARD, START, study, take, volts

from ohmsworth.readings.entry import Entry
from ohmsworth.work.cards.writing import open_card
from ohmsworth.work.shop import Shop


def standard(shop: Shop, **other: str) -> int:
    """The card of a check standard of 10 mΩ."""
    return open_card(shop, "check standard", STANDARD | other, BY, shop.new_key())


def check(millivolts: float, days_ago: float, mating: str = "1", name: str = "shunt A") -> list[Entry]:
    """One check at 100 mA, forward and reversed."""
    at = START - timedelta(days=days_ago)
    return [
        volts(name, f"{sign}{millivolts:.5f}".lstrip("+"), sign, name, mating, time=at) for sign in ("+", "-")
    ]


def daily(shop: Shop, days: int = 8, last: float = 1.0) -> list[int]:
    """A study a day, the check standard read in each; the last one reads `last` mV. Returns the studies."""
    drawn = random.Random(1)
    found = []
    for ago in reversed(range(days)):
        found.append(study(shop, f"A job {ago} days ago"))
        take(shop, found[-1], *check(1 + drawn.gauss(0, 0.001) if ago else last, ago))
    return found
