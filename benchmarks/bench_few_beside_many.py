"""Few specimens beside many, each with scatter of its own: how often 95 % intervals of the difference hold, and how wide.

    python benchmarks/bench_few_beside_many.py

Exact specimen means, one sample of normal values a condition; Welch's degrees of freedom, Cochran's factor, and what Ohmsworth
takes between them (decision 0021 quotes this). Seeded; some seconds.
"""

from __future__ import annotations

import numpy as np
from scipy import stats

SEED, DRAWS = 2026, 60_000
NUMBERS = ((2, 3), (2, 5), (2, 8), (2, 10), (3, 5), (3, 10), (6, 10))
#: Standard deviation of the few, in that of the many.
RATIOS = (1.0, 2.0, 4.0, 0.5, 0.25)


def held(few: int, many: int, ratio: float, rng: np.random.Generator) -> dict[str, tuple[float, float]]:
    """Share of intervals that hold, in per cent, and their median width, by each form."""
    n = np.array([few, many])
    sd = np.array([ratio, 1.0])
    variance = sd**2 * rng.chisquare(n - 1, (DRAWS, 2)) / (n - 1) / n
    difference = rng.normal(0, np.sqrt((sd**2 / n).sum()), DRAWS)
    total = variance.sum(1)
    t = stats.t.ppf(0.975, n - 1)
    welch = stats.t.ppf(0.975, total**2 / (variance**2 / (n - 1)).sum(1))
    cochran = (variance * t).sum(1) / total
    g = (1 - few / many) ** 2
    factors = {"Welch": welch, "between": (1 - g) * welch + g * cochran, "Cochran": cochran}
    found = {}
    for name, factor in factors.items():
        half = factor * np.sqrt(total)
        found[name] = (100 * float(np.mean(np.abs(difference) <= half)), float(np.median(2 * half)))
    return found


def main() -> None:
    """Print the table."""
    print("| specimens, few scatter | Welch | between | Cochran |")
    print("|---|---|---|---|")
    for ratio in RATIOS:
        for few, many in NUMBERS:
            row = held(few, many, ratio, np.random.default_rng([SEED, few, many, round(100 * ratio)]))
            told = " | ".join(f"{share:.1f} % ({width:.2f})" for share, width in row.values())
            print(f"| {few} + {many}, {ratio:g} times | {told} |")


if __name__ == "__main__":
    main()
