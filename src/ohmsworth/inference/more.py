"""How much more would settle it: specimens and matings for a verdict, from the scatter found so far."""

from __future__ import annotations

from dataclasses import dataclass

from ohmsworth.inference.planning.compared import Contrast
from ohmsworth.inference.planning.compared import chance_to_settle as chance_of_contrast

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
    own
        Whether each condition's specimens keep a variance of their own.
    """

    specimen: float
    mating: float
    fixed: float
    paired: bool
    own: bool = False


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
    """Chance that `specimens` a condition with `matings` each give the clear verdict that is due.

    `margins` are the lower and upper margin on the scale of analysis (−inf when none below).
    """
    freedom = (specimens - 1) * (1 if scatter.paired else 2)
    variance = (scatter.specimen + scatter.mating / matings) / specimens
    known = Contrast(variance, scatter.fixed, freedom, scatter.own and not scatter.paired)
    return chance_of_contrast(known, difference, margins, alpha)


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
