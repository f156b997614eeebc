"""From a use and contact resistances to what they do."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from ohmsworth.consequence.kinds import curves_of, kind_of, rules_of
from ohmsworth.consequence.rule import Rule, curve_at
from ohmsworth.consequence.use import Array, Effect, Use
from ohmsworth.errors import ArgumentFault

#: Largest contact resistance that is believed, in ohm: an open contact.
LARGEST_RESISTANCE = 1e9


def effects(use: Use, resistance: npt.ArrayLike) -> tuple[Effect, ...]:
    """What contacts of each `resistance` do in `use`.

    Parameters
    ----------
    use
        Made by `make_use`.
    resistance
        Ohm of each contact at the position that the effect names, 0 to 1 GΩ, any shape.
    """
    ohm = _check_resistance(resistance)
    return tuple(_effect(rule, ohm) for rule in rules_of(use))


def response(use: Use, resistance: npt.ArrayLike, frequency: npt.ArrayLike) -> dict[str, Array]:
    """Curves over frequency.

    Parameters
    ----------
    use
        Made by `make_use`.
    resistance
        Ohm of each contact at the curve's position, n values.
    frequency
        Hertz, m values, above 0 and at most the highest for which the use's circuit is believed.

    Returns
    -------
    dict
        By key of the curve, in its unit, each of shape (n, m).
    """
    ohm = np.atleast_1d(_check_resistance(resistance))
    hertz = check_frequency(use, frequency)
    if ohm.ndim != 1:
        raise ArgumentFault("resistance", f"an array of {ohm.ndim} dimensions", "one dimension")
    return {curve.key: curve_at(curve, hertz, curve.position)(ohm) for curve in curves_of(use)}


def check_frequency(use: Use, frequency: npt.ArrayLike) -> Array:
    """`frequency` as an array, or ArgumentFault outside what the circuit of `use` is believed for."""
    hertz, highest = np.atleast_1d(np.asarray(frequency, dtype=float)), kind_of(use.kind).highest
    if hertz.ndim != 1 or not (np.all(hertz > 0) and np.all(hertz <= highest)):
        raise ArgumentFault("frequency", frequency, f"one dimension, above 0 and at most {highest:g} Hz")
    return hertz


def _effect(rule: Rule, ohm: Array) -> Effect:
    return Effect(
        key=rule.key,
        words=rule.words,
        unit=rule.unit,
        frequency=rule.frequency,
        position=rule.position.words,
        ideal=float(rule.compute(np.zeros(()))),
        value=np.asarray(rule.compute(ohm)),
        threshold=rule.threshold,
        worse=rule.worse,
    )


def _check_resistance(resistance: npt.ArrayLike) -> Array:
    ohm = np.asarray(resistance, dtype=float)
    if not (np.all(ohm >= 0) and np.all(ohm <= LARGEST_RESISTANCE)):
        raise ArgumentFault("resistance", resistance, f"0 to {LARGEST_RESISTANCE:g} ohm")
    return ohm
