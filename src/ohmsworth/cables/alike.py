"""Wires of one cable that should read alike: the one that stands out, although its value is within the bounds.

A bad termination of 30 mΩ is nothing beside the tolerances of 40 m of wire. Its fellows in the same cable share length,
copper and temperature: what they share cancels, and what is left is their own scatter.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy import stats

from ohmsworth.errors import ArgumentFault

#: Fewer fellows than this tell nothing of a scatter.
FEWEST = 4
#: The chance that a sound cable is told of one that stands out.
FALSE_ALARM = 0.01
#: At most this share of a group may stand out: more are no exceptions.
LARGEST_SHARE = 1 / 3


@dataclass(frozen=True, slots=True)
class StandsOut:
    """A wire that differs from its fellows.

    Parameters
    ----------
    index
        Of the wire in the group.
    excess
        Ohm above (or below) the mean of those that do not stand out.
    low, high
        95 % interval of `excess`, ohm.
    """

    index: int
    excess: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Fellows:
    """A group of like wires.

    Parameters
    ----------
    middle, scatter
        Ohm: mean and standard deviation of those that do not stand out.
    out
        Those that do, the farthest first.
    smallest
        Ohm: what one wire would have to be off by to stand out.
    """

    middle: float
    scatter: float
    out: tuple[StandsOut, ...]
    smallest: float


def compare_fellows(
    resistance: Sequence[float], uncertainty: float = 0.0, false_alarm: float = FALSE_ALARM
) -> Fellows | None:
    """Find those of like wires that stand out; None where they are too few to tell.

    The generalised extreme Studentized deviate: the farthest from the mean is taken out again and again, and the largest number
    of steps counts at which it was farther than chance allows, so that one bad wire does not hide another.

    Parameters
    ----------
    resistance
        Ohm of each wire, end to end, n of them.
    uncertainty
        Ohm: what reading alone scatters by, as a standard deviation; the group's scatter is not taken for less.
    false_alarm
        Chance that a group of sound wires is told of any.

    Notes
    -----
    Source: "Rosner". Wires scatter normally about their mean; a third of the group at most is looked at.
    """
    values = np.asarray(resistance, float)
    n = len(values)
    if not np.isfinite(values).all():
        raise ArgumentFault("resistance", "a value that is not finite", "finite numbers")
    if n < FEWEST:
        return None
    most = max(int(n * LARGEST_SHARE), 1)
    removed, beyond = rosner(values, most, false_alarm, uncertainty)
    out = removed[:beyond]
    rest = np.delete(values, out)
    middle, scatter = float(rest.mean()), max(float(rest.std(ddof=1)), uncertainty)
    spread = scatter * math.sqrt(1 + 1 / len(rest))
    half = float(stats.t.ppf(0.975, len(rest) - 1)) * spread
    found = tuple(
        StandsOut(index, float(values[index]) - middle, float(values[index]) - middle - half,
                  float(values[index]) - middle + half)
        for index in out
    )  # fmt: skip
    reach = float(stats.t.isf(false_alarm / (2 * (len(rest) + 1)), len(rest) - 1)) * spread
    return Fellows(middle, scatter, found, reach)


def rosner(
    values: np.ndarray, most: int, false_alarm: float, least_scatter: float = 0.0
) -> tuple[list[int], int]:
    """Indices of the `most` farthest values, one after the other, and how many of them stand out. Source: "Rosner"."""
    left = list(range(len(values)))
    removed: list[int] = []
    beyond = 0
    for step in range(1, most + 1):
        here = values[left]
        if len(here) < 3:
            break
        apart = np.abs(here - here.mean())
        scatter = max(float(here.std(ddof=1)), least_scatter)
        worst = int(apart.argmax())
        statistic = float(apart[worst]) / scatter if scatter > 0 else 0.0
        removed.append(left.pop(worst))
        if statistic > critical_deviate(len(values), step, false_alarm):
            beyond = step
    return removed, beyond


def critical_deviate(n: int, step: int, false_alarm: float) -> float:
    """How far, in standard deviations, the farthest of n − step + 1 normal values may lie by chance. Source: "Rosner"."""
    left = n - step
    t = float(stats.t.isf(false_alarm / (2 * (left + 1)), left - 1))
    return left * t / math.sqrt((left - 1 + t * t) * (left + 1))
