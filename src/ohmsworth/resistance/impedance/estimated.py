"""A number with its uncertainty from noise and from sources that other numbers share."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from scipy import stats


@dataclass(frozen=True, slots=True)
class Estimated:
    """A value in SI units.

    Parameters
    ----------
    value
        The estimate.
    random
        Standard uncertainty from noise.
    degrees
        Degrees of freedom of `random`.
    shared
        What one standard uncertainty of each further source does to `value`, with its sign; the sources are known as
        well as with infinite degrees of freedom.
    """

    value: float
    random: float
    degrees: float
    shared: Mapping[str, float]

    @property
    def uncertainty(self) -> float:
        """Combined standard uncertainty (GUM 5.1.2)."""
        return float(np.sqrt(self.random**2 + sum(part**2 for part in self.shared.values())))

    @property
    def freedom(self) -> float:
        """Effective degrees of freedom of `uncertainty`, by Welch and Satterthwaite (GUM G.4.1)."""
        if self.random == 0 or np.isinf(self.degrees):
            return np.inf
        return float(self.degrees * (self.uncertainty / self.random) ** 4)

    def interval(self, coverage: float = 0.95) -> tuple[float, float]:
        """Two-sided interval by Student's t."""
        half = float(stats.t.ppf((1 + coverage) / 2, self.freedom)) * self.uncertainty
        return self.value - half, self.value + half

    def p_value(self) -> float:
        """Two-sided p-value of the hypothesis that the true value is zero."""
        if self.uncertainty == 0:
            return float(self.value == 0)
        return float(2 * stats.t.sf(abs(self.value) / self.uncertainty, self.freedom))


def subtracted(first: Estimated, second: Estimated) -> Estimated:
    """`first` minus `second`: noise independent, sources of one name cancel with their sign."""
    squares = first.random**2, second.random**2
    spread = squares[0] ** 2 / first.degrees + squares[1] ** 2 / second.degrees
    names = [*first.shared, *(name for name in second.shared if name not in first.shared)]
    return Estimated(
        first.value - second.value,
        float(np.sqrt(sum(squares))),
        sum(squares) ** 2 / spread if spread > 0 else np.inf,
        {name: first.shared.get(name, 0.0) - second.shared.get(name, 0.0) for name in names},
    )
