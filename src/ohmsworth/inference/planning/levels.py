"""How much specimens, matings and readings scatter: what a plan has to assume."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

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


@dataclass(frozen=True, slots=True)
class Future:
    """One future mating of one future specimen: its variance, the degrees of freedom, and the mean's variance."""

    variance: float
    freedom: float
    mean: float


def future_known(levels: Levels, specimens: int, matings: int, readings: int) -> Future:
    """How well a design will know one condition's future matings.

    Degrees of freedom by Satterthwaite, from the mean squares of the balanced nested design. Where a mating has one
    reading, its scatter cannot be told from the mating's and belongs to the future too.
    """
    n, m, r = specimens, matings, readings
    single = levels.reading**2
    per_mating = r * levels.mating**2 + single
    per_specimen = m * r * levels.specimen**2 + per_mating
    apart = 1 / r if r > 1 else 0.0
    squares = (
        (per_specimen, 1 / (m * r), n - 1),
        (per_mating, (1 - 1 / m) / r, n * (m - 1)),
        (single, -apart, n * m * (r - 1)),
    )
    variance = sum(square * weight for square, weight, _ in squares)
    spread = sum((square * weight) ** 2 / freedom for square, weight, freedom in squares if freedom > 0)
    freedom = max(variance**2 / spread, 1.0) if spread > 0 else np.inf
    return Future(variance, float(freedom), per_specimen / (n * m * r) + levels.gain**2)
