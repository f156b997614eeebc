"""What leaning on past studies is worth: coverage and width of 95 % intervals, with histories that fit and that do not.

Three past studies of five specimens a condition (their scatter differs by 15 % among each other), then a small study. The
same small study is answered with the history as it is, with all of its standard deviations a third or three times what is
true, and with those of the specimens alone. The peer is the study's own interval, in the same run.

In a balanced normal study the mean is independent of the squares, so that the chance to hold the truth is known for every
interval drawn and is averaged instead of counted: a cell is known to about ± 0.5 %.
"""

from __future__ import annotations

import time
from dataclasses import dataclass, replace

import numpy as np
from scipy import stats

from ohmsworth.inference.design import Design, build_design
from ohmsworth.inference.engine import Engine, Estimate, condition_mean, contrast, make_engine
from ohmsworth.inference.rebuilt import History, PastScatter
from ohmsworth.readings import Labels
from ohmsworth.readings.study import Scatter
from ohmsworth.work.past_scatter import scatter_found

SEED, STUDIES, COVERAGE = 2026, 400, 0.95
PAST_STUDIES, PAST_SPECIMENS, PAST_SPREAD = 3, 5, 0.15
READINGS = 2
#: True standard deviations of ln R.
SPECIMEN, RESPONSE, MATING, READING = 0.15, 0.15, 0.10, 0.02
OUTER = ("specimen", "response")
#: Column -> factor of the history's standard deviations, and the levels that it holds for (none: all).
HISTORIES: dict[str, tuple[float, tuple[str, ...]]] = {
    "fits": (1.0, ()),
    "all a third": (1 / 3, ()),
    "all three times": (3.0, ()),
    "specimens a third": (1 / 3, OUTER),
    "specimens three times": (3.0, OUTER),
}


@dataclass(frozen=True)
class Plan:
    """A small study."""

    name: str
    paired: bool
    specimens: int
    matings: int
    scatter: Scatter = "auto"
    readings: int = READINGS


PLANS = (
    Plan("2 + 2 specimens", False, 2, 3),
    Plan("3 + 3 specimens", False, 3, 3),
    Plan("3 + 3 specimens, scatter pooled", False, 3, 3, "equal"),
    Plan("2 before and after", True, 2, 3),
    Plan("3 before and after", True, 3, 3),
    Plan("2 + 2 specimens, one reading each", False, 2, 1, readings=1),
)


def invent(plan: Plan, rng: np.random.Generator, times: float = 1.0) -> Design:
    """A study whose standard deviations are `times` the true ones; the conditions do not differ."""
    rows: list[tuple[str, str, str, float]] = []
    own: dict[str, float] = {}
    for condition in "AB":
        for number in range(plan.specimens):
            name = f"S{number}" if plan.paired else f"{condition}{number}"
            level = own.setdefault(name, SPECIMEN * rng.standard_normal())
            level += RESPONSE * rng.standard_normal() if plan.paired else 0.0
            for mating in range(plan.matings):
                middle = level + MATING * rng.standard_normal()
                for _ in range(plan.readings):
                    value = middle + READING * rng.standard_normal()
                    rows.append((name, condition, str(mating), times * value))
    specimen, conditions, matings, y = zip(*rows, strict=True)
    return build_design(
        np.array(y), Labels.of(list(conditions)), Labels.of(list(specimen)), None, Labels.of(list(matings))
    )


def past_studies(plan: Plan, rng: np.random.Generator) -> list[list[PastScatter]]:
    """Scatter of each condition in each past study."""
    past: list[list[PastScatter]] = [[], []]
    whole = replace(plan, specimens=PAST_SPECIMENS, matings=3, readings=READINGS)
    for _ in range(PAST_STUDIES):
        engine = make_engine(invent(whole, rng, float(np.exp(PAST_SPREAD * rng.standard_normal()))), "auto")
        for condition in (0, 1):
            found = scatter_found(engine, [condition])
            past[condition].append(
                PastScatter({f.level: f.variance for f in found}, {f.level: f.weight for f in found})
            )
    return past


def wrong(past: list[list[PastScatter]], times: float, levels: tuple[str, ...]) -> History:
    """The history with the standard deviations of some levels (of all) multiplied."""

    def one(scatter: PastScatter) -> PastScatter:
        changed = {
            k: v * (times**2 if not levels or k in levels else 1) for k, v in scatter.variances.items()
        }
        return replace(scatter, variances=changed)

    return History(tuple(tuple(one(s) for s in mine) for mine in past), COVERAGE)


def true_errors(plan: Plan) -> tuple[float, float]:
    """Standard error of one condition's mean, and of the difference."""
    inside = MATING**2 / plan.matings + READING**2 / (plan.matings * plan.readings)
    inside += RESPONSE**2 if plan.paired else 0.0
    mean = (SPECIMEN**2 + inside) / plan.specimens
    between = 2 * inside / plan.specimens if plan.paired else 2 * mean
    return float(np.sqrt(mean)), float(np.sqrt(between))


def half_widths(engine: Engine) -> list[float]:
    """Of one condition's mean, and of the difference."""

    def half(estimate: Estimate) -> float:
        return (estimate.interval(COVERAGE)[1] - estimate.interval(COVERAGE)[0]) / 2

    return [half(condition_mean(engine, 0)), half(contrast(engine, 1, 0)[2])]


def run(plan: Plan, rng: np.random.Generator, studies: int) -> tuple[np.ndarray, np.ndarray]:
    """Coverage and mean half-width, shape (alone and histories, mean and difference)."""
    halves = []
    for _ in range(studies):
        past = past_studies(plan, rng)
        engine = make_engine(invent(plan, rng), plan.scatter)
        histories = [None, *(wrong(past, *how) for how in HISTORIES.values())]
        halves.append([half_widths(replace(engine, history=history)) for history in histories])
    drawn = np.array(halves)
    held = 2 * stats.norm.cdf(drawn / np.array(true_errors(plan))) - 1
    return held.mean(0), drawn.mean(0)


def main() -> None:
    rng = np.random.default_rng(SEED)
    start = time.perf_counter()
    print(
        f"Coverage of {COVERAGE:.0%} intervals with a history, {STUDIES} studies a row, seed {SEED}; in brackets the"
    )
    print("mean width over that of the study alone. Three matings of two readings unless said.\n")
    print(f"| design | estimate | alone | {' | '.join(HISTORIES)} |")
    print(f"|{'---|' * (len(HISTORIES) + 3)}")
    fitting = []
    for plan in PLANS:
        covered, width = run(plan, rng, STUDIES)
        for j, estimate in enumerate(("median of one", "ratio")):
            cells = [
                f"{100 * covered[i, j]:.1f} % ({width[i, j] / width[0, j]:.2f})"
                for i in range(1, len(covered))
            ]
            print(
                f"| {plan.name} | {estimate} | {100 * covered[0, j]:.1f} % | {' | '.join(cells)} |",
                flush=True,
            )
            fitting.append(width[1, j] / width[0, j])
    told = f"{min(fitting):.2f} to {max(fitting):.2f} of the width alone where the history fits"
    print(f"\nhistory: {told}; {time.perf_counter() - start:.0f} s")


if __name__ == "__main__":
    main()
