"""Phantom power: the volts that reach a microphone."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np
import numpy.typing as npt

from ohmsworth.errors import ArgumentFault, UnknownName

Array = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class PhantomSupply:
    """A standard supply: open-circuit volts ± tolerance, ohm of feed in each leg, most ampere."""

    name: str
    voltage: float
    tolerance: float
    feed: float
    largest_current: float


_LIST = (
    PhantomSupply("P48", 48.0, 4.0, 6800.0, 10e-3),
    PhantomSupply("SP48", 48.0, 4.0, 2200.0, 22e-3),
    PhantomSupply("P24", 24.0, 4.0, 1200.0, 10e-3),
    PhantomSupply("P12", 12.0, 1.0, 680.0, 15e-3),
    PhantomSupply("P12L", 12.0, 1.0, 3300.0, 4e-3),
)
#: Supplies by name. Source "IEC61938"; P24, which stood in earlier editions, and the tolerances of all but P48 are from memory.
PHANTOM_SUPPLIES: Mapping[str, PhantomSupply] = MappingProxyType({supply.name: supply for supply in _LIST})


def phantom_supply(name: str) -> PhantomSupply:
    """Look up a supply of PHANTOM_SUPPLIES.

    Raises
    ------
    UnknownName
        When there is none of that name.
    """
    try:
        return PHANTOM_SUPPLIES[name]
    except KeyError:
        raise UnknownName("phantom supply", name, tuple(PHANTOM_SUPPLIES)) from None


def phantom_volts(
    voltage: float,
    feed: float,
    current: float,
    plus: npt.ArrayLike = 0.0,
    minus: npt.ArrayLike = 0.0,
    screen: npt.ArrayLike = 0.0,
) -> Array:
    """Volts between the joined legs and the screen at a microphone that draws `current`.

    U = U0 − I [(F + r+)(F + r−)/(2F + r+ + r−) + rs]

    Parameters
    ----------
    voltage
        U0, open-circuit volts of the supply.
    feed
        F, ohm of the feed resistor in each leg.
    current
        I, ampere, at least 0: constant, as long as there is a voltage.
    plus, minus, screen
        r+, r−, rs: ohm of all that is in each leg and in the screen; shapes that broadcast.

    Notes
    -----
    A microphone that asks for more than the supply can drive has no volts left: the result is then 0, the
    short-circuit end of the supply's line, not the negative number of the formula. Source: "IEC61938".
    """
    if not (voltage > 0 and feed > 0 and current >= 0):
        raise ArgumentFault("phantom", (voltage, feed, current), "volts and feed above 0, current 0 or more")
    p, m = feed + np.asarray(plus, dtype=float), feed + np.asarray(minus, dtype=float)
    inner = p * m / (p + m) + np.asarray(screen, dtype=float)
    return np.asarray(np.maximum(voltage - current * inner, 0.0))
