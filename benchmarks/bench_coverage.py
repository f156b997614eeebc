"""How often a 95 % interval of a comparison holds the truth, for three ways of making it, in one seeded run.

Two conditions, few specimens, nested normal scatter of the logarithm. The peer is what a general mixed-model program
gives: REML with the normal distribution. Between stands REML with Kenward and Roger's covariance and degrees of freedom,
as fitted with every variance at zero or above and one scatter for both conditions. "This" is what Ohmsworth answers with.
"""

from __future__ import annotations

import time
from dataclasses import dataclass

import numpy as np
from scipy import stats

from ohmsworth.inference.design import Design, build_design
from ohmsworth.inference.engine import contrast, make_engine
from ohmsworth.inference.kenward_roger import contrast_freedom
from ohmsworth.inference.unequal import levels_to_split
from ohmsworth.readings import Labels

SEED, STUDIES, COVERAGE = 2026, 2000, 0.95


@dataclass(frozen=True)
class Plan:
    """A design and its true standard deviations of ln R; `matings` one number a specimen.

    `wider` is how many times larger the scatter of specimens and matings is under the second condition.
    """

    name: str
    paired: bool
    matings: tuple[int, ...]
    specimen: float
    response: float
    mating: float
    wider: float = 1.0


READINGS, READING = 2, 0.01
PLANS = (
    Plan("2 + 2 specimens, 3 matings, specimens alike", False, (3, 3), 0.0, 0.0, 0.10),
    Plan("2 + 2 specimens, 3 matings, specimens differ", False, (3, 3), 0.15, 0.0, 0.10),
    Plan("3 + 3 specimens, 3 matings, specimens alike", False, (3, 3, 3), 0.0, 0.0, 0.10),
    Plan("3 + 3 specimens, 3 matings, specimens differ", False, (3, 3, 3), 0.15, 0.0, 0.10),
    Plan("3 + 3 specimens, 1, 2 and 5 matings, specimens differ", False, (1, 2, 5), 0.15, 0.0, 0.10),
    Plan("3 before and after, 3 matings, respond alike", True, (3, 3, 3), 0.15, 0.0, 0.10),
    Plan("3 before and after, 3 matings, respond apart", True, (3, 3, 3), 0.15, 0.15, 0.10),
    Plan("6 + 6 specimens, 3 matings, specimens differ", False, (3,) * 6, 0.15, 0.0, 0.10),
    Plan("6 + 6 specimens, 3 matings, one condition four times wider", False, (3,) * 6, 0.05, 0.0, 0.05, 4.0),
)


def invent(plan: Plan, rng: np.random.Generator) -> Design:
    """One study; the true difference of the conditions is zero."""
    rows: list[tuple[str, str, str, float]] = []
    own: dict[str, float] = {}
    for condition in "AB":
        wider = plan.wider if condition == "B" else 1.0
        for number, matings in enumerate(plan.matings):
            name = f"S{number}" if plan.paired else f"{condition}{number}"
            level = own.setdefault(name, wider * plan.specimen * rng.standard_normal())
            level += plan.response * rng.standard_normal()
            for mating in range(matings):
                middle = level + wider * plan.mating * rng.standard_normal()
                for _ in range(READINGS):
                    rows.append((name, condition, str(mating), middle + READING * rng.standard_normal()))
    specimen, condition_names, mating_names, y = zip(*rows, strict=True)
    return build_design(
        np.array(y), Labels.of(list(condition_names)), Labels.of(list(specimen)), None,
        Labels.of(list(mating_names)),
    )  # fmt: skip


def three_intervals(design: Design) -> list[tuple[float, float]]:
    """Ends of the three intervals of B minus A."""
    engine = make_engine(design, "equal")
    weights = np.array([-1.0, 1.0])
    middle = float(weights @ engine.fit.mean)
    ends = []
    for covariance, factor in (
        (engine.parts.plain, stats.norm.ppf((1 + COVERAGE) / 2)),
        (engine.parts.adjusted, stats.t.ppf((1 + COVERAGE) / 2, contrast_freedom(engine.parts, weights))),
    ):
        half = float(factor) * float(np.sqrt(weights @ covariance @ weights))
        ends.append((middle - half, middle + half))
    told = make_engine(design, "auto") if levels_to_split(design, "auto") else engine
    return [*ends, contrast(told, 1, 0)[2].interval(COVERAGE)]


def run(plan: Plan, rng: np.random.Generator) -> tuple[np.ndarray, np.ndarray]:
    """Share of intervals that hold the truth, and their median width, for each way."""
    ends = np.array([three_intervals(invent(plan, rng)) for _ in range(STUDIES)])
    held = (ends[:, :, 0] <= 0) & (ends[:, :, 1] >= 0)
    return held.mean(0), np.median(ends[:, :, 1] - ends[:, :, 0], axis=0)


def main() -> None:
    rng = np.random.default_rng(SEED)
    start = time.perf_counter()
    print(
        f"Coverage of {COVERAGE:.0%} intervals of ln(ratio), {STUDIES} studies a row, seed {SEED}; in brackets the"
    )
    print("median width. 'specimens alike' means that the true scatter between specimens is zero.")
    print()
    print("| design | REML, normal | Kenward-Roger, bounded | this |")
    print("|---|---|---|---|")
    covered = []
    for plan in PLANS:
        share, width = run(plan, rng)
        covered.append(share)
        cells = " | ".join(f"{100 * s:.1f} % ({w:.2f})" for s, w in zip(share, width, strict=True))
        print(f"| {plan.name} | {cells} |", flush=True)
    lowest, highest = np.min(covered, axis=0), np.max(covered, axis=0)
    told = ", ".join(
        f"{name} {100 * lo:.1f} to {100 * hi:.1f} %"
        for name, lo, hi in zip(("REML-normal", "Kenward-Roger", "this"), lowest, highest, strict=True)
    )
    print(f"\ncoverage: {told}; {time.perf_counter() - start:.0f} s")


if __name__ == "__main__":
    main()
