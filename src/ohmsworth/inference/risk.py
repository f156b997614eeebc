"""Whom a wrong verdict hurts: consumer's and producer's risk, and the guard band that holds them (JCGM 106).

The specific risk is that of one piece whose reading is known. The global risk is that of any piece of a population
that is passed or held back by its reading: true values are normal about `mean` with standard deviation `spread`, readings
are normal about the true value with standard uncertainty `uncertainty`, and a piece is passed when its reading lies within
the limits drawn in by the guard band. On the logarithmic scale all of these are logarithms and relative uncertainties.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from scipy import integrate, optimize, stats

from ohmsworth.errors import ArgumentFault
from ohmsworth.inference.conformity import guard_factor, probability_within
from ohmsworth.readings.study import Scale

#: Guard bands by policy, in standard uncertainties.
POLICIES = {"none": 0.0, "1.645 u": guard_factor(0.95), "U": 2.0}
#: Beyond this many standard deviations a normal population has nothing that counts.
_REACH = 10.0


@dataclass(frozen=True, slots=True)
class Population:
    """True values and how well they are measured, on the scale of analysis: mean, standard deviation, uncertainty."""

    mean: float
    spread: float
    uncertainty: float


@dataclass(frozen=True, slots=True)
class Risks:
    """Probabilities that any piece is passed though it is bad, and held back though it is good."""

    consumer: float
    producer: float


def population_of(scale: Scale, middle: float, spread: float, uncertainty: float) -> Population:
    """A population on the scale of analysis.

    Parameters
    ----------
    scale
        "log": `middle` is the median (ohm), `spread` and `uncertainty` are relative; "linear": all in ohm.
    middle, spread, uncertainty
        Of the true values, and of one reading.
    """
    if spread < 0 or uncertainty < 0 or (scale == "log" and middle <= 0):
        raise ArgumentFault("middle, spread, uncertainty", (middle, spread, uncertainty), "not negative")
    return Population(float(np.log(middle)) if scale == "log" else middle, spread, uncertainty)


def specific_risks(value: float, uncertainty: float, freedom: float, limit: float) -> Risks:
    """Risks of one piece with a known reading: that it is bad if passed, and good if held back.

    Source: JCGM 106:2012, 9.3.
    """
    within = float(probability_within(value, uncertainty, freedom, limit))
    return Risks(1 - within, within)


def known_better(population: Population, reading: float) -> tuple[float, float]:
    """What a reading says of a piece from a known population: mean and standard uncertainty of its true value.

    Source: JCGM 106:2012, 6.2: both normal, weighted by their inverse variances.
    """
    prior, noise = population.spread**2, population.uncertainty**2
    if prior + noise == 0:
        return population.mean, 0.0
    share = prior / (prior + noise)
    return population.mean + share * (reading - population.mean), float(np.sqrt(share * noise))


def global_risks(population: Population, low: float, high: float, guard: float = 0.0) -> Risks:
    """Risks of any piece of the population that is passed when its reading lies in the guarded limits.

    Parameters
    ----------
    population
        On the scale of analysis.
    low, high
        Limits of the true value (−inf or inf where there is none), on that scale.
    guard
        Width by which each limit is drawn in; negative to let out. In the unit of the limits.

    Notes
    -----
    R_C = ∫ over true values outside of the limits, of their density times the chance that the reading is accepted;
    R_P likewise inside. By adaptive quadrature. Source: JCGM 106:2012, 9.5, equations 20 and 21.
    """
    if population.spread == 0:
        good = low <= population.mean <= high
        passed = float(_passed(population, np.array(population.mean), low, high, guard))
        return Risks(0.0, 1 - passed) if good else Risks(passed, 0.0)
    ends = population.mean - _REACH * population.spread, population.mean + _REACH * population.spread

    def mass(start: float, end: float, passed: bool) -> float:
        return _mass(population, max(start, ends[0]), min(end, ends[1]), (low, high, guard), passed)

    consumer = mass(-np.inf, low, True) + mass(high, np.inf, True)
    return Risks(consumer, mass(low, high, False))


def _passed(population: Population, true: np.ndarray, low: float, high: float, guard: float) -> np.ndarray:
    """Chance that the reading of a piece with the true value is accepted."""
    first, last = low + guard, high - guard
    if population.uncertainty == 0:
        return np.asarray((true >= first) & (true <= last), float)
    u = population.uncertainty
    chance = stats.norm.cdf((last - true) / u) - stats.norm.cdf((first - true) / u)
    return np.asarray(np.maximum(chance, 0.0))


def _mass(
    population: Population, start: float, end: float, rule: tuple[float, float, float], passed: bool
) -> float:
    """Probability of a true value between two places whose reading is accepted (or is not)."""
    if end <= start:
        return 0.0

    def density(true: float) -> float:
        chance = float(_passed(population, np.array(true), *rule))
        weight = float(stats.norm.pdf(true, population.mean, population.spread))
        return weight * (chance if passed else 1 - chance)

    width = 8 * population.uncertainty
    edges = {rule[0], rule[1], rule[0] + rule[2], rule[1] - rule[2], population.mean}
    steps = [e + d for e in edges if np.isfinite(e) for d in (-width, 0.0, width) if start < e + d < end]
    places = [start, *sorted(set(steps)), end]
    return sum(integrate.quad(density, a, b, epsabs=1e-13, epsrel=1e-10)[0] for a, b in pairwise(places))


def guard_for_risk(population: Population, limit: float, risk: float) -> float:
    """The guard band below an upper `limit` at which the global consumer's risk is `risk`.

    On the scale of analysis; zero or less where the risk is held without one (negative: the limit might be let out).
    """
    if not 0 < risk < 1 or population.spread <= 0 or population.uncertainty <= 0:
        raise ArgumentFault("risk", risk, "between 0 and 1, of a population with a spread and an uncertainty")
    if global_risks(population, -np.inf, limit, -40 * population.uncertainty).consumer <= risk:
        return -np.inf

    def excess(guard: float) -> float:
        return global_risks(population, -np.inf, limit, guard).consumer - risk

    u, reach = population.uncertainty, 40 * (population.uncertainty + population.spread)
    return float(optimize.brentq(excess, -40 * u, reach, xtol=1e-9 * u))
