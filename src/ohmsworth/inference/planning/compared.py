"""Chances of a comparison of two conditions: to see a difference, or to show on which side of a margin it lies."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from scipy import special, stats

from ohmsworth.inference.planning.chances import chances_between, chances_beyond
from ohmsworth.readings.table import Array

#: Points at which the share of the two variances is looked at, where each condition keeps its own.
_SHARES = 6
#: Degrees of freedom beyond which Student's t is normal.
_MOST = 1e12
_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(2 * _SHARES)


@dataclass(frozen=True, slots=True)
class Contrast:
    """How well a difference of two conditions will be known, on the scale of analysis.

    Parameters
    ----------
    variance
        Of the difference, from scatter; estimated by the study itself with `freedom` degrees of freedom.
    fixed
        Variance on top that no further measurement averages down; known beforehand.
    freedom
        Degrees of freedom of `variance`, of both conditions together.
    own
        Whether each condition's specimens keep a variance of their own (Welch), here with `freedom` / 2 each and
        alike in truth; otherwise it is pooled, or that of paired differences.
    """

    variance: float
    fixed: float
    freedom: float
    own: bool = False

    @property
    def error(self) -> float:
        """True standard error."""
        return float(np.sqrt(self.variance + self.fixed))


def chance_to_detect(contrast: Contrast, difference: float, alpha: float) -> float:
    """Chance that the two-sided t test at level `alpha` finds a true `difference`.

    Non-central t, both tails: at no difference it is `alpha`.
    """
    if contrast.freedom < 1:
        return 0.0
    if contrast.error == 0:
        return float(difference != 0)
    shift = difference / contrast.error

    def both(critical: Array, freedom: float) -> Array:
        return chances_beyond(shift, critical, freedom) + chances_beyond(-shift, critical, freedom)

    return _averaged(contrast, both, alpha / 2)


def chance_to_settle(
    contrast: Contrast, difference: float, margins: tuple[float, float], alpha: float
) -> float:
    """Chance of the clear verdict that a true `difference` deserves.

    Parameters
    ----------
    contrast
        How well the difference will be known.
    difference
        True difference, scale of analysis.
    margins
        Lower and upper margin on the scale of analysis (−inf when none below).
    alpha
        Level of each one-sided test.
    """
    if contrast.freedom < 1:
        return 0.0
    low, high = margins
    if contrast.error == 0:
        return float(difference not in margins)
    to_low, to_high = (low - difference) / contrast.error, (high - difference) / contrast.error
    if to_high <= 0:
        return _averaged(contrast, lambda t, f: chances_beyond(-to_high, t, f), alpha)
    if to_low >= 0:
        return _averaged(contrast, lambda t, f: chances_beyond(to_low, t, f), alpha)
    return _averaged(contrast, lambda t, f: chances_between(to_low, to_high, t, f), alpha)


def _averaged(contrast: Contrast, chances: Callable[[Array, float], Array], tail: float) -> float:
    """The chance, averaged over the degrees of freedom that will be found.

    Two variances alike in truth, with ν each: their sum and their share w are independent, w is beta distributed with
    ν/2 and ν/2, and Welch's degrees of freedom are ν / (w² + (1 − w)²).
    """
    known = _known_too(contrast)
    total = min(contrast.freedom * known, _MOST)
    if not contrast.own:
        return float(np.minimum(chances(np.array([stats.t.ppf(1 - tail, total)]), total), 1.0)[0])
    each = contrast.freedom / 2
    share = special.betaincinv(each / 2, each / 2, (1 + _NODES) / 2)[
        :_SHARES
    ]  # to one half; the rest mirrors it
    found = np.minimum(each / (share**2 + (1 - share) ** 2) * known, _MOST)
    chance = chances(np.asarray(stats.t.ppf(1 - tail, found)), total)
    return min(float(np.dot(_WEIGHTS[:_SHARES], chance)), 1.0)


def _known_too(contrast: Contrast) -> float:
    """Factor by which a part that is known beforehand raises the degrees of freedom (Welch and Satterthwaite)."""
    if contrast.fixed == 0:
        return 1.0
    return (
        ((contrast.variance + contrast.fixed) / contrast.variance) ** 2 if contrast.variance > 0 else np.inf
    )
