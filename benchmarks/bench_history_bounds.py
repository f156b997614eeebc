"""The narrowest that any interval can be that leans on a known scatter σ_h, when it must hold even where that is wrong.

An estimate with ν degrees of freedom of its own; half-width a function of the scatter found over σ_h. The mean half-width where
σ = σ_h is minimised, subject to a coverage of 94.5 % there and a floor wherever σ/σ_h lies between 1 and 30, by linear
programming over all functions (randomised ones too) on a grid. The peer is Student's t, which needs no history.
"""

from __future__ import annotations

import time

import numpy as np
from scipy import optimize, sparse, special, stats

FITTING, FLOORS = 0.945, (0.93, 0.90, 0.85)
RATIOS = np.array([1, 1.25, 1.5, 2, 2.5, 3, 4, 6, 10, 30])
FOUND = np.exp(np.linspace(np.log(3e-3), np.log(600), 110))
HALVES = np.exp(np.linspace(np.log(0.05), np.log(3e4), 140))


def least_width(freedom: int, floor: float) -> tuple[float, float]:
    """Mean width over that of Student's t, and the coverage where σ is three times σ_h."""
    step = float(np.log(FOUND[1] / FOUND[0]))
    edges = np.append(FOUND * np.exp(-step / 2), FOUND[-1] * np.exp(step / 2))
    chance = np.diff(stats.chi2.cdf(freedom * (edges / RATIOS[:, None]) ** 2, freedom), axis=1)
    chance /= chance.sum(1, keepdims=True)
    held = 2 * special.ndtr(HALVES / RATIOS[:, None]) - 1
    covered = np.einsum("rf,rh->rfh", chance, held).reshape(len(RATIOS), -1)
    least = np.where(RATIOS == 1, FITTING, floor)
    cost = np.outer(chance[0], HALVES).ravel()
    one = sparse.kron(sparse.eye(len(FOUND)), np.ones((1, len(HALVES))))
    own = float(stats.t.ppf(0.975, freedom))
    # Never much wider than the study's own interval, or than the known one where hardly any scatter was found.
    most = np.where(np.maximum(1.15 * own * FOUND, 4.0)[:, None] < HALVES, 0.0, 1.0).ravel()
    ends = np.column_stack([np.zeros(len(cost)), most])
    found = optimize.linprog(cost, -covered, -least, one, np.ones(len(FOUND)), ends, method="highs-ipm")
    return found.fun / (own * float(chance[0] @ FOUND)), float((covered @ found.x)[RATIOS == 3][0])


def main() -> None:
    start = time.perf_counter()
    print(
        "Least mean width over Student's t where the history fits; in brackets the coverage where the scatter is"
    )
    print("three times the history's. Known: the scatter known for certain.\n")
    print(f"| degrees of freedom | known | {' | '.join(f'at least {100 * f:.0f} %' for f in FLOORS)} |")
    print("|---|---|" + "---|" * len(FLOORS))
    for freedom in (1, 2, 3, 4):
        mean = np.sqrt(2 / freedom) * special.gamma((freedom + 1) / 2) / special.gamma(freedom / 2)
        known = 1.96 / (stats.t.ppf(0.975, freedom) * mean)
        pairs = [least_width(freedom, floor) for floor in FLOORS]
        cells = " | ".join(f"{width:.2f} ({100 * at:.0f} %)" for width, at in pairs)
        print(f"| {freedom} | {known:.2f} | {cells} |", flush=True)
    print(f"\nhistory bounds: {time.perf_counter() - start:.0f} s")


if __name__ == "__main__":
    main()
