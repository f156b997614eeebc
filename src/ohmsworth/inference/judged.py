"""A fitted mixed model, and its small-sample inference at the zero bound too.

What is reported is bounded: no scatter is less than none. What contrasts are judged by need not be. Where a component is
held at zero, Kenward-Roger intervals cover 97 to 100 % for 95 % and are needlessly wide; so there the same model is fitted with
components let below zero, which in a balanced design is the analysis of variance with its exact t and F.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ohmsworth.inference.design import Design
from ohmsworth.inference.estimate import Estimate
from ohmsworth.inference.kenward_roger import (
    FTest,
    SmallSample,
    contrast_freedom,
    joint_test,
    small_sample,
)
from ohmsworth.inference.reml import Fit, fit_reml, fit_unbounded
from ohmsworth.readings.table import Array

#: Share of the trace below which a negative eigenvalue is rounding.
_ROUNDING = 1e-9
#: More observations than this leave no level with a few degrees of freedom only by their imbalance.
_MOST_RANKED = 400


@dataclass(frozen=True, slots=True, eq=False)
class Judged:
    """A fitted model.

    Parameters
    ----------
    fit, parts
        The scatter as it is reported, bounded at zero, and its small-sample parts.
    mean, loose
        Coefficients and small-sample parts that contrasts are judged by: of the unbounded fit where `fit` is at the bound.
    fewest
        Degrees of freedom that a contrast has at least, where `fit` is at the bound.
    """

    fit: Fit
    parts: SmallSample
    mean: Array
    loose: SmallSample
    fewest: float = 0.0


def judge(design: Design, split: frozenset[str] = frozenset()) -> Judged:
    """Fit `design`, with separate scatter for each condition at the levels `split`.

    Raises
    ------
    ArgumentFault
        When there is no scatter at all to fit.
    """
    fit = fit_reml(design, split)
    parts = small_sample(fit)
    if not fit.at_bound:
        return Judged(fit, parts, fit.mean, parts)
    unbounded, fewest = fit_unbounded(fit, split), _fewest_freedom(design)
    if unbounded is None:
        return Judged(fit, parts, fit.mean, parts, fewest)
    return Judged(fit, parts, unbounded.mean, small_sample(unbounded), fewest)


def _fewest_freedom(design: Design) -> float:
    """The fewest degrees of freedom that any level has of its own, from the outside in.

    Every contrast of a balanced design has those of one level or, put together, more than the fewest. With variances below zero
    and unequal numbers Kenward and Roger's expansion can give less than one degree of freedom, which no data have.
    """
    levels = [level for level in design.levels if level is not design.residual]
    if len(design.y) > _MOST_RANKED:
        return 1.0
    columns, found = design.fixed.T, []
    rank = int(np.linalg.matrix_rank(columns))
    for level in levels:
        columns = np.hstack([columns, np.eye(level.size)[level.node]])
        more = int(np.linalg.matrix_rank(columns)) - rank
        found += [more] if more else []
        rank += more
    found += [len(design.y) - rank] if len(design.y) > rank else []
    return float(min(found, default=1))


def estimate(judged: Judged, contrast: Array) -> Estimate:
    """A contrast of the coefficients (weights of shape (p,)), with Kenward-Roger variance and degrees of freedom."""
    mean, parts, covariance = _sound(judged, contrast[None])
    freedom = contrast_freedom(parts, contrast)
    freedom = max(freedom, judged.fewest)
    return Estimate(float(contrast @ mean), max(float(covariance[0, 0]), 0.0), freedom)


def covariance_of(judged: Judged, contrasts: Array) -> Array:
    """Covariance of several contrasts (rows, shape (r, p)), shape (r, r)."""
    return _sound(judged, contrasts)[2]


def jointly_zero(judged: Judged, contrasts: Array) -> FTest:
    """Kenward-Roger F test that all of several independent contrasts (rows, shape (r, p)) are zero."""
    mean, parts, _ = _sound(judged, contrasts)
    return joint_test(parts, mean, contrasts)


def _sound(judged: Judged, contrasts: Array) -> tuple[Array, SmallSample, Array]:
    """Mean, parts and covariance of contrasts: unbounded where that is a covariance, else bounded, else unadjusted.

    The adjustment is an expansion, and an unbounded fit need not give what it does not judge a positive variance.
    """
    for mean, parts in ((judged.mean, judged.loose), (judged.fit.mean, judged.parts)):
        # The adjustment can hide a plain one below zero, from a fit on its way to a singular V: its mean is no mean either.
        plain, covariance = (contrasts @ one @ contrasts.T for one in (parts.plain, parts.adjusted))
        if _is_covariance(plain) and _is_covariance(covariance):
            return mean, parts, covariance
    return judged.fit.mean, judged.parts, contrasts @ judged.parts.plain @ contrasts.T


def _is_covariance(matrix: Array) -> bool:
    size = float(matrix.diagonal().min())
    return size > 0 and float(np.linalg.eigvalsh(matrix).min()) > -_ROUNDING * float(matrix.trace())
