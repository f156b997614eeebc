"""How fast several specimens change, level by level: slopes that differ from specimen to specimen.

    y = h + (b + d) t + e,   d ~ N(0, τ²) a specimen,   e ~ N(0, σ²) a visit

y is ln R or R of one visit, t its time; every course (a specimen under one condition, from one treatment to the next) has a
height h of its own, every level its slope b, every specimen its d. Heights are taken out first, so that only what changed in a
specimen counts, never that older specimens were others from the start. With S = Σ(t − t̄)² over the courses of a specimen, what
is left is its least-squares slope with variance τ² + σ²/S, and the scatter about it with σ²: V is diagonal in σ² and τ²·S, both
found by REML, and the slopes are judged by Kenward and Roger. In a balanced design that is Student's t on the specimens' slopes.

Where REML would have τ² below zero, zero is reported, and the slopes are judged by the fit that may go below, as in `judged`.
Levels keep a scatter of their own where each has two specimens and one has three or more, as conditions do (decision 0015).

Valid for courses that are straight on the scale of analysis. Source: PattersonThompson, KenwardRoger, LairdWare.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from scipy import optimize

from ohmsworth.errors import ArgumentFault
from ohmsworth.inference.estimate import Estimate, sum_of
from ohmsworth.inference.kenward_roger import SmallSample, contrast_freedom, inverse_information
from ohmsworth.inference.simultaneous import coverage_of_each
from ohmsworth.readings.study import Scatter
from ohmsworth.readings.table import Array, Codes, number_cells

#: Specimens from which on a level has a slope of its kind.
FEWEST = 2
#: More levels than this are compared with one of them each, not every two.
MOST_PAIRED = 6
#: τ² looked at, as multiples of σ²/S: below zero as far as one specimen's variance falls to a tenth, and far beyond any.
_LEAST, _MOST, _BELOW, _PLACES = 1e-5, 1e5, 0.9, 61
#: Share of the sum of squares that is rounding.
_ROUNDING = 1e-24
_EQUAL = 1e-9


@dataclass(frozen=True, slots=True)
class LevelSlope:
    """The slope of one level.

    Parameters
    ----------
    slope
        Of the mean of its kind, for one unit of time; None with one specimen only, or where nothing scatters.
    specimens, visits
        That changed with time and so count.
    between, within
        Standard deviations: of the specimens' slopes (τ), and of one visit about its line (σ); None where there is no slope.
    """

    slope: Estimate | None
    specimens: int
    visits: int
    between: float | None
    within: float | None


@dataclass(frozen=True, slots=True)
class SlopeDifference:
    """Slope of level `of` minus that of level `against`: with its own interval, and one that holds for all at once.

    Where every two levels are compared, `of` is the one with the larger slope.
    """

    of: int
    against: int
    estimate: Estimate
    interval: tuple[float, float]
    together: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Slopes:
    """Levels in the order of their numbers; `own_scatter` says whether each has its own."""

    levels: tuple[LevelSlope, ...]
    differences: tuple[SlopeDifference, ...]
    own_scatter: bool


@dataclass(frozen=True, slots=True, eq=False)
class _Units:
    """Specimens of a level: level, S and slope of each, then scatter about the slopes, and visits, by level."""

    level: Codes
    spread: Array
    slope: Array
    squares: Array
    freedom: Array
    visits: Codes


@dataclass(frozen=True, slots=True, eq=False)
class _Fitted:
    """Slopes by level with their small-sample parts, and both standard deviations.

    `fewest` are the degrees of freedom of the specimens' own slopes about their levels: no slope has less to be judged by.
    """

    mean: Array
    parts: SmallSample
    between: float
    within: float
    fewest: float

    def estimate(self, weights: Array) -> Estimate:
        """A weighted sum of the slopes."""
        variance = float(weights @ self.parts.adjusted @ weights)
        if not variance > 0:
            variance = float(weights @ self.parts.plain @ weights)
        freedom = max(contrast_freedom(self.parts, weights), self.fewest)
        return Estimate(float(weights @ self.mean), variance, freedom)


def slopes_by_level(
    time: Array,
    y: Array,
    course: Codes,
    specimen: Codes,
    level: Codes,
    coverage: float = 0.95,
    scatter: Scatter = "auto",
) -> Slopes:
    """Find the slope of every level, and how they differ.

    Parameters
    ----------
    time, y
        Of each visit: when, and the observation on the scale of analysis, shape (n,).
    course
        Number of the course, which has its own height.
    specimen
        Number of the specimen.
    level
        Number of the level, from 0 without a gap.
    coverage
        Of each interval, and of all differences at once.
    scatter
        "equal" for all levels; "by condition" for each; "auto" for each where there are specimens enough.

    Raises
    ------
    ArgumentFault
        For arrays that differ in length, or values that are no numbers.
    """
    t, values = np.asarray(time, float), np.asarray(y, float)
    if t.ndim != 1 or any(np.shape(one) != t.shape for one in (values, course, specimen, level)):
        raise ArgumentFault("time, y", t.shape, "rows of one length")
    if len(t) == 0 or not (np.isfinite(t).all() and np.isfinite(values).all()):
        raise ArgumentFault("time, y", "no visit, or values that are no numbers", "finite numbers")
    number = int(level.max()) + 1
    units = _units(t, values, course, specimen, level, number)
    counts = np.bincount(units.level, minlength=number)
    usable = np.flatnonzero(_scatters(units, counts))
    own = _own(counts[usable], scatter)
    sets = [np.array([one]) for one in usable] if own else [usable] if len(usable) else []
    fits = {int(one): (_fit(units, among), place) for among in sets for place, one in enumerate(among)}
    levels = tuple(_told(fits.get(k), int(counts[k]), int(units.visits[k])) for k in range(number))
    return Slopes(levels, _differences(levels, fits, own, coverage), own)


def _units(t: Array, y: Array, course: Codes, specimen: Codes, level: Codes, number: int) -> _Units:
    """Take the heights out, and bring the courses of a specimen together under each level."""
    node = number_cells([course, level])
    visits = np.bincount(node)
    t, y = (one - (np.bincount(node, one) / visits)[node] for one in (t, y))
    unit = number_cells([level, specimen])
    spread, cross, square = (np.bincount(unit, one) for one in (t * t, t * y, y * y))
    first = np.unique(node, return_index=True)[1]
    freedom = np.bincount(unit) - np.bincount(unit[first], minlength=len(spread)) - 1
    moved = spread > 0
    of, slope = level[np.unique(unit, return_index=True)[1]][moved], cross[moved] / spread[moved]
    squares = np.maximum(square[moved] - slope * cross[moved], 0.0)
    seen = np.bincount(unit)[moved]

    def sums(one: Array | Codes) -> Array:
        return np.asarray(np.bincount(of, one, number), float)

    return _Units(
        of,
        np.asarray(spread[moved], float),
        slope,
        sums(squares),
        sums(freedom[moved]),
        sums(seen).astype(np.int64),
    )


def _scatters(units: _Units, counts: Codes) -> Array:
    """Which levels have specimens enough, and anything that scatters."""
    mean = np.bincount(units.level, units.slope, len(counts)) / np.maximum(counts, 1)
    about = units.spread * (units.slope - mean[units.level]) ** 2
    left = np.bincount(units.level, about, len(counts)) + units.squares
    whole = np.bincount(units.level, units.spread * units.slope**2, len(counts)) + units.squares
    return np.asarray((counts >= FEWEST) & (left > _ROUNDING * whole))


def _own(counts: Codes, scatter: Scatter) -> bool:
    if scatter == "auto":
        return bool(len(counts) and counts.max() > FEWEST)
    return scatter == "by condition"


def _fit(units: _Units, among: Codes) -> _Fitted:
    """Both variances by REML for the levels `among`, and their slopes."""
    chosen = np.isin(units.level, among)
    level = np.searchsorted(among, units.level[chosen])
    spread, slope = units.spread[chosen], units.slope[chosen]
    unit = float(spread.mean())
    spread = spread / unit  # in its own size, whatever the unit of time
    squares, freedom = float(units.squares[among].sum()) / unit, float(units.freedom[among].sum())
    own = len(slope) - len(among) + freedom

    def solved(ratio: float) -> tuple[Array, Array, float]:
        weight = 1 / (1 + ratio * spread)
        total = np.asarray(np.bincount(level, spread * weight), float)
        mean = np.bincount(level, spread * weight * slope) / total
        return total, mean, squares + float((weight * spread) @ (slope - mean[level]) ** 2)

    def loss(ratio: float) -> float:
        total, _, left = solved(ratio)
        return float(own * np.log(left) + np.log1p(ratio * spread).sum() + np.log(total).sum())

    # With two visits each, and as long apart, the two variances are one.
    told_apart = freedom > 0 or float(np.ptp(spread)) > _EQUAL
    ratio = _lowest(loss, -_BELOW / float(spread.max())) if told_apart else 0.0
    _, mean, left = solved(ratio)
    within = left / own
    parts = _small_sample(level, spread, within * (1 + ratio * spread), within, freedom, told_apart)
    _, _, bounded = solved(max(ratio, 0.0))
    variance = bounded / own
    return _Fitted(
        mean,
        parts,
        float(np.sqrt(variance * max(ratio, 0.0))),
        float(np.sqrt(variance * unit)),
        len(slope) - len(among),
    )


def _lowest(loss: Callable[[float], float], low: float) -> float:
    """Where a loss of the ratio of both variances is least, from `low` on."""
    grid = np.concatenate([np.linspace(low, 0, 16), np.geomspace(_LEAST, _MOST, _PLACES)])
    best = int(np.argmin([loss(ratio) for ratio in grid]))
    ends = grid[max(best - 1, 0)], grid[min(best + 1, len(grid) - 1)]
    found = optimize.minimize_scalar(
        loss, bounds=ends, method="bounded", options={"xatol": 1e-9 * (1 + ends[1])}
    )
    return float(found.x)


def _small_sample(
    level: Codes, spread: Array, variance: Array, within: float, freedom: float, told_apart: bool
) -> SmallSample:
    """Kenward and Roger's parts for a diagonal V whose variances are σ² + τ² S; levels share no specimen."""
    parts = [np.ones(len(spread)), spread] if told_apart else [np.ones(len(spread))]
    total = np.bincount(level, spread / variance)
    first = [np.bincount(level, spread * one / variance**2) for one in parts]
    second = [[np.bincount(level, spread * a * b / variance**3) for b in parts] for a in parts]
    information = np.array([
        [
            float((a * b / variance**2).sum() - 2 * (second[i][j] / total).sum() + (first[i] * first[j] / total**2).sum())
            for j, b in enumerate(parts)
        ]
        for i, a in enumerate(parts)
    ])  # fmt: skip
    information[0, 0] += freedom / within**2
    w = inverse_information(information / 2)
    bias = sum(
        w[i, j] * (second[i][j] - first[i] * first[j] / total)
        for i in range(len(parts))
        for j in range(len(parts))
    )
    adjusted = 1 / total + 2 * bias / total**2
    return SmallSample(np.diag(1 / total), np.diag(adjusted), w, -np.array([np.diag(one) for one in first]))


def _told(fitted: tuple[_Fitted, int] | None, specimens: int, visits: int) -> LevelSlope:
    if fitted is None:
        return LevelSlope(None, specimens, visits, None, None)
    fit, place = fitted
    return LevelSlope(fit.estimate(np.eye(len(fit.mean))[place]), specimens, visits, fit.between, fit.within)


def _pairs(levels: Sequence[LevelSlope]) -> list[tuple[int, int]]:
    known = [k for k, one in enumerate(levels) if one.slope is not None]
    if len(known) <= MOST_PAIRED:
        order = sorted(known, key=lambda k: levels[k].slope.value, reverse=True)  # type: ignore[union-attr]
        return list(combinations(order, 2))
    most = max(known, key=lambda k: levels[k].specimens)
    return [(k, most) for k in known if k != most]


def _at_once(pairs: Sequence[tuple[int, int]], freedom: float, coverage: float) -> float:
    """Coverage that each interval needs for all to hold at once.

    Slopes of kinds do not depend on each other. For every two of them the factor of equally well known ones is never too small
    (Tukey and Kramer, proved by Hayter 1984); for each against one, that of independent differences (Šidák).
    """
    if len({against for _, against in pairs}) == 1:
        return float(coverage ** (1 / len(pairs)))
    levels = sorted({level for pair in pairs for level in pair})
    rows = np.array([[(level == of) - float(level == against) for level in levels] for of, against in pairs])
    return coverage_of_each(rows @ rows.T / 2, freedom, coverage, seed=0)


def _differences(
    levels: Sequence[LevelSlope], fits: dict[int, tuple[_Fitted, int]], own: bool, coverage: float
) -> tuple[SlopeDifference, ...]:
    pairs = _pairs(levels)
    if not pairs:
        return ()
    found = [_difference(levels, fits, own, *pair) for pair in pairs]
    each = _at_once(pairs, min(one.freedom for one in found), coverage)
    return tuple(
        SlopeDifference(*pair, one, one.interval(coverage), one.interval(each))
        for pair, one in zip(pairs, found, strict=True)
    )


def _difference(
    levels: Sequence[LevelSlope], fits: dict[int, tuple[_Fitted, int]], own: bool, of: int, against: int
) -> Estimate:
    first, second = levels[of].slope, levels[against].slope
    assert first is not None and second is not None
    if own:
        return sum_of([first, Estimate(-second.value, second.variance, second.freedom)])
    fit, place = fits[of]
    unit = np.eye(len(fit.mean))
    return fit.estimate(unit[place] - unit[fits[against][1]])
