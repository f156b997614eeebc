"""What one judgement on this bench is worth: test uncertainty ratio, guard band, chances, smallest difference.

On the scale of analysis with standard uncertainty u (ν degrees of freedom) at the limit T:

guard band        g = t(p, ν) u; "within" is said up to T − g, "over" from T + g (JCGM106, 8.3)
chance of a word  P(within | true x) = F_ν((T − g − x)/u), P(over | true x) = F_ν((x − T − g)/u)
told right        with probability p or more outside T ± 2g
test uncertainty ratio   T / 2U, U = t((1+0.95)/2, ν) u: the room from zero to the limit over the width of the
                  expanded uncertainty (Z540-3); 4 or more is the custom, less asks for a guard band
smallest difference of two contacts, n trials each, seen with probability 0.8 by a two-sided t test at 1 − p
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy import optimize, stats

from ohmsworth.inference.conformity import guard_factor
from ohmsworth.inference.estimate import welch_satterthwaite
from ohmsworth.readings.study import Scale

#: Chance with which a difference of the size given is to be seen.
POWER = 0.8
#: Expanded uncertainty in the test uncertainty ratio covers this, whatever the study asks (Z540.3).
_EXPANDED = 0.95


@dataclass(frozen=True, slots=True)
class Ability:
    """One judgement against a limit; ohm, except `uncertainty`, which is on the scale of analysis.

    Parameters
    ----------
    within_up_to, over_from
        The largest value that still gets a clear "within", the smallest that gets a clear "over"; None: no
        positive value does.
    right_below, right_above
        Beyond these true values a contact is told right with the coverage or more.
    ratio
        Test uncertainty ratio.
    """

    limit: float
    uncertainty: float
    ohm: float
    freedom: float
    ratio: float
    within_up_to: float | None
    over_from: float
    right_below: float | None
    right_above: float


@dataclass(frozen=True, slots=True)
class Told:
    """What a contact of true resistance `value` (ohm) will be told, with which probability."""

    value: float
    within: float
    close: float
    over: float


def ability(
    limit: float, parts: dict[str, tuple[float, float]], scale: Scale, coverage: float
) -> Ability | None:
    """What the `parts` of the uncertainty (source -> standard uncertainty, degrees of freedom) leave of a limit.

    None where nothing is known of the uncertainty.
    """
    known = [pair for pair in parts.values() if pair[0] > 0]
    if not known:
        return None
    variances, freedoms = [u**2 for u, _ in known], [f for _, f in known]
    u = float(np.sqrt(sum(variances)))
    freedom = max(welch_satterthwaite(variances, freedoms), 1.0)
    guard = guard_factor(coverage, freedom) * u
    ohm = u * (limit if scale == "log" else 1.0)
    expanded = guard_factor((1 + _EXPANDED) / 2, freedom) * ohm
    below, above = _moved(limit, -guard, scale), _moved(limit, guard, scale)
    sure, certain = _moved(limit, -2 * guard, scale), _moved(limit, 2 * guard, scale)
    return Ability(
        limit, u, ohm, freedom, limit / (2 * expanded), _positive(below), above, _positive(sure), certain
    )


def chances(
    found: Ability, scale: Scale, coverage: float, steps: Sequence[float] = (-2, -1, 0, 1, 2)
) -> tuple[Told, ...]:
    """What contacts so many guard bands (`steps`) from the limit will be told; those above zero."""
    guard = guard_factor(coverage, found.freedom)
    rows = []
    for away in steps:
        value = _moved(found.limit, away * guard * found.uncertainty, scale)
        within = float(stats.t.cdf(guard * (-1 - away), min(found.freedom, 1e9)))
        over = float(stats.t.cdf(guard * (away - 1), min(found.freedom, 1e9)))
        if value > 0:
            rows.append(Told(value, within, 1 - within - over, over))
    return tuple(rows)


def smallest_difference(
    uncertainty: float, freedom: float, trials: int, coverage: float, power: float = POWER
) -> float:
    """Difference of two contacts, `trials` each, that is seen with `power`; on the scale of `uncertainty`.

    `uncertainty` is the standard deviation of one trial, known with `freedom`; what both contacts share (meters'
    gain, the day, the operator) is not in it.
    """
    known = min(freedom, 1e6)
    reach = float(stats.t.ppf((1 + coverage) / 2, known))

    def seen(shift: float) -> float:
        if known > 200:
            return float(stats.norm.sf(reach - shift)) - power
        return float(stats.nct.sf(reach, known, shift)) - power

    # On the other side nothing is seen by then; further out than this scipy's non-central t knows no value.
    shift = optimize.brentq(seen, 0.1, 1.7 * reach + 4, xtol=1e-10)
    return float(shift * uncertainty * np.sqrt(2 / trials))


def _moved(limit: float, by: float, scale: Scale) -> float:
    """`limit` moved on the scale of analysis, in ohm."""
    return float(limit * np.exp(min(by, 700.0))) if scale == "log" else limit + by


def _positive(value: float) -> float | None:
    return value if value > 0 else None
