"""How much more would settle it: specimens and matings for a verdict, from the scatter found so far."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy import stats

#: Beyond this many specimens a condition the question is not one that measuring settles.
MOST_SPECIMENS = 2000
POWER = 0.8


@dataclass(frozen=True, slots=True)
class Scatter:
    """Variances on the scale of analysis that enter the difference of two conditions.

    Parameters
    ----------
    specimen
        What a further specimen averages down (response, when paired), both conditions together.
    mating
        What a further mating of the same specimen averages down, both conditions together.
    fixed
        What no further measurement averages down.
    paired
        Whether the same specimens serve both conditions.
    """

    specimen: float
    mating: float
    fixed: float
    paired: bool


@dataclass(frozen=True, slots=True)
class Needed:
    """A design that would settle it with a chance of at least `power`, if the difference is as found."""

    specimens: int
    matings: int
    power: float


def chance_to_settle(
    scatter: Scatter,
    difference: float,
    margins: tuple[float, float],
    specimens: int,
    matings: int,
    alpha: float,
) -> float:
    """Chance that `specimens` a condition with `matings` each give a clear verdict.

    `margins` are the lower and upper margin on the scale of analysis (−inf when none below).
    """
    freedom = (specimens - 1) * (1 if scatter.paired else 2)
    error = np.sqrt((scatter.specimen + scatter.mating / matings) / specimens + scatter.fixed)
    if freedom < 1:
        return 0.0
    if error == 0:
        return 1.0
    reach = float(stats.t.ppf(1 - alpha, freedom))
    low, high = margins
    above = _beyond((difference - high) / error, reach, freedom)
    below = _beyond((low - difference) / error, reach, freedom)
    inside = _beyond((high - difference) / error, reach, freedom) + _beyond(
        (difference - low) / error, reach, freedom
    )
    return float(max(above, below, inside - 1, 0.0))


def _beyond(shift: float, reach: float, freedom: float) -> float:
    if shift == np.inf:
        return 1.0
    if shift == -np.inf:
        return 0.0
    if freedom > 200 or abs(shift) > 30:  # scipy's non-central t loses accuracy far out; there it is normal
        return float(stats.norm.sf(reach - shift))
    return float(stats.nct.sf(reach, freedom, shift))


def specimens_needed(
    scatter: Scatter, difference: float, margins: tuple[float, float], matings: int, alpha: float
) -> Needed | None:
    """Fewest specimens a condition that settle it with `matings` each; None when more than MOST_SPECIMENS."""

    def chance(n: int) -> float:
        return chance_to_settle(scatter, difference, margins, n, matings, alpha)

    if chance(MOST_SPECIMENS) < POWER:
        return None
    low, high = 1, MOST_SPECIMENS
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if chance(middle) >= POWER else (middle, high)
    return Needed(high, matings, chance(high))
