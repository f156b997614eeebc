"""Exact tests for a handful of specimens, with the smallest p-value that the design could ever give.

Two separate groups: all ways of dealing the specimens' means into groups of the same sizes. Paired: all ways
of flipping the signs of the specimens' differences (Fisher's test on Darwin's plants).
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations
from math import comb

import numpy as np

from ohmsworth.errors import ArgumentFault
from ohmsworth.readings.table import Array

#: Up to this many arrangements are all looked at; beyond, DRAWS of them are drawn with the given seed.
MOST_ARRANGEMENTS = 200_000
DRAWS = 9_999


@dataclass(frozen=True, slots=True)
class Exact:
    """Two-sided p-value, the smallest it could be in this design, and whether every arrangement counted."""

    p_value: float
    smallest: float
    complete: bool


def two_groups(first: Array, second: Array, seed: int) -> Exact | None:
    """Permutation test of the difference of two groups' means; None if a group is empty.

    Raises
    ------
    ArgumentFault
        For values that are no finite numbers.
    """
    first, second = _finite("first", first), _finite("second", second)
    n, total = len(first), len(first) + len(second)
    if n in {0, total}:
        return None
    pool = np.concatenate([first, second])
    pool = pool - pool.mean()
    arrangements = comb(total, n)
    smallest = (2 if 2 * n == total else 1) / arrangements
    if arrangements <= MOST_ARRANGEMENTS:
        chosen = np.array(list(combinations(range(total), n)))
        sums = pool[chosen].sum(1)
    else:
        sums = _drawn_sums(pool, n, seed)
    return _tail(sums, float(pool[:n].sum()), smallest, arrangements <= MOST_ARRANGEMENTS)


def sign_flips(differences: Array, seed: int) -> Exact | None:
    """Sign-flip test of paired differences; None without any.

    Raises
    ------
    ArgumentFault
        For values that are no finite numbers.
    """
    differences = _finite("differences", differences)
    n = len(differences)
    if n == 0:
        return None
    complete = n <= 62 and 2**n <= MOST_ARRANGEMENTS
    if complete:
        bits = (np.arange(2**n)[:, None] >> np.arange(n)) & 1
        sums = (1 - 2 * bits) @ differences
    else:
        signs = np.random.default_rng(seed).choice([-1.0, 1.0], (DRAWS, n))
        sums = signs @ differences
    return _tail(sums, float(differences.sum()), 2.0 / 2.0**n, complete)


def _finite(name: str, values: Array) -> Array:
    numbers = np.asarray(values, float)
    if numbers.ndim != 1 or not np.isfinite(numbers).all():
        raise ArgumentFault(
            name, "values that are no numbers, or not in one row", "finite numbers in one row"
        )
    return numbers


def _drawn_sums(pool: Array, n: int, seed: int) -> Array:
    rng = np.random.default_rng(seed)
    return np.array([rng.permutation(pool)[:n].sum() for _ in range(DRAWS)])


def _tail(sums: Array, observed: float, smallest: float, complete: bool) -> Exact:
    """Share of arrangements at least as extreme as the observed one (ties within rounding count)."""
    close = 1e-9 * float(np.abs(sums).max(initial=0.0))
    extreme = int((np.abs(sums) >= abs(observed) - close).sum())
    if complete:
        return Exact(extreme / len(sums), smallest, True)
    return Exact((extreme + 1) / (len(sums) + 1), smallest, False)
