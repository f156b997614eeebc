"""When may two conditions share their scatter: pooled and Welch intervals on one mean a specimen.

The figures of decision 0015. Normal means, seeded; the second condition scatters `wider` times more. Coverage of a
95 % interval of the difference, and its median width over that of the pooled interval.
"""

from __future__ import annotations

import numpy as np
from scipy import stats

DRAWS = 200_000


def row(rng: np.random.Generator, first: int, second: int, wider: float) -> str:
    a, b = rng.standard_normal((DRAWS, first)), wider * rng.standard_normal((DRAWS, second))
    apart = np.abs(a.mean(1) - b.mean(1))
    each = a.var(1, ddof=1) / first, b.var(1, ddof=1) / second
    square = ((first - 1) * first * each[0] + (second - 1) * second * each[1]) / (first + second - 2)
    pooled = stats.t.ppf(0.975, first + second - 2) * np.sqrt(square * (1 / first + 1 / second))
    freedom = (each[0] + each[1]) ** 2 / (each[0] ** 2 / (first - 1) + each[1] ** 2 / (second - 1))
    welch = stats.t.ppf(0.975, freedom) * np.sqrt(each[0] + each[1])
    held = [100 * float((apart <= half).mean()) for half in (pooled, welch)]
    width = float(np.median(welch) / np.median(pooled))
    return f"{first} + {second}, {wider:3.1f} times wider: pooled {held[0]:.1f} %, own {held[1]:.1f} %, width {width:.2f}"


if __name__ == "__main__":
    generator = np.random.default_rng(0)
    for sizes in ((2, 2), (3, 3), (6, 6), (6, 2), (6, 3)):
        for times in (1.0, 2.0, 4.4):
            print("pooling:", row(generator, *sizes, times))
