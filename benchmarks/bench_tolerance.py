"""How often a tolerance bound holds, and how well the chance of the next one being over is calibrated, in one seeded run.

One condition, few specimens, nested normal scatter of the logarithm. A bound that is said with 95 % confidence has to lie
above 95 % of next matings of next specimens in 95 of 100 studies. The value that the next mating is predicted to exceed
with 5 % has to be exceeded by 5 % of them on average. The peer takes all resistances as one simple sample, which is what
comes to hand first: re-matings and re-readings count as if they were new specimens.
"""

from __future__ import annotations

import time
from dataclasses import dataclass

import numpy as np
from scipy import optimize, stats

from ohmsworth.inference.conditions import CONTENT, condition_result, future_of
from ohmsworth.inference.future import chance_over
from ohmsworth.inference.measured import Measured, measure
from ohmsworth.inference.tolerance import one_sided_factor
from ohmsworth.readings import Labels
from ohmsworth.resistance import Resistances

SEED, STUDIES, CONFIDENCE = 2026, 400, 0.95
MATING, READING = 0.1, 0.01
DESIGNS = (
    (2, 1, 1),
    (2, 3, 2),
    (2, 5, 1),
    (3, 3, 1),
    (3, 3, 2),
    (5, 3, 1),
    (5, 2, 3),
    (5, 5, 2),
    (10, 1, 1),
    (10, 3, 2),
)
#: Variance between specimens over that between matings.
RATIOS = (0.0, 0.3, 1.0, 10.0)


@dataclass(frozen=True)
class Judged:
    """One study: whether the bound held, and which share of next matings exceeds the value predicted for 5 %."""

    held: bool
    simple_held: bool
    exceeds: float
    simple_exceeds: float


def invent(design: tuple[int, int, int], specimen: float, rng: np.random.Generator) -> Resistances:
    """One study with a true median of one ohm."""
    s, m, r = design
    y = specimen * rng.standard_normal((s, 1, 1)) + MATING * rng.standard_normal((s, m, 1))
    y = (y + READING * rng.standard_normal((s, m, r))).ravel()
    n = len(y)
    names = [str(i) for i in np.repeat(np.arange(s), m * r)]
    matings = [str(i) for i in np.tile(np.repeat(np.arange(m), r), s)]
    nothing = np.zeros(n)
    return Resistances(
        value=np.exp(y), independent=nothing, shared={}, emf=nothing, form=np.full(n, 2),
        rows=np.column_stack([2 * np.arange(n), 2 * np.arange(n) + 1, np.full(n, -1)]),
        specimen=Labels.of(names), condition=Labels.of(["new"] * n), contact=None, mating=Labels.of(matings),
        plug=None, socket=None,
    )  # fmt: skip


def judge(resistances: Resistances, true: float) -> Judged:
    """Hold the answer, and the simple sample's, to the truth; `true` is the deviation of a next mating."""
    measured = measure(resistances, "log", "auto")
    quantile = stats.norm.ppf(CONTENT) * true
    y = np.log(resistances.value)
    n, deviation = len(y), float(y.std(ddof=1))
    simple = y.mean() + one_sided_factor(n, n - 1, CONTENT, CONFIDENCE) * deviation
    simple_next = y.mean() + stats.t.ppf(CONTENT, n - 1) * deviation * np.sqrt(1 + 1 / n)
    found = condition_result(measured, 0, 1.0, CONFIDENCE)
    assert found.tolerance is not None
    return Judged(
        bool(np.log(found.tolerance) >= quantile),
        bool(simple >= quantile),
        float(stats.norm.sf(predicted(measured) / true)),
        float(stats.norm.sf(simple_next / true)),
    )


def predicted(measured: Measured) -> float:
    """The value that the next mating exceeds with 5 %, as the answer's own predictive distribution has it."""
    future = future_of(measured, 0)
    assert future is not None
    return float(optimize.brentq(lambda v: chance_over(future, v) - (1 - CONTENT), -1.0, 30.0, xtol=1e-3))


def main() -> None:
    rng = np.random.default_rng(SEED)
    start = time.perf_counter()
    print(
        f"{STUDIES} studies a cell, seed {SEED}: bounds that hold (next matings beyond what 5 % were predicted to"
    )
    print(
        "exceed); after the bar the same for one simple sample. Columns: variance between specimens over matings."
    )
    print()
    print("| specimens × matings × readings | " + " | ".join(f"{ratio:g}" for ratio in RATIOS) + " |")
    print("|---" * (len(RATIOS) + 1) + "|")
    every = []
    for design in DESIGNS:
        cells = []
        for ratio in RATIOS:
            specimen = MATING * np.sqrt(ratio)
            true = float(np.hypot(specimen, MATING))
            found = [judge(invent(design, specimen, rng), true) for _ in range(STUDIES)]
            cells.append(
                100 * np.mean([(f.held, f.exceeds, f.simple_held, f.simple_exceeds) for f in found], axis=0)
            )
        every += cells
        told = " | ".join(f"{a:.0f} % ({b:.1f} %) / {c:.0f} % ({d:.1f} %)" for a, b, c, d in cells)
        print(f"| {' × '.join(map(str, design))} | {told} |", flush=True)
    low, mean = np.min(every, axis=0), np.mean(every, axis=0)
    print(
        f"\nbounds hold in {low[0]:.0f} % or more, {mean[0]:.1f} % on average (simple sample: {low[2]:.0f} %, "
        f"{mean[2]:.1f} %); {mean[1]:.1f} % exceeded on average ({mean[3]:.1f} %); {time.perf_counter() - start:.0f} s"
    )


if __name__ == "__main__":
    main()
