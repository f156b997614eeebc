"""The scatter of past studies as a prior that may be wrong: how far a history narrows an interval, and whether it fits.

A study finds a variance v of an estimate with ν degrees of freedom; past studies lead one to expect h. With r the true ratio of
this study's standard deviation to what they expect, ν v / (h r²) is chi-squared with ν degrees of freedom, and

    ln r = a + d

a is common to all levels of the study: even odds that the study scatters as the past ones did (normal about zero), or by any
factor up to REACH either way (uniform). d is the level's own: with WEIGHT it is in proportion with the others (normal, with the
spread of past studies among each other and of their estimates), else off by any factor up to FAR. What the levels inside the
specimens show (matings, readings; many degrees of freedom) tells a; v itself tells d.

Given the data r has a distribution on a grid, the estimate is normal given r, and the interval is read off their mixture. It is
handed on as the variance and the degrees of freedom whose t interval has the same width at the study's coverage and at that of
its one-sided verdicts, so that everything downstream stays as it is.

Where the study scatters far more than expected the two uniform parts are all that is left, and the interval is the study's own
t interval: a uniform ln σ leads to Student's t.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

import numpy as np
from scipy import optimize, special, stats

from ohmsworth.inference.equivalence import tost_coverage
from ohmsworth.readings.table import Array

#: Odds given to a level's being in proportion, and to the study's scattering as past ones did, before it is looked at.
WEIGHT, WHOLE = 0.5, 0.5
#: Half of that where little can contradict: one degree of freedom, or no level inside the specimens that is known too.
_WEIGHT_UNCHECKED = 0.25
#: Factors by which a study as a whole, and one level beside the others, may be off.
REACH, FAR = 30.0, 100.0
#: Spread of ln(standard deviation) among studies of one kind, about 20 %, and how many studies that guess is worth.
USUAL_SPREAD, _USUAL_STUDIES = 0.2, 6
#: Beyond this many times the expected standard deviation a history has nothing to say.
MOST = 20.0
_RATIO = np.exp(np.arange(np.log(1e-3), np.log(2e4), 0.07))
_COMMON = np.linspace(-np.log(REACH), np.log(REACH), 81)


@dataclass(frozen=True, slots=True)
class Against:
    """A variance found in this study beside the one that past studies lead one to expect.

    Parameters
    ----------
    variance, freedom
        As found, with its degrees of freedom.
    expected
        What past studies say it should be.
    spread
        Standard deviation of ln(standard deviation) with which they say it.
    """

    variance: float
    freedom: float
    expected: float
    spread: float


@dataclass(frozen=True, slots=True, eq=False)
class Leant:
    """What is known of one variance from this study and past ones together.

    Parameters
    ----------
    expected
        Variance that past studies expect.
    ratio, density
        Ratios of the true standard deviation to the expected one, and the probability of each.
    weight
        Given to the history beforehand.
    proportion, fits
        Probability that this level is in proportion with the others; that it is and the whole study scatters as expected.
    spread
        Standard deviation of ln(standard deviation) with which past studies say what they expect.
    alone
        How likely this study alone makes each ratio, up to a factor.
    """

    expected: float
    ratio: Array
    density: Array
    weight: float
    proportion: float
    fits: float
    spread: float
    alone: Array

    @property
    def past(self) -> Array:
        """How likely past studies make each ratio, up to a factor."""
        return np.asarray(np.exp(-((np.log(self.ratio) / self.spread) ** 2) / 2))

    def half_width(self, coverage: float) -> float:
        """Half-width of the interval of `coverage`, in units of the estimate."""
        return float(np.sqrt(self.expected)) * _half_width(self.ratio, self.density, coverage)


def weight_of(freedom: float, inside: tuple[Against, ...]) -> float:
    """Weight of a history beforehand: less where this study has little to contradict it with.

    Parameters
    ----------
    freedom
        Degrees of freedom of the variance.
    inside
        Variances inside the specimens that history speaks of too.
    """
    if not any(_usable(other) for other in inside):
        return _WEIGHT_UNCHECKED
    return float(np.clip(_WEIGHT_UNCHECKED * freedom, _WEIGHT_UNCHECKED, WEIGHT))


def lean(own: Against, inside: tuple[Against, ...]) -> Leant | None:
    """Bring a variance and its history together.

    Parameters
    ----------
    own
        The variance of the estimate.
    inside
        Variances of the same study at the levels inside its specimens, which share its being off as a whole.

    Returns
    -------
    Leant or None
        None where there is nothing to lean on: no variance found, none expected, or one out of all proportion to it.
    """
    if not _usable(own) or own.variance > MOST**2 * own.expected:
        return None
    common = _common_prior()  # rows: as expected, off as a whole
    for other in inside:
        if _usable(other):
            fit, off = _kernels(round(other.spread, 3))
            known = _likelihood(other) @ (WEIGHT * fit + (1 - WEIGHT) * off)
            common = common * known / known.max()
    common = common / common.sum()
    weight = weight_of(own.freedom, inside)
    fit, off = _kernels(round(own.spread, 3))
    likelihood = _likelihood(own)
    fitting = weight * (common @ fit.T) * likelihood
    apart = (1 - weight) * (common @ off.T) * likelihood
    total = float(fitting.sum() + apart.sum())
    return Leant(
        own.expected,
        _RATIO,
        (fitting + apart).sum(0) / total,
        weight,
        float(fitting.sum() / total),
        float(fitting[0].sum() / total),
        own.spread,
        likelihood,
    )


def speaks(leant: Leant) -> Literal["fits", "in proportion", "does not fit"]:
    """Whether this study speaks for its history: whether it made it likelier than it was beforehand.

    "in proportion" says that the study scatters more or less than past ones as a whole, by one factor at all levels.
    """
    if leant.fits >= leant.weight * WHOLE:
        return "fits"
    return "in proportion" if leant.proportion >= leant.weight else "does not fit"


def equivalent(leant: Leant, coverage: float) -> tuple[float, float]:
    """Variance and degrees of freedom whose t intervals have the widths sought at `coverage` and for one-sided verdicts."""
    levels = (1 + coverage) / 2, (1 + tost_coverage(coverage)) / 2
    wide, narrow = leant.half_width(coverage), leant.half_width(tost_coverage(coverage))

    def lacking(logarithm: float) -> float:
        quantiles = stats.t.ppf(np.array(levels), np.exp(logarithm))
        return float(quantiles[0] / quantiles[1] - wide / narrow)

    low, high = np.log(0.3), np.log(1e5)
    if lacking(high) >= 0:
        freedom = float(np.exp(high))
    elif lacking(low) <= 0:
        freedom = float(np.exp(low))
    else:
        freedom = float(np.exp(optimize.brentq(lacking, low, high, xtol=1e-6)))
    return (wide / float(stats.t.ppf(levels[0], freedom))) ** 2, freedom


def pooled_expectation(variances: Array, freedoms: Array) -> tuple[float, float]:
    """The variance that several past studies expect, and the spread of ln(standard deviation) with which they do.

    The spread holds what the studies' own few degrees of freedom leave open, and how far studies differ beyond that: what
    their logarithms show of it (Var ln χ²(ν) = ψ'(ν/2) taken off), averaged with USUAL_SPREAD, which counts as much as
    _USUAL_STUDIES studies, for three or four studies hardly show it.

    Parameters
    ----------
    variances, freedoms
        What each past study expects, and its degrees of freedom; shape (studies,).
    """
    freedom = float(freedoms.sum())
    expected = float(variances @ freedoms) / freedom
    between, more = USUAL_SPREAD**2, len(variances) - 1
    if more > 0 and (variances > 0).all():
        noise = float(special.polygamma(1, freedoms / 2).mean())
        shown = max(float(np.log(variances).var(ddof=1)) - noise, 0.0) / 4
        between = (_USUAL_STUDIES * between + more * shown) / (_USUAL_STUDIES + more)
    return expected, float(np.sqrt(between * (1 + 1 / len(variances)) + 1 / (2 * freedom)))


def _usable(found: Against) -> bool:
    return found.variance > 0 and found.expected > 0 and 0 < found.freedom < np.inf


def _likelihood(found: Against) -> Array:
    """Of each ratio on the grid, up to a factor."""
    scaled = found.freedom * found.variance / found.expected * _RATIO**-2.0
    logarithm = found.freedom / 2 * np.log(scaled) - scaled / 2
    return np.asarray(np.exp(logarithm - logarithm.max()))


def _common_prior() -> Array:
    """Probability of each common factor, as expected (first row) and off (second)."""
    near = np.exp(-((_COMMON / USUAL_SPREAD) ** 2) / 2)
    return np.stack([WHOLE * near / near.sum(), np.full(len(_COMMON), (1 - WHOLE) / len(_COMMON))])


@lru_cache(maxsize=64)
def _kernels(spread: float) -> tuple[Array, Array]:
    """Densities of ln r at each common factor, in proportion and off; shape (ratios, factors)."""
    apart = np.log(_RATIO)[:, None] - _COMMON[None, :]
    near = np.exp(-((apart / spread) ** 2) / 2) / (spread * np.sqrt(2 * np.pi))
    return near, np.full(apart.shape, 1 / (2 * np.log(FAR)))


def _half_width(ratio: Array, density: Array, coverage: float) -> float:
    def lacking(half: float) -> float:
        return float(density @ (2 * special.ndtr(half / ratio) - 1)) - coverage

    return float(optimize.brentq(lacking, 0.0, 40 * float(ratio[-1]), xtol=1e-9, rtol=1e-9))
