"""Looking after every mating and stopping as soon as it looks decided: how often verdicts are wrong, and what it costs.

    python benchmarks/bench_looks.py [studies]

The tables of docs/method.md. First specimen means alone, many studies: error rates at the bound by several rules, and what share
of the sheet is read where there is something to find. Then whole studies with matings, through the program's own inference.
Seeded; the first part takes some seconds, the second some minutes.
"""

from __future__ import annotations

import sys

import numpy as np
from looks_draw import COVERAGE, ERRORS, Bench, errors_of, look_on
from looks_means import ever, p_values, read
from scipy import optimize, special, stats

from ohmsworth.inference.boundaries import even_spending, late_spending, spent_bounds
from ohmsworth.inference.looks import level_at

SEED, DRAWS, STUDIES, ALPHA = 2026, 100_000, 400, 1 - COVERAGE
SHEETS = (2, 3, 4, 6, 8, 12)
BENCHES = {
    "separate, one mating": [Bench(n, 1) for n in (2, 4, 6)],
    "separate, three matings one after the other": [Bench(n, 3) for n in (2, 3, 6)],
    "separate, three rounds of matings": [Bench(n, 3, rounds=True) for n in (2, 3, 6)],
    "specimens all alike, two rounds": [Bench(n, 2, rounds=True, specimen=0.0) for n in (3, 6)],
    "the same specimens, two matings": [Bench(n, 2, pairs=True) for n in (3, 6)],
    "three specimens beyond the sheet": [Bench(3, 1, beyond=3)],
}


def rules(planned: int) -> dict[str, np.ndarray]:
    """Levels after 2, 3, … of `planned` specimens by each rule."""
    dones = range(2, planned + 1)
    shares = [done / planned for done in dones]
    spent = {
        "level bounds": spent_bounds(shares, even_spending(shares, ALPHA)),
        "falling bounds": spent_bounds(shares, late_spending(shares, ALPHA)),
    }
    return {
        "ordinary": np.full(len(shares), ALPHA),
        "a part for each look": np.array([6 * ALPHA / (np.pi * k) ** 2 for k in range(1, planned)]),
        **{name: special.ndtr(-np.array(bounds)) for name, bounds in spent.items()},
        "ours": np.array([level_at(done, planned, ALPHA) for done in dones]),
    }


def table_of_errors(draws: int) -> None:
    """Errors on one side, by each rule."""
    print(f"{draws} studies a row: errors on one side, in %, looking after every specimen")
    print("| read | specimens |", " | ".join(rules(2)), "|")
    for pairs in (True, False):
        for n in SHEETS:
            p = p_values(np.random.default_rng(SEED), draws, n, pairs)
            cells = " | ".join(f"{100 * ever(p, levels):.1f}" for levels in rules(n).values())
            print(f"| {'same' if pairs else 'separate'} | {n} | {cells} |", flush=True)


def table_of_costs(draws: int) -> None:
    """Chance to find what an ordinary study finds with 90 % at its end, and what is three times as far from the bound."""
    print("same specimens: found, share of the sheet read; then three times as far from the bound")
    print("| specimens |", " | ".join(rules(2)), "|")
    for n in (3, 4, 6, 12):
        critical = float(stats.t.isf(ALPHA, n - 1))

        def lacking(shift: float, n: int = n, critical: float = critical) -> float:
            return float(stats.nct.sf(critical, n - 1, shift * np.sqrt(n))) - 0.9

        shift = float(optimize.brentq(lacking, 0.01, 30))
        cells = []
        for levels in rules(n).values():
            near, far = (
                p_values(np.random.default_rng(SEED), draws, n, True, times * shift) for times in (1, 3)
            )
            told = [f"{ever(p, levels):.0%}, {read(p, levels):.0%}" for p in (near, far)]
            cells.append("; ".join(told))
        print(f"| {n} |", " | ".join(cells), "|", flush=True)


def table_of_studies(studies: int) -> None:
    """Errors in whole studies."""
    print(f"{studies} studies a row: errors in %, ordinary / allowed for, looking after every mating")
    print("| read | specimens |", " | ".join(ERRORS), "|")
    for name, benches in BENCHES.items():
        for bench in benches:
            rng = np.random.default_rng(SEED)
            found = np.mean([errors_of(look_on(bench, rng)) for _ in range(studies)], axis=0)
            cells = " | ".join(f"{100 * a:.1f} / {100 * b:.1f}" for a, b in zip(*found, strict=True))
            print(f"| {name} | {bench.specimens} | {cells} |", flush=True)


def main(studies: int = STUDIES) -> None:
    """Print the tables."""
    table_of_errors(DRAWS)
    table_of_costs(DRAWS // 5)
    table_of_studies(studies)


if __name__ == "__main__":
    main(*map(int, sys.argv[1:2]))
