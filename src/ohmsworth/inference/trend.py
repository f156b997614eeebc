"""A straight line through a contact's history, and when it will have come to a limit.

y = a + b t + e by least squares, y = ln R or R. The limit L is reached at time t within the interval of all t for which

    (L − a − b t)² ≤ T² s² (c + 1/n + (t − t̄)²/Sxx)

with Student's T of n − 2 degrees of freedom; c = 0 for the line itself, 1 for the next reading (Fieller). The set may be an
interval, open-ended on one side or both, or two pieces: what counts here is its part from a given time on.

Valid for a course that is straight on the scale of analysis, and not far beyond the history. Source: Fieller, GraybillIyer.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from scipy import stats

from ohmsworth.errors import ArgumentFault
from ohmsworth.inference.estimate import Estimate
from ohmsworth.readings.table import Array


@dataclass(frozen=True, slots=True)
class Trend:
    """A fitted straight line.

    Parameters
    ----------
    height
        Of the line at the middle of the times.
    slope
        A second, on the scale of analysis, with its uncertainty.
    centre
        Middle of the times, second.
    variance
        Of one observation about the line, s².
    count
        How many observations.
    first, last
        The earliest and the latest time, second.
    """

    height: float
    slope: Estimate
    centre: float
    variance: float
    count: int
    first: float
    last: float

    def at(self, time: float, further: bool = True) -> Estimate:
        """What the next observation at a time may be (`further`), or the line itself there."""
        variance = self.slope.variance * (time - self.centre) ** 2 + self.variance * (
            1 / self.count + further
        )
        return Estimate(self.height + self.slope.value * (time - self.centre), variance, self.slope.freedom)


@dataclass(frozen=True, slots=True)
class Reached:
    """When a limit is reached.

    Parameters
    ----------
    soonest
        Second; infinite where it is not reached as far as the history tells.
    estimate
        Where the line itself crosses; None where it does not after the time that was asked from.
    latest
        Second; infinite where the history does not show that it is ever reached: "no sooner than".
    """

    soonest: float
    estimate: float | None
    latest: float

    @property
    def open_ended(self) -> bool:
        """Whether no latest time is known."""
        return math.isinf(self.latest)


def straight_line(time: Array, y: Array) -> Trend:
    """Fit a straight line.

    Parameters
    ----------
    time
        Second, shape (n,), three or more of which two differ.
    y
        Observations on the scale of analysis, shape (n,).
    """
    t, values = np.asarray(time, float), np.asarray(y, float)
    if t.ndim != 1 or t.shape != values.shape or len(t) < 3:
        raise ArgumentFault(
            "time, y", (t.shape, values.shape), "three observations or more, each with its time"
        )
    if not (np.isfinite(t).all() and np.isfinite(values).all()):
        raise ArgumentFault("time, y", "values that are no numbers", "finite numbers")
    centre = float(t.mean())
    squares = float(((t - centre) ** 2).sum())
    if squares == 0:
        raise ArgumentFault("time", float(t[0]), "two times that differ")
    height, slope = float(values.mean()), float((t - centre) @ values) / squares
    freedom = len(t) - 2
    left = values - height - slope * (t - centre)
    variance = float(left @ left) / freedom
    return Trend(
        height,
        Estimate(slope, variance / squares, float(freedom)),
        centre,
        variance,
        len(t),
        float(t.min()),
        float(t.max()),
    )


def reached(
    trend: Trend, limit: float, start: float, coverage: float = 0.95, further: bool = True
) -> Reached:
    """When a rising quantity comes to a limit, from `start` on.

    Parameters
    ----------
    trend
        The line through the history.
    limit
        On the scale of analysis; reached from below.
    start
        Second: nothing before it counts.
    coverage
        Of the interval between soonest and latest, both sides alike.
    further
        Whether the next reading is meant, or (False) the line itself.

    Returns
    -------
    Reached
        Soonest is where the upper end of the interval at that time comes to the limit, latest where the lower end does.
    """
    factor = float(stats.t.ppf((1 + coverage) / 2, trend.slope.freedom))
    crossing = _line_crossing(trend, limit, start)
    ends = []
    for way in (1.0, -1.0):
        here = trend.at(start, further)
        if here.value + way * factor * here.standard_error >= limit:
            ends.append(start)
            continue
        roots = [
            t
            for t in _roots(trend, limit, factor, further)
            if t >= start and _beyond(trend, limit, t) * way >= 0
        ]
        ends.append(min(roots, default=math.inf))
    return Reached(ends[0], crossing, ends[1])


def _line_crossing(trend: Trend, limit: float, start: float) -> float | None:
    """When the line itself is at the limit, from `start` on; None where it never is."""
    if trend.at(start).value >= limit:
        return start
    if trend.slope.value <= 0:
        return None
    return trend.centre + (limit - trend.height) / trend.slope.value


def _beyond(trend: Trend, limit: float, time: float) -> float:
    """Limit minus line at a time."""
    return limit - trend.at(time).value


def _roots(trend: Trend, limit: float, factor: float, further: bool) -> list[float]:
    """Times at which the limit lies just `factor` standard uncertainties from the line (Fieller's quadratic)."""
    room = limit - trend.height
    a = trend.slope.value**2 - factor**2 * trend.slope.variance
    b = -room * trend.slope.value
    c = room**2 - factor**2 * trend.variance * (1 / trend.count + further)
    if a == 0:
        return [] if b == 0 else [trend.centre - c / (2 * b)]
    inside = b**2 - a * c
    if inside < 0:
        return []
    # The root that suffers no cancellation first, the other by their product.
    large = -b - math.copysign(math.sqrt(inside), b)
    found = [large / a, c / large] if large != 0 else [0.0]
    return sorted(trend.centre + t for t in found)
