"""Do the intervals hold what they promise, with three specimens? Drawn studies with a known truth.

The same draws with the normal distribution's 1.96 in place of the small-sample form show what would be lost.
Limits: 300 draws at 95 % have a standard error of 1.3 %, so 92 % is more than two of them below the promise.
"""

import numpy as np
from tests.tables import design_of

from ohmsworth.inference.engine import difference, make_engine

DRAWS = 300
TRUE = 0.4


def covered(draws: list[tuple[float, float, float, float]]) -> tuple[float, float]:
    """Share of draws whose small-sample interval, and whose ±1.96 interval, holds the truth."""
    value, error, low, high = np.array(draws).T
    return float(np.mean((low <= TRUE) & (high >= TRUE))), float(
        np.mean(np.abs(value - TRUE) <= 1.96 * error)
    )


def one(y: list[float], specimen: list[int], condition: list[int], mating: list[int]) -> tuple[float, ...]:
    engine = make_engine(design_of(y, specimen, condition, mating=mating), "equal")
    found = difference(engine, 1, 0)
    naive = np.array([-1.0, 1.0]) @ engine.parts.plain @ np.array([-1.0, 1.0])  # without Kenward-Roger
    return found.value, float(np.sqrt(naive)), *found.interval(0.95)


def test_three_specimens_a_group_unbalanced() -> None:
    rng = np.random.default_rng(2024)
    draws = []
    for _ in range(DRAWS):
        y, specimens, conditions, matings = [], [], [], []
        for s in range(6):
            own = rng.normal(0, 0.3) + TRUE * (s // 3)
            for m in range(rng.integers(1, 4)):
                mated = own + rng.normal(0, 0.15)
                for _ in range(rng.integers(1, 4)):
                    y.append(mated + rng.normal(0, 0.05))
                    specimens.append(s)
                    conditions.append(s // 3)
                    matings.append(m)
        draws.append(one(y, specimens, conditions, matings))
    small, naive = covered(draws)
    assert small >= 0.92
    assert naive < 0.92
    assert naive < small - 0.03


def test_three_specimens_before_and_after_unbalanced() -> None:
    rng = np.random.default_rng(2025)
    draws = []
    for _ in range(DRAWS):
        y, specimens, conditions, matings = [], [], [], []
        own, answer = rng.normal(0, 0.5, 3), rng.normal(0, 0.2, (3, 2))
        for s in range(3):
            for c in range(2):
                for m in range(rng.integers(1, 4)):
                    mated = own[s] + answer[s, c] + TRUE * c + rng.normal(0, 0.1)
                    for _ in range(rng.integers(1, 3)):
                        y.append(mated + rng.normal(0, 0.05))
                        specimens.append(s)
                        conditions.append(c)
                        matings.append(m)
        draws.append(one(y, specimens, conditions, matings))
    small, naive = covered(draws)
    assert small >= 0.92
    assert naive < 0.92
    assert naive < small - 0.03


def test_without_scatter_between_specimens() -> None:
    """At the zero bound: specimens alike, only matings and readings scatter."""
    rng = np.random.default_rng(2026)
    draws = []
    specimens, conditions = np.repeat(np.arange(6), 6), np.repeat([0, 1], 18)
    matings = np.tile(np.repeat(np.arange(3), 2), 6)
    for _ in range(DRAWS):
        mated = np.repeat(rng.normal(0, 0.2, 18), 2)
        y = TRUE * conditions + mated + rng.normal(0, 0.05, 36)
        draws.append(one(list(y), list(specimens), list(conditions), list(matings)))
    assert covered(draws)[0] >= 0.92


def test_a_condition_that_scatters_more_than_the_other() -> None:
    """Three specimens against six, the fewer with three times the scatter: told by nobody, modelled all the same."""
    rng = np.random.default_rng(2027)
    hits = {"auto": 0, "equal": 0}
    specimens, conditions = np.repeat(np.arange(9), 3), np.repeat([0, 1], [9, 18])
    for _ in range(DRAWS):
        own = np.concatenate([rng.normal(0, 0.3, 3), rng.normal(TRUE, 0.1, 6)])
        design = design_of(own[specimens] + rng.normal(0, 0.05, 27), specimens, conditions)
        for scatter in hits:
            low, high = difference(make_engine(design, scatter), 1, 0).interval(0.95)
            hits[scatter] += low <= TRUE <= high
    assert hits["auto"] >= 0.92 * DRAWS
    assert hits["equal"] < 0.88 * DRAWS  # what averaging the scatter away would cost
