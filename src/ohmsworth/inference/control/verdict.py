"""All charts of a check standard together: which checks stand out, and whether the last one lets the day begin.

"Look first" when the last check signals on the individuals chart, the EWMA or the CUSUM. A moving range alone
changes nothing: it says that two checks differ, not that today's level is wrong.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ohmsworth.inference.control.charts import (
    DECISION,
    EWMA_WIDTH,
    SLACK,
    WEIGHT,
    WIDTH,
    Cusum,
    Ewma,
    Individuals,
    Limits,
    cusum,
    ewma,
    individuals,
    limits_from,
    moving_ranges,
)
from ohmsworth.inference.control.run_length import (
    cusum_run_length,
    ewma_run_length,
    shewhart_run_length,
)
from ohmsworth.readings.table import Array

FIT, LOOK = "fit today", "look first"
#: Checks that set the limits unless the owner says otherwise, and how few can set any.
USUAL_FIRST, FEWEST = 20, 5
BEYOND, DRIFT, CREEP, JUMP = "beyond its limits", "drift", "lasting offset", "jump"


@dataclass(frozen=True, slots=True, eq=False)
class ControlResult:
    """The charts of one check standard.

    Parameters
    ----------
    limits
        What they rest on.
    single, step, average, sums
        Individuals, moving ranges, EWMA, CUSUM.
    rules
        For each check the rules that it breaks, worst first.
    """

    limits: Limits
    single: Individuals
    step: Individuals
    average: Ewma
    sums: Cusum
    rules: tuple[tuple[str, ...], ...]

    @property
    def verdict(self) -> str:
        """What the last check says."""
        return LOOK if any(rule != JUMP for rule in self.rules[-1]) else FIT


def control(values: Array, first: int | None = None) -> ControlResult | None:
    """Chart the `values` in order; None where they are too few or all alike, so that no limit can be set."""
    begun = min(USUAL_FIRST if first is None else first, len(values))
    if begun < FEWEST:
        return None
    limits = limits_from(values, begun)
    # Steps of the last binary digit are rounding, not scatter.
    if limits.deviation <= 16 * float(np.spacing(np.abs(values).max())):
        return None
    single, step = individuals(values, limits), moving_ranges(values, limits)
    average, sums = ewma(values, limits), cusum(values, limits)
    seen = (
        (BEYOND, single.beyond),
        (DRIFT, average.beyond),
        (CREEP, sums.beyond),
        (JUMP, step.beyond),
    )
    rules = tuple(tuple(name for name, hit in seen if hit[i]) for i in range(len(values)))
    return ControlResult(limits, single, step, average, sums, rules)


def run_lengths(offset: float) -> tuple[float, float, float]:
    """Average run length of the three deciding charts (individuals, EWMA, CUSUM) after a `offset` in σ."""
    return (
        shewhart_run_length(offset, WIDTH),
        ewma_run_length(offset, WEIGHT, EWMA_WIDTH),
        cusum_run_length(offset, SLACK, DECISION),
    )
