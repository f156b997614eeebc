"""How much specimens, matings and readings scatter: what a plan has to assume."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ohmsworth.inference.future import Future
from ohmsworth.inference.planning.compared import Contrast

#: From so many specimens a condition on, separate ones keep their own condition's scatter (decision 0015).
_OWN_FROM = 3


@dataclass(frozen=True, slots=True)
class Levels:
    """Standard deviations on the scale of analysis, alike in every condition.

    Parameters
    ----------
    specimen
        Between specimens of one condition.
    response
        Between specimens in how they answer to a change of condition, in each condition.
    mating
        From mating to mating of one specimen.
    reading
        From reading to reading of one mating; a reading is one resistance, from the current forward and reversed.
    gain
        Standard uncertainty that the meters share among all readings.
    """

    specimen: float
    response: float
    mating: float
    reading: float
    gain: float = 0.0

    def of_cell(self, paired: bool, matings: int, readings: int) -> float:
        """Variance of one specimen's mean under one condition, as far as it enters a difference."""
        outer = self.response if paired else self.specimen
        return outer**2 + self.below(matings, readings)

    def below(self, matings: int, readings: int) -> float:
        """Variance of one specimen's mean about that specimen."""
        return self.mating**2 / matings + self.reading**2 / (matings * readings)


def difference_known(
    levels: Levels, paired: bool, pooled: bool, specimens: int, matings: int, readings: int
) -> Contrast:
    """How well a design will know the difference of two conditions; the meters' gain cancels.

    Parameters
    ----------
    levels
        Scatter.
    paired
        Whether the same specimens serve both conditions.
    pooled
        Whether conditions are taken to scatter alike.
    specimens, matings, readings
        Specimens a condition, matings of each, readings of each mating.
    """
    variance = 2 * levels.of_cell(paired, matings, readings) / specimens
    freedom = (specimens - 1) * (1 if paired else 2)
    own = not paired and not pooled and specimens >= _OWN_FROM
    return Contrast(variance, 0.0, freedom, own)


def future_known(levels: Levels, specimens: int, matings: int, readings: int) -> Future:
    """What a design will know of one condition's future matings, with the true variances in it and a mean of zero.

    From the mean squares of the balanced nested design. Where a mating has one reading, its scatter cannot be told from
    the mating's and belongs to the future too; where a specimen has one mating, all is the specimen's.
    """
    n, m, r = specimens, matings, readings
    single = levels.reading**2
    per_mating = levels.mating**2 + single / r
    between = levels.specimen**2 + per_mating / m
    # What one mating scatters more than the mean of m, less the scatter of readings that can be told apart.
    parts = (
        (per_mating * (1 - 1 / m), n * (m - 1)),
        (-single / r if r > 1 else 0.0, n * m * (r - 1)),
    )
    inside = sum(part for part, _ in parts)
    spread = sum(part**2 / freedom for part, freedom in parts if freedom > 0)
    freedom = max(inside**2 / spread, 1.0) if inside > 0 and spread > 0 else np.inf
    return Future(0.0, between, float(n - 1), float(n), inside, float(freedom), levels.gain**2)
