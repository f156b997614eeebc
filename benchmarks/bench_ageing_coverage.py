"""How often the intervals of slopes hold: specimens that age differently, visits missing, matings unequal, visits that wander.

python benchmarks/bench_ageing_coverage.py [draws]
"""

from __future__ import annotations

import sys
from dataclasses import dataclass

import numpy as np

from ohmsworth.inference.ageing import slopes_by_level
from ohmsworth.readings.table import Array, Codes

SEED, DRAWS, COVERAGE = 7, 2000, 0.95


@dataclass(frozen=True)
class Shop:
    """Specimens by level, visits of each, τ of their slopes (a year), σ of a visit.

    `ragged` visits are missing and lie anywhere within six years; `wander` is σ of a walk from visit to visit.
    """

    words: str
    specimens: tuple[int, ...]
    visits: int
    between: tuple[float, ...]
    within: float = 0.05
    ragged: bool = False
    wander: float = 0.0


SHOPS = (
    Shop("2 + 2, 2 visits", (2, 2), 2, (0.03, 0.03)),
    Shop("2 + 2, 4 visits", (2, 2), 4, (0.03, 0.03)),
    Shop("3 + 3, 3 visits", (3, 3), 3, (0.03, 0.03)),
    Shop("3 + 3, 3 visits, ragged", (3, 3), 3, (0.03, 0.03), ragged=True),
    Shop("3 + 3, 4 visits, none between", (3, 3), 4, (0.0, 0.0)),
    Shop("3 + 3, 4 visits, none between, ragged", (3, 3), 4, (0.0, 0.0), ragged=True),
    Shop("4 + 8, 4 visits, 5 times apart", (4, 8), 4, (0.1, 0.02)),
    Shop("4 + 8, 4 visits, ragged", (4, 8), 4, (0.03, 0.03), ragged=True),
    Shop("6 + 6 + 6, 5 visits, ragged", (6, 6, 6), 5, (0.03, 0.03, 0.03), ragged=True),
    Shop("10 + 10, 2 visits, ragged", (10, 10), 2, (0.03, 0.03), ragged=True),
    Shop("20 + 20, 6 visits, none between, ragged", (20, 20), 6, (0.0, 0.0), ragged=True),
    Shop("6 + 6, 6 visits that wander", (6, 6), 6, (0.0, 0.0), wander=0.05),
)


def drawn(shop: Shop, chance: np.random.Generator) -> tuple[Array, Array, Codes, Codes]:
    """Time, y, specimen and level of every visit; all true slopes are 0.1 a year."""
    times, values, owners, levels = [], [], [], []
    for level, number in enumerate(shop.specimens):
        for _ in range(number):
            n = max(2, shop.visits - int(chance.integers(2)) * shop.ragged)
            t = np.sort(chance.uniform(0, 6, n)) if shop.ragged else np.arange(n, dtype=float)
            slope = 0.1 + shop.between[level] * chance.standard_normal()
            walk = shop.wander * np.cumsum(chance.standard_normal(n))
            values.append(
                chance.standard_normal() + slope * t + walk + shop.within * chance.standard_normal(n)
            )
            times.append(t)
            owners.append(np.full(n, len(owners)))
            levels.append(np.full(n, level))
    return np.concatenate(times), np.concatenate(values), np.concatenate(owners), np.concatenate(levels)


def held(shop: Shop, draws: int, seed: int = SEED) -> tuple[float, float, float, float]:
    """Shares of draws in which the first slope, the first difference and all differences held; the median half-width."""
    chance = np.random.default_rng(seed)
    one, other, every, width = 0, 0, 0, []
    for _ in range(draws):
        time, y, specimen, level = drawn(shop, chance)
        found = slopes_by_level(time, y, specimen, specimen, level, COVERAGE)
        slope = found.levels[0].slope
        assert slope is not None
        low, high = slope.interval(COVERAGE)
        one += low <= 0.1 <= high
        low, high = next(d.interval for d in found.differences if {d.of, d.against} == {0, 1})
        width.append((high - low) / 2)
        other += low <= 0 <= high
        every += all(d.together[0] <= 0 <= d.together[1] for d in found.differences)
    return one / draws, other / draws, every / draws, float(np.median(width))


if __name__ == "__main__":
    number = int(sys.argv[1]) if len(sys.argv) > 1 else DRAWS
    for shop in SHOPS:
        slope, difference, together, half = held(shop, number)
        print(
            f"{shop.words}: slope {100 * slope:.1f} %, difference {100 * difference:.1f} %, all {100 * together:.1f} %, "
            f"half-width {100 * half:.1f} % a year"
        )
