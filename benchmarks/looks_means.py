"""Looks at specimen means alone, many studies at once: differences of the same specimens, or of two groups of them.

At look k there are k specimens a condition. The statistic is Student's t of the differences, or Welch's t of the two groups
(of two specimens each the pooled one), as the program's own forms are. All errors are on one side of the bound.
"""

from __future__ import annotations

import numpy as np
from scipy import stats


def p_values(rng: np.random.Generator, draws: int, most: int, pairs: bool, shift: float = 0.0) -> np.ndarray:
    """One-sided p-values at the bound after 2, 3, … specimens a condition: shape (draws, most − 1).

    `shift` is the true distance from the bound in standard deviations of a specimen (of a difference, in pairs).
    """
    groups = 1 if pairs else 2
    x = rng.standard_normal((groups, draws, most))
    x[0] += shift
    n = np.arange(2, most + 1)
    mean = x.cumsum(2)[:, :, 1:] / n
    variance = ((x**2).cumsum(2)[:, :, 1:] - n * mean**2) / (n - 1)
    if pairs:
        return np.asarray(stats.t.sf(mean[0] / np.sqrt(variance[0] / n), n - 1))
    total = variance.sum(0)
    freedom = (n - 1) * total**2 / (variance**2).sum(0)
    freedom = np.where(n == 2, 2, freedom)
    return np.asarray(stats.t.sf((mean[0] - mean[1]) / np.sqrt(total / n), freedom))


def ever(p: np.ndarray, levels: np.ndarray) -> float:
    """Share of studies whose p-value is below its level at any look."""
    return float((p < levels).any(1).mean())


def read(p: np.ndarray, levels: np.ndarray) -> float:
    """Specimens read until it is decided, or to the end, as a share of the sheet."""
    hit, n = p < levels, np.arange(2, p.shape[1] + 2)
    return float(np.where(hit.any(1), n[hit.argmax(1)], n[-1]).mean() / n[-1])
