"""The cheapest design with the wanted chance, over specimens × matings × readings."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

#: More matings of one specimen, or readings of one mating, are not looked at.
MOST_MATINGS, MOST_READINGS = 6, 4


@dataclass(frozen=True, slots=True)
class Layout:
    """Specimens a condition, matings of each specimen (in each condition), readings of each mating."""

    specimens: int
    matings: int
    readings: int


@dataclass(frozen=True, slots=True)
class Prices:
    """What a design costs in minutes.

    Parameters
    ----------
    specimen, mating, reading
        Minutes for preparing each specimen, for each mating, for each reading.
    conditions
        Number of conditions.
    paired
        Whether the same specimens serve all conditions.
    """

    specimen: float
    mating: float
    reading: float
    conditions: int
    paired: bool


@dataclass(frozen=True, slots=True)
class Option:
    """A design with its chance and its minutes."""

    layout: Layout
    chance: float
    minutes: float


Chance = Callable[[Layout], float]


def minutes(prices: Prices, layout: Layout) -> float:
    """Minutes that `layout` takes."""
    cells = prices.conditions * layout.specimens
    things = layout.specimens if prices.paired else cells
    each_mating = prices.mating + layout.readings * prices.reading
    return things * prices.specimen + cells * layout.matings * each_mating


def cheapest_options(chance: Chance, prices: Prices, wanted: float, most: int) -> list[Option]:
    """For each number of matings the cheapest design with at least the `wanted` chance, cheapest first.

    Parameters
    ----------
    chance
        Chance of a layout; never less with more specimens.
    prices
        Minutes.
    wanted
        Chance that a design must have.
    most
        Specimens a condition that there are.
    """
    found = [
        option
        for matings in range(1, MOST_MATINGS + 1)
        if (option := _cheapest_with(matings, chance, prices, wanted, most)) is not None
    ]
    return sorted(found, key=_cost)


def _cheapest_with(matings: int, chance: Chance, prices: Prices, wanted: float, most: int) -> Option | None:
    """The cheapest design with so many matings: more readings are looked at only where they could be cheaper."""
    best: Option | None = None
    for readings in range(1, MOST_READINGS + 1):
        affordable = most
        if best is not None:
            affordable = _affordable(prices, matings, readings, best.minutes, most)
        layout = _fewest(chance, matings, readings, wanted, affordable)
        if layout is None:
            continue
        option = Option(layout, chance(layout), minutes(prices, layout))
        if best is None or _cost(option) < _cost(best):
            best = option
    return best


def _affordable(prices: Prices, matings: int, readings: int, budget: float, most: int) -> int:
    """Specimens a condition for `budget` minutes, at most `most`."""
    one = minutes(prices, Layout(1, matings, readings))
    return min(most, int(budget / one + 1e-9)) if one > 0 else most


def _cost(option: Option) -> tuple[float, int, int, float]:
    """Minutes first; among equals the design with fewer specimens, then fewer matings."""
    layout = option.layout
    return round(option.minutes, 6), layout.specimens, layout.matings, -option.chance


def _fewest(chance: Chance, matings: int, readings: int, wanted: float, most: int) -> Layout | None:
    """Fewest specimens that have the wanted chance: doubled until they do, then halved in between."""
    if most < 2 or chance(Layout(most, matings, readings)) < wanted:
        return None
    low, high = 1, 2
    while high < most and chance(Layout(high, matings, readings)) < wanted:
        low, high = high, min(2 * high, most)
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if chance(Layout(middle, matings, readings)) >= wanted else (middle, high)
    return Layout(high, matings, readings)


def best_within(chance: Chance, prices: Prices, budget: float, most: int) -> Option | None:
    """The design with the best chance among those that take at most `budget` minutes; None where none does."""
    best: Option | None = None
    for matings in range(1, MOST_MATINGS + 1):
        for readings in range(1, MOST_READINGS + 1):
            specimens = _affordable(prices, matings, readings, budget, most)
            if specimens < 2:
                continue
            layout = Layout(specimens, matings, readings)
            option = Option(layout, chance(layout), minutes(prices, layout))
            if best is None or option.chance > best.chance + 1e-12:
                best = option
    return best
