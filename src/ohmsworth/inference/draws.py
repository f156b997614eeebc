"""Contacts drawn from a population: what a set of fresh contacts may have, evenly spread and without chance.

The draws are points of a Sobol sequence carried to the distribution, so that the same study always gives the same bands.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from scipy import special, stats

from ohmsworth.errors import ArgumentFault
from ohmsworth.inference.future import Future
from ohmsworth.readings.table import Array

#: A power of two, at which the sequence is evenly spread.
DRAWS = 1024
#: More degrees of freedom than this are taken as known for sure.
_SURE = 1e5


def future_draws(future: Future, contacts: int) -> Array:
    """Sets of `contacts` fresh contacts each, on the scale of analysis, shape (DRAWS, contacts).

    In each set the population's mean and variances are one that the study allows, U ν/χ²(ν) and W ν/χ²(ν) as for a future
    value, and its contacts scatter about that mean independently.

    Parameters
    ----------
    future
        What is known of one future value.
    contacts
        How many make a set, 1 or more.
    """
    if contacts < 1:
        raise ArgumentFault("contacts", contacts, "1 or more")
    even = _even(3 + contacts)
    square = future.between * _over_chi(even[:, 0], future.between_freedom)
    value = np.maximum(square + future.inside * _over_chi(even[:, 1], future.inside_freedom), 0.0)
    scores = special.ndtri(even[:, 2:])
    mean = future.mean + np.sqrt(square / future.specimens + future.known) * scores[:, 0]
    return np.asarray(mean[:, None] + np.sqrt(value)[:, None] * scores[:, 1:])


def stated_draws(median: float, spread: float, contacts: int) -> Array:
    """Sets of contacts in ohm whose logarithms scatter by `spread` about that of `median`, shape (DRAWS, contacts).

    Parameters
    ----------
    median
        Ohm, more than 0.
    spread
        Standard deviation of the natural logarithm, 0 or more: about the relative one while that is small.
    contacts
        How many make a set, 1 or more.
    """
    if not (np.isfinite(median) and median > 0):
        raise ArgumentFault("median", median, "a resistance above 0 ohm")
    if not (np.isfinite(spread) and spread >= 0):
        raise ArgumentFault("spread", spread, "0 or more")
    if contacts < 1:
        raise ArgumentFault("contacts", contacts, "1 or more")
    return np.asarray(median * np.exp(spread * special.ndtri(_even(contacts))))


@lru_cache(maxsize=32)
def _even(dimensions: int) -> Array:
    """Points inside the unit cube, shape (DRAWS, dimensions), half a step away from its faces."""
    points = stats.qmc.Sobol(dimensions, scramble=False).random(DRAWS) + 0.5 / DRAWS
    points.setflags(write=False)
    return np.asarray(points)


def _over_chi(probability: Array, freedom: float) -> Array:
    """ν/χ²(ν) at each probability."""
    if freedom > _SURE:
        return np.ones_like(probability)
    return np.asarray(freedom / np.maximum(special.chdtri(freedom, probability), 1e-290))
