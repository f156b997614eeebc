"""What a treatment does to the same contacts: the ratio of resistance after it to before, in one job and over several.

d = ln(treated/untreated) of each contact; its mean with Student's t, and the exact sign-flip test beside it, which asks for no
normal distribution. Over several jobs the scatter of d within jobs is taken to be the same in all, for a job of two or three
contacts shows its own poorly; u = s/√n goes into the pooling of studies, which lets jobs differ.

Sources: Fisher-sign-flip; as for `pooled.py`.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from ohmsworth.errors import ArgumentFault
from ohmsworth.inference.estimate import Estimate
from ohmsworth.inference.permutation import Exact, sign_flips
from ohmsworth.inference.pooled import Pooled, StudyEffect, pool_studies
from ohmsworth.inference.scale import Interval, antilog
from ohmsworth.readings.table import Array


@dataclass(frozen=True, slots=True)
class Change:
    """What happened to the contacts of one job.

    Parameters
    ----------
    contacts
        How many were read before and after.
    mean
        Of ln(treated/untreated). Its variance is infinite for one contact, which shows no scatter.
    exact
        The sign-flip test of no change.
    """

    contacts: int
    mean: Estimate
    exact: Exact

    @property
    def ratio(self) -> float:
        """After over before, the middle of the contacts."""
        return antilog(self.mean.value)

    def interval(self, coverage: float) -> Interval:
        """Of the ratio: from 0 to infinity for one contact."""
        if self.contacts == 1:
            return 0.0, math.inf
        low, high = self.mean.interval(coverage)
        return antilog(low), antilog(high)


def log_ratios(untreated: Array, treated: Array) -> Array:
    """ln(treated/untreated) of each contact.

    Parameters
    ----------
    untreated, treated
        Ohm of the same contacts in the same order, each above zero.

    Raises
    ------
    ArgumentFault
        For resistances that have no ratio, or rows of unequal length.
    """
    first, second = np.asarray(untreated, float), np.asarray(treated, float)
    if first.ndim != 1 or first.shape != second.shape or len(first) == 0:
        raise ArgumentFault(
            "untreated, treated", (first.shape, second.shape), "two rows of the same contacts"
        )
    for name, values in (("untreated", first), ("treated", second)):
        if not (np.isfinite(values).all() and (values > 0).all()):
            raise ArgumentFault(
                name, values[~(np.isfinite(values) & (values > 0))], "resistances above zero ohm"
            )
    return np.asarray(np.log(second / first))


def before_after(untreated: Array, treated: Array, seed: int) -> Change:
    """The change in one job.

    Parameters
    ----------
    untreated, treated
        Ohm of the same contacts in the same order.
    seed
        For the sign flips where there are too many to look at all.
    """
    d = log_ratios(untreated, treated)
    exact = sign_flips(d, seed)
    assert exact is not None
    n = len(d)
    variance = float(d.var(ddof=1) / n) if n > 1 else math.inf
    return Change(n, Estimate(float(d.mean()), variance, float(max(n - 1, 1))), exact)


def over_jobs(jobs: Mapping[str, Array], coverage: float = 0.95) -> Pooled | None:
    """The change over several jobs.

    Parameters
    ----------
    jobs
        ln(treated/untreated) of each contact, by job, as from `log_ratios`.
    coverage
        Of the interval of what jobs differ by.

    Returns
    -------
    Pooled or None
        None where no job has two contacts that differ: then what is inside a job and what is between jobs cannot be told
        apart, and all contacts are best taken as one job.
    """
    rows = {name: np.asarray(values, float) for name, values in jobs.items()}
    if any(len(row) == 0 or not np.isfinite(row).all() for row in rows.values()):
        raise ArgumentFault(
            "jobs", "an empty job, or values that are no numbers", "one contact or more a job"
        )
    freedom = sum(len(row) - 1 for row in rows.values())
    squares = sum(float(((row - row.mean()) ** 2).sum()) for row in rows.values())
    if freedom == 0 or squares == 0:
        return None
    scatter = math.sqrt(squares / freedom)
    effects = [
        StudyEffect(name, float(row.mean()), scatter / math.sqrt(len(row)), float(freedom))
        for name, row in rows.items()
    ]
    return pool_studies(effects, coverage)
