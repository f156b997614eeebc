"""How often a treatment leaves a contact good, from what was seen and what was held likely before.

Good after it or not: g of n cases. What was held likely before is a mean m, worth as many cases as c; together

    p ~ Beta(m c + g, (1 − m) c + n − g),   mean (m c + g)/(c + n).

The cases are taken to be alike and independent of one another, and to be all that were treated: a record that keeps successes
only teaches nothing.

Sources: Bayes-Laplace, GelmanBDA, Altham1969.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from scipy import stats

from ohmsworth.errors import ArgumentFault
from ohmsworth.readings.table import Array

#: Shares of a distribution at which the integral over another is cut, and the places looked at in each piece.
_CUTS = (1e-9, 1e-6, 1e-4, 1e-2, 0.1, 0.25, 0.5, 0.75, 0.9, 1 - 1e-2, 1 - 1e-4, 1 - 1e-6, 1 - 1e-9)
_NODES = 24


@dataclass(frozen=True, slots=True)
class Prior:
    """What is held likely before any case: the chance, and as many cases as that is worth.

    Parameters
    ----------
    mean
        Above 0 and below 1.
    cases
        Above 0: with 2 the first two cases of the shop's own count as much as this.
    """

    mean: float
    cases: float

    def __post_init__(self) -> None:
        if not 0 < self.mean < 1:
            raise ArgumentFault("mean", self.mean, "above 0 and below 1")
        if not (math.isfinite(self.cases) and self.cases > 0):
            raise ArgumentFault("cases", self.cases, "a finite number above 0")


@dataclass(frozen=True, slots=True)
class Outcomes:
    """What was seen: how many contacts were good after a treatment, of how many treated."""

    good: int
    cases: int

    def __post_init__(self) -> None:
        if not 0 <= self.good <= self.cases:
            raise ArgumentFault("good", self.good, f"0 to the number of cases, {self.cases}")


@dataclass(frozen=True, slots=True)
class Chance:
    """A chance that is not known for sure: Beta(for_it, against_it).

    Parameters
    ----------
    for_it, against_it
        Cases for and against, those of the prior among them; above 0.
    """

    for_it: float
    against_it: float

    def __post_init__(self) -> None:
        if not (0 < self.for_it < math.inf and 0 < self.against_it < math.inf):
            raise ArgumentFault("for_it, against_it", (self.for_it, self.against_it), "finite and above 0")

    @property
    def mean(self) -> float:
        """The chance that the next case is good."""
        return self.for_it / (self.for_it + self.against_it)

    @property
    def spread(self) -> float:
        """Standard deviation of the chance."""
        return math.sqrt(self.mean * (1 - self.mean) / (self.for_it + self.against_it + 1))

    def interval(self, coverage: float) -> tuple[float, float]:
        """From and to, as likely to lie below as above."""
        tails = np.array([(1 - coverage) / 2, (1 + coverage) / 2])
        low, high = np.asarray(stats.beta.ppf(tails, self.for_it, self.against_it))
        return float(low), float(high)

    def of_next(self, number: int) -> Array:
        """Probabilities that 0, 1, ... `number` of the next `number` cases are good, shape (number + 1,)."""
        if number < 0:
            raise ArgumentFault("number", number, "0 or more")
        counts = np.arange(number + 1)
        return np.asarray(stats.betabinom.pmf(counts, number, self.for_it, self.against_it))


def chance_after(prior: Prior, seen: Outcomes) -> Chance:
    """What is known of a chance after some cases have been seen."""
    return Chance(
        prior.mean * prior.cases + seen.good, (1 - prior.mean) * prior.cases + seen.cases - seen.good
    )


def chance_better(one: Chance, other: Chance) -> float:
    """Probability that the first of two chances is the larger; each is known from cases of its own.

    ∫ F_other(x) f_one(x) dx, by Gauss and Legendre's quadrature over the shares of the first.
    """
    return chances_best({"one": one, "other": other})["one"]


def chances_best(chances: Mapping[str, Chance]) -> dict[str, float]:
    """Probability that each of several chances is the largest, by name; they add up to 1.

    Parameters
    ----------
    chances
        By name, one or more, known independently of one another.
    """
    if not chances:
        raise ArgumentFault("chances", 0, "one or more")
    return {name: _best(name, chances) for name in chances}


def ranked(chances: Mapping[str, Chance]) -> tuple[str, ...]:
    """Names by the mean chance, the largest first; of equals in the order given."""
    return tuple(sorted(chances, key=lambda name: -chances[name].mean))


def _best(name: str, chances: Mapping[str, Chance]) -> float:
    own = chances[name]
    others = [one for key, one in chances.items() if key != name]
    # Cut where the others begin and end to matter, and towards both ends, so that no narrow step is missed.
    cuts = [np.array(_CUTS)]
    for other in others:
        places = stats.beta.ppf(_CUTS, other.for_it, other.against_it)
        cuts.append(np.asarray(stats.beta.cdf(places, own.for_it, own.against_it)))
    ends = np.unique(np.concatenate([[0.0, 1.0], *cuts]))
    nodes, weights = np.polynomial.legendre.leggauss(_NODES)
    half, middle = np.diff(ends) / 2, (ends[1:] + ends[:-1]) / 2
    shares = middle[:, None] + half[:, None] * nodes
    x = stats.beta.ppf(shares, own.for_it, own.against_it)
    below = math.prod(
        (stats.beta.cdf(x, one.for_it, one.against_it) for one in others), start=np.ones_like(x)
    )
    return float(half @ (below @ weights))
