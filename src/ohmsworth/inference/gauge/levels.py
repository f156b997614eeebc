"""Standard deviations of a check standard level by level: within a day, between days, between runs.

Level 1 is pooled from the days' own standard deviations; level 2 from the days' averages within each run; level
3 is the standard deviation of the runs' averages. None of them is freed of the levels below it. Source:
NIST-handbook, 2.4.4 and 2.6.2.
"""

from __future__ import annotations

import numpy as np

from ohmsworth.errors import ArgumentFault
from ohmsworth.readings.table import Array, Codes


def pooled_deviation(values: Array, freedom: Array) -> tuple[float, float]:
    """Standard deviation pooled from standard deviations `values`, each with its degrees of freedom; and theirs."""
    total = float(np.sum(freedom))
    if total <= 0:
        raise ArgumentFault("freedom", total, "one degree of freedom or more")
    return float(np.sqrt(np.sum(freedom * np.asarray(values) ** 2) / total)), total


def level_deviations(values: Array, codes: Codes) -> tuple[tuple[float, ...], float | None]:
    """Level 2 of each run from the days' averages `values`, and level 3 of the runs (None of a single run).

    Parameters
    ----------
    values
        Average of each day.
    codes
        Number of the run to which each day belongs, from 0; two days or more in each.
    """
    runs = [np.asarray(values)[codes == run] for run in range(int(codes.max()) + 1)]
    if any(len(run) < 2 for run in runs):
        raise ArgumentFault("codes", "a run of fewer than two days", "two days or more in each run")
    second = tuple(float(run.std(ddof=1)) for run in runs)
    third = float(np.std([run.mean() for run in runs], ddof=1)) if len(runs) > 1 else None
    return second, third
