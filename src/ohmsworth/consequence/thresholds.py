"""The inverse: from a threshold to the contact resistance that reaches it."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache

import numpy as np
from scipy.optimize import brentq

from ohmsworth.consequence.kinds import KEPT_CIRCUITS, kind_of, rules_of
from ohmsworth.consequence.rule import Rule
from ohmsworth.consequence.use import Array, Threshold, Use

#: Powers of ten of the resistances among which a threshold is sought, in ohm.
LOWEST_POWER, HIGHEST_POWER = -6.0, 6.0
# Four steps a decade find the first crossing even where an effect should turn back at large resistances.
_POWERS = np.linspace(LOWEST_POWER, HIGHEST_POWER, 49)


def thresholds(use: Use) -> tuple[Threshold, ...]:
    """For each effect of `use` that has a threshold, the smallest contact resistance that reaches it.

    Sought between 1 µΩ and 1 MΩ, on the same circuit as `effects`, to 12 digits of the power of ten.
    """
    return _thresholds(rules_of(use), use.name)


@lru_cache(maxsize=KEPT_CIRCUITS)
def _thresholds(rules: tuple[Rule, ...], name: str) -> tuple[Threshold, ...]:
    """Those of `rules`, which are told apart by being one and the same."""
    return tuple(_threshold(name, rule) for rule in rules if rule.threshold is not None)


def smallest_threshold(uses: Iterable[Use]) -> Threshold | None:
    """The threshold of all `uses` with the smallest resistance; None when no resistance reaches any.

    A use with a proviso lends none: what lies below would be taken for leave.
    """
    lending = [use for use in uses if not kind_of(use.kind).proviso]
    found = [t for use in lending for t in thresholds(use) if t.resistance is not None]
    return min(found, key=lambda t: t.resistance or 0.0, default=None)


def _threshold(use: str, rule: Rule) -> Threshold:
    resistance, note = _crossing(rule)
    return Threshold(
        use=use,
        effect=rule.key,
        words=rule.passing,
        position=rule.position.words,
        resistance=resistance,
        note=note,
        reason=rule.reason,
        source=rule.source,
    )


def _crossing(rule: Rule) -> tuple[float | None, str]:
    """The first resistance at which `rule` reaches its threshold, or None and why."""
    if _beyond(rule, np.zeros(())) >= 0:
        return None, "already passed with ideal contacts: the circuit itself does not meet it"
    reached = np.flatnonzero(_beyond(rule, 10**_POWERS) >= 0)
    if not reached.size:
        return None, "not reached below 1 MΩ"
    if reached[0] == 0:
        return None, "reached below 1 µΩ: as good as passed with ideal contacts"
    low, high = _POWERS[reached[0] - 1], _POWERS[reached[0]]
    power = brentq(lambda p: float(_beyond(rule, np.asarray(10.0**p))), low, high, xtol=1e-12)
    return float(10.0**power), ""


def _beyond(rule: Rule, resistance: Array) -> Array:
    """How far beyond its threshold the effect is: at least 0 once it is reached."""
    if rule.threshold is None:
        return np.full(resistance.shape, -1.0)
    past = rule.compute(resistance) - rule.threshold
    return np.asarray(past if rule.worse == "higher" else -past)
