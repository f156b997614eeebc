"""How often the prediction interval of a re-paired plug holds its true effect, and how often it stands out, in one seeded run.

Every plug is mated with every socket. The logarithm scatters between plugs as the columns say, by 10 % between sockets and by
5 % each between pairs and between matings. An interval said with 95 % has to hold what the plug truly lies above the middle of
those in the study in 95 of 100. The peer takes what comes to hand first: the plug's mean less the mean of all, with a t
interval from the scatter within plugs, as if every mating were independent of the socket and the pair.
"""

from __future__ import annotations

import time

import numpy as np
from scipy import stats

from ohmsworth.inference.measured import measure
from ohmsworth.inference.parts import part_effects
from ohmsworth.readings import Labels
from ohmsworth.resistance import Resistances

SEED, STUDIES, COVERAGE = 2026, 200, 0.95
SOCKET, PAIR, MATING = 0.1, 0.05, 0.05
#: Plugs, sockets, matings of each pair.
DESIGNS = ((3, 3, 2), (4, 4, 1), (4, 4, 2), (6, 4, 2))
#: Standard deviation between plugs.
PLUGS = (0.0, 0.05, 0.1, 0.3)

Array = np.ndarray


def invent(
    design: tuple[int, int, int], spread: float, rng: np.random.Generator
) -> tuple[Resistances, Array]:
    """One study with a true median of one ohm, and what each plug truly lies above the middle of the plugs."""
    p, s, _ = design
    plug = spread * rng.standard_normal((p, 1, 1))
    y = plug + SOCKET * rng.standard_normal((1, s, 1)) + PAIR * rng.standard_normal((p, s, 1))
    y = (y + MATING * rng.standard_normal(design)).ravel()
    numbers = [[str(i) for i in axis.ravel()] for axis in np.indices(design)]
    n, nothing = len(y), np.zeros(len(y))
    resistances = Resistances(
        value=np.exp(y), independent=nothing, shared={}, emf=nothing, form=np.full(n, 2),
        rows=np.column_stack([2 * np.arange(n), 2 * np.arange(n) + 1, np.full(n, -1)]),
        specimen=Labels.of([f"{a} {b}" for a, b in zip(*numbers[:2], strict=True)]),
        condition=Labels.of(["new"] * n), contact=None, mating=Labels.of(numbers[2]),
        plug=Labels.of(numbers[0]), socket=Labels.of(numbers[1]),
    )  # fmt: skip
    return resistances, (plug - plug.mean()).ravel()


def judge(resistances: Resistances, true: Array) -> list[tuple[float, float, float, float]]:
    """Of each plug with an interval: held, stands out; the same of the peer."""
    y = np.log(resistances.value).reshape(len(true), -1)
    mean, each = y.mean(1), y.shape[1]
    error = np.sqrt(y.var(1, ddof=1).mean() / each * (1 - 1 / len(true)))
    half = stats.t.ppf((1 + COVERAGE) / 2, len(true) * (each - 1)) * error
    peer = mean - mean.mean()
    effects = [
        e
        for e in part_effects(resistances, measure(resistances, "log", "auto"), COVERAGE)
        if e.kind == "plug"
    ]
    return [
        (e.low <= t <= e.high, e.low > 0 or e.high < 0, abs(t - other) <= half, abs(other) > half)
        for e, t, other in zip(effects, true.tolist(), peer.tolist(), strict=True)
        if e.low is not None and e.high is not None
    ]  # fmt: skip


def main() -> None:
    rng = np.random.default_rng(SEED)
    start = time.perf_counter()
    print(
        f"{STUDIES} studies a cell, seed {SEED}: intervals that hold (plugs that stand out); after the bar the peer's."
    )
    print("Columns: standard deviation between plugs.\n")
    print("| plugs × sockets × matings | " + " | ".join(f"{100 * spread:g} %" for spread in PLUGS) + " |")
    print("|---" * (len(PLUGS) + 1) + "|")
    every = []
    for design in DESIGNS:
        cells = []
        for spread in PLUGS:
            found = [one for _ in range(STUDIES) for one in judge(*invent(design, spread, rng))]
            cells.append(100 * np.mean(found, axis=0))
        every += cells
        told = " | ".join(f"{a:.0f} % ({b:.0f} %) / {c:.0f} % ({d:.0f} %)" for a, b, c, d in cells)
        print(f"| {' × '.join(map(str, design))} | {told} |", flush=True)
    low, mean = np.min(every, axis=0), np.mean(every, axis=0)
    print(
        f"\nintervals hold in {low[0]:.0f} % or more, {mean[0]:.1f} % on average (peer: {low[2]:.0f} %, {mean[2]:.1f} %); "
        f"{time.perf_counter() - start:.0f} s"
    )


if __name__ == "__main__":
    main()
