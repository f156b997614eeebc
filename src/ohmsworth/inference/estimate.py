"""An estimate with its uncertainty, and how uncertainties add up."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy import stats


@dataclass(frozen=True, slots=True)
class Estimate:
    """An estimate on the scale of analysis with its variance and degrees of freedom."""

    value: float
    variance: float
    freedom: float

    @property
    def standard_error(self) -> float:
        """Square root of the variance."""
        return float(np.sqrt(self.variance))

    def interval(self, coverage: float) -> tuple[float, float]:
        """Two-sided t interval."""
        half = float(stats.t.ppf((1 + coverage) / 2, self.freedom)) * self.standard_error
        return self.value - half, self.value + half

    def p_value(self, against: float = 0.0) -> float:
        """Two-sided p-value of the hypothesis that the value is `against`."""
        if self.variance == 0:
            return float(self.value == against)
        return float(2 * stats.t.sf(abs(self.value - against) / self.standard_error, self.freedom))


def welch_satterthwaite(variances: list[float], freedoms: list[float]) -> float:
    """Effective degrees of freedom of a sum of variances (GUM G.4.1, equation G.2b)."""
    total = sum(variances)
    if len(variances) == 1:
        return freedoms[0]
    spread = sum(v**2 / f for v, f in zip(variances, freedoms, strict=True) if v > 0)
    return total**2 / spread if spread > 0 else np.inf
