"""Looking after every mating and stopping as soon as it looks decided: how often verdicts are wrong, and what allowing for it costs.

    python benchmarks/bench_looks.py [draws]

The table of docs/method.md: error rates at the bound, in per cent, ordinary / allowed for; then what share of the sheet is read
and how often it is decided where there is something to find. Seeded; some minutes.
"""

from __future__ import annotations

import sys
from dataclasses import replace

import numpy as np
from looks_draw import BASE, COVERAGE, ERRORS, Bench, errors_of, look_on

from ohmsworth.inference.equivalence import ENOUGH

SEED, DRAWS = 2026, 2000
BENCHES = {
    "separate, one mating": [Bench(n, 1) for n in (2, 3, 4, 6, 8, 12)],
    "separate, three matings each in turn": [Bench(n, 3) for n in (2, 3, 6)],
    "separate, three rounds": [Bench(n, 3, rounds=True) for n in (2, 3, 6)],
    "specimens alike, two rounds": [Bench(n, 2, rounds=True, specimen=0.0) for n in (3, 6)],
    "the same specimens, two matings": [Bench(n, 2, pairs=True) for n in (3, 6)],
    "four specimens beyond the sheet": [Bench(n, 1, beyond=4) for n in (3, 6)],
}
#: Where there is something to find: the median ratio with a margin of 50 %.
FOUND = (1.8, 2.2, 3.0)


def rates(bench: Bench, draws: int) -> np.ndarray:
    """Shares of studies with each error, shape (2, 4)."""
    rng = np.random.default_rng(SEED)
    return np.asarray(np.mean([errors_of(look_on(bench, rng)) for _ in range(draws)], axis=0))


def finds(bench: Bench, ratio: float, draws: int) -> tuple[float, float, float]:
    """Chance to find it at the end of an ordinary study, with looks allowed for, and the share of the sheet read."""
    rng = np.random.default_rng(SEED)
    ordinary, allowed, read = [], [], []
    for _ in range(draws):
        looks = look_on(bench, rng, ratio, 0.5 * BASE)
        given = [one.allowed == ENOUGH for one in looks]
        ordinary.append(looks[-1].plain == ENOUGH)
        allowed.append(any(given))
        read.append((given.index(True) + 1 if any(given) else len(looks)) / len(looks))
    return float(np.mean(ordinary)), float(np.mean(allowed)), float(np.mean(read))


def main(draws: int = DRAWS) -> None:
    """Print both tables."""
    print(
        f"{draws} studies a row, coverage {COVERAGE:.0%}; errors in % ever given: ordinary / allowed for",
        flush=True,
    )
    print("| read | specimens |", " | ".join(ERRORS), "|")
    for name, benches in BENCHES.items():
        for bench in benches:
            many = max(draws // 4, 100) if bench.planned > 9 and bench.matings > 1 else draws
            plain, allowed = 100 * rates(bench, many)
            cells = " | ".join(f"{a:.1f} / {b:.1f}" for a, b in zip(plain, allowed, strict=True))
            print(f"| {name} | {bench.specimens} | {cells} |", flush=True)
    print(
        "| ratio, margin 50 % | specimens | found at the end, one look | found, looks allowed for | sheet read |"
    )
    for n in (3, 4, 6, 12):
        for ratio in FOUND:
            bench = replace(Bench(n, 1), specimen=0.2)
            one, allowed, read = finds(bench, ratio, draws // 4)
            print(f"| {ratio} | {n} | {one:.0%} | {allowed:.0%} | {read:.0%} |", flush=True)


if __name__ == "__main__":
    main(*map(int, sys.argv[1:2]))
