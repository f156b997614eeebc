"""Bounds for a statistic that is looked at several times: what each look may spend of one chance of error.

Z is looked at when shares t₁ < t₂ < … of the information are in; W = Z√t then moves by independent normal steps of
variance tₖ − tₖ₋₁. The chance of a first crossing at look k follows from the density of W among paths that have not
crossed before, integrated look by look (Gauss-Legendre nodes).

Source: Armitage, McPherson & Rowe 1969 (recursion); O'Brien & Fleming 1979; Pocock 1977; Lan & DeMets 1983 (spending);
Jennison & Turnbull 2000, chapters 2, 7 and 19 (all from memory; constants are checked in ``tests/published/test_looks.py``).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from scipy import optimize, special

from ohmsworth.readings.table import Array

#: Beyond so many standard deviations there is nothing.
_FAR = 8.5
#: Nodes for every step's standard deviation, and the numbers of them that are worked out.
_A_STEP, _SIZES = 3.0, (96, 192, 384, 600)


@dataclass(frozen=True, slots=True, eq=False)
class Walk:
    """Where W stands among paths that have not crossed: `mass` at `nodes` (shape (n,)), when a share `time` is in."""

    time: float
    nodes: Array
    mass: Array


@lru_cache(maxsize=len(_SIZES))
def _nodes(size: int) -> tuple[Array, Array]:
    points, weights = np.polynomial.legendre.leggauss(size)
    return points, weights


def start() -> Walk:
    """Before the first look W is zero."""
    return Walk(0.0, np.zeros(1), np.ones(1))


def chance_to_cross(walk: Walk, time: float, bound: float, both: bool = False) -> float:
    """Chance that Z lies beyond `bound` at `time`, and was not beyond one before."""
    step, far = np.sqrt(time - walk.time), bound * np.sqrt(time)
    over = special.ndtr((walk.nodes - far) / step)
    if both:
        over = over + special.ndtr((-far - walk.nodes) / step)
    return float(walk.mass @ over)


def go_on(walk: Walk, time: float, bound: float, both: bool = False) -> Walk:
    """The paths that stay inside `bound` at `time` as well."""
    step, high = float(np.sqrt(time - walk.time)), float(bound * np.sqrt(time))
    high = min(high, _FAR * float(np.sqrt(time)))
    low = -high if both else -_FAR * float(np.sqrt(time))
    wanted = _A_STEP * (high - low) / step
    points, weights = _nodes(next((size for size in _SIZES if size >= wanted), _SIZES[-1]))
    half = (high - low) / 2
    nodes = (high + low) / 2 + half * points
    density = np.exp(-(((nodes[:, None] - walk.nodes) / step) ** 2) / 2) / (step * np.sqrt(2 * np.pi))
    return Walk(time, nodes, half * weights * (density @ walk.mass))


def spent_bounds(
    fractions: Sequence[float], amounts: Sequence[float], both: bool = False, walk: Walk | None = None
) -> list[float]:
    """Bounds of Z at which each look spends exactly its amount.

    Parameters
    ----------
    fractions
        Share of the information at each look, ascending.
    amounts
        Chance of error that each look may add.
    both
        Whether there are bounds above and below alike; else above only.
    walk
        What went before; nothing where None.
    """
    here, found = walk or start(), []
    for time, amount in zip(fractions, amounts, strict=True):
        now = here

        def beyond(bound: float, now: Walk = now, time: float = time, amount: float = amount) -> float:
            return chance_to_cross(now, time, bound, both) - amount

        top = 38.0
        bound = top if beyond(top) >= 0 else float(optimize.brentq(beyond, -_FAR, top, xtol=1e-10))
        found.append(bound)
        here = go_on(now, time, bound, both)
    return found


def crossing_chance(fractions: Sequence[float], bounds: Sequence[float], both: bool = False) -> float:
    """Chance that Z crosses its bound at any of the looks."""
    here, total = start(), 0.0
    for time, bound in zip(fractions, bounds, strict=True):
        total += chance_to_cross(here, time, bound, both)
        here = go_on(here, time, bound, both)
    return total


def late_spending(fractions: Sequence[float], alpha: float, both: bool = False) -> list[float]:
    """What each look may add of `alpha` where hardly any is spent early (O'Brien and Fleming's way)."""
    share = np.asarray(fractions, float)
    sides = 2 if both else 1
    tail = alpha / sides
    return _steps(2 * sides * special.ndtr(-special.ndtri(1 - tail / 2) / np.sqrt(share)))


def even_spending(fractions: Sequence[float], alpha: float) -> list[float]:
    """What each look may add of `alpha` where bounds stay about level (Pocock's way)."""
    return _steps(alpha * np.log1p((np.e - 1) * np.asarray(fractions, float)))


def _steps(total: Array) -> list[float]:
    return [float(step) for step in np.diff(total, prepend=0.0)]
