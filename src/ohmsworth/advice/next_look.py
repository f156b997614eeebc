"""When to look at a contact again: by the air it is kept in, by the trend of its own history, whichever comes first.

By the air: a film on bare silver that nothing rubs through may have grown to what matters. The soonest is for the fastest growth
and the most that such a film is known to add, the latest for the slowest and the least (`materials/tarnish_film.py`), so that
the two lie far apart, and the latest is often open-ended.

By the trend: a straight line through the logarithms of a contact's history, from where the next reading may reach the limit to
where it surely does (`inference/trend.py`). A line is not followed further than the history is long: until then at most, look
again, for what has been watched for a month says little of a year. That rule is common practice.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from ohmsworth.errors import ArgumentFault
from ohmsworth.inference.trend import Reached, Trend, reached
from ohmsworth.materials.tarnish_film import (
    CLASS_PERIOD,
    KNOWN_FILM,
    KNOWN_RESISTANCE,
    LONGEST,
    SHORTEST,
    THICKEST_SCALED,
    environment_of,
)

DAY = 86400.0
#: Why a look is due: the air, the trend, or that the history says no more.
Reason = Literal["air", "trend", "history"]


@dataclass(frozen=True, slots=True)
class NextLook:
    """When to look again, in second from now.

    Parameters
    ----------
    soonest
        From when on it may matter; infinite where nothing known asks for a look.
    latest
        From when on it surely does; infinite for "no sooner than".
    reason
        What sets the soonest; None where nothing does.
    """

    soonest: float
    latest: float
    reason: Reason | None

    @property
    def before_each_use(self) -> bool:
        """Whether a date is of no use: what may matter within a day is wiped or looked at before each use."""
        return self.soonest < DAY

    def day(self, today: date) -> date | None:
        """The day of the next look; None where none is asked for."""
        if math.isinf(self.soonest):
            return None
        return today + timedelta(days=math.floor(self.soonest / DAY))


def look_by_air(environment: str, allowed: float, exposed: float = 0.0) -> NextLook:
    """When a film on bare silver may have grown so far that it adds what matters, where nothing rubs it through.

    Parameters
    ----------
    environment
        "G1" (mild), "G2", "G3" or "GX" (severe).
    allowed
        Ohm that may be added, above zero.
    exposed
        Second since it was last clean.

    Notes
    -----
    The inverse of `film_growth` and `unwiped_resistance`, and valid where they are: low force, moving air. A contact that wipes
    as it is mated rubs the film through, and may wait. Sources: ISA71.04, TamaiKuranaga, tarnish-memory.
    """
    if not (math.isfinite(allowed) and allowed > 0):
        raise ArgumentFault("allowed", allowed, "more than zero ohm")
    if not (math.isfinite(exposed) and exposed >= 0):
        raise ArgumentFault("exposed", exposed, "zero or more seconds")
    first = environment_of(environment).film["silver"]
    # Beyond the thickest film that is known anything may be added, so that it counts as reached.
    thin = min(allowed / KNOWN_RESISTANCE.high * KNOWN_FILM, THICKEST_SCALED)
    thick = allowed / KNOWN_RESISTANCE.low * KNOWN_FILM
    fast = thin / first.high
    soonest = CLASS_PERIOD * (fast if fast >= 1 else fast**2)
    latest = math.inf
    if first.low > 0 and thick <= THICKEST_SCALED:
        slow = thick / first.low
        latest = CLASS_PERIOD * (slow**2 if slow >= 1 else slow)
    # Growth is told from an hour to 30 years: less is at once, more is never as far as is known.
    soonest = 0.0 if soonest < SHORTEST else soonest if soonest <= LONGEST else math.inf
    latest = max(latest, SHORTEST) if latest <= LONGEST else math.inf
    return NextLook(max(soonest - exposed, 0.0), max(latest - exposed, 0.0), "air")


def look_by_trend(trend: Trend, limit: float, now: float, coverage: float = 0.95) -> NextLook:
    """When the next reading of a contact may be at the limit.

    Parameters
    ----------
    trend
        Of its history, on the scale of analysis.
    limit
        On that scale: ln of the ohms for logarithms.
    now
        Second, on the clock of the history; not before its last reading.
    coverage
        Of the interval from soonest to latest.
    """
    if not now >= trend.last:
        raise ArgumentFault("now", now, f"not before the last reading, {trend.last:g} s")
    found: Reached = reached(trend, limit, now, coverage)
    told = trend.last + (trend.last - trend.first)
    reason: Reason = "trend" if found.soonest <= told else "history"
    return NextLook(max(min(found.soonest, told) - now, 0.0), found.latest - now, reason)


def shortest_of(looks: Sequence[NextLook]) -> NextLook:
    """The first of several looks that are due; none at all is no look asked for."""
    if not looks:
        return NextLook(math.inf, math.inf, None)
    first = min(looks, key=lambda look: look.soonest)
    latest = min(look.latest for look in looks)
    return NextLook(first.soonest, latest, first.reason)
