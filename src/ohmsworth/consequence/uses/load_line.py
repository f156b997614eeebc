"""Where a supply behind a resistance and a load that is no resistance settle."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from ohmsworth.consequence.use import Array
from ohmsworth.errors import ArgumentFault


def constant_current(voltage: float, current: float, loop: npt.ArrayLike) -> tuple[Array, Array]:
    """Volts at a load that draws the same current at any voltage, and that current: U = U0 − I R.

    Parameters
    ----------
    voltage
        U0 of the supply, volts above 0.
    current
        I, ampere, above 0.
    loop
        R, ohm out and back, 0 or more, any shape.

    Notes
    -----
    Where R would take all of U0 and more there are no volts left, and the current is what R lets through, U0/R.
    """
    r = _checked(voltage, "current", current, loop)
    left = voltage - current * r
    return _settled(voltage, r, left, np.full(r.shape, current), left > 0)


def constant_power(voltage: float, watts: float, loop: npt.ArrayLike) -> tuple[Array, Array]:
    """Volts at a load that takes the same power at any voltage, and its current: U = (U0 + √(U0² − 4 P R))/2.

    Parameters
    ----------
    voltage
        U0 of the supply, volts above 0.
    watts
        P, above 0.
    loop
        R, ohm out and back, 0 or more, any shape.

    Notes
    -----
    The upper root of U² − U0 U + P R = 0: the other one is unstable. Above R = U0²/4P there is none, for the loop passes no
    more than U0²/4R. A load that insists then draws ever more current at ever less voltage, and the volts are told as
    where that ends: 0 V, with the current U0/R that the loop lets through. From U0/2 they fall to 0 at once.
    """
    r = _checked(voltage, "watts", watts, loop)
    inside = voltage**2 - 4 * watts * r
    left = (voltage + np.sqrt(np.maximum(inside, 0.0))) / 2
    return _settled(voltage, r, left, watts / left, inside >= 0)


def _settled(
    voltage: float, r: Array, left: Array, drawn: Array, runs: npt.NDArray[np.bool_]
) -> tuple[Array, Array]:
    """Volts `left` and current `drawn` where the load `runs`; elsewhere none, and what `r` lets through."""
    through = voltage / np.where(runs, 1.0, r)
    return np.where(runs, left, 0.0), np.where(runs, drawn, through)


def _checked(voltage: float, name: str, drawn: float, loop: npt.ArrayLike) -> Array:
    r = np.asarray(loop, dtype=float)
    for what, value in (("voltage", voltage), (name, drawn)):
        if not (np.isfinite(value) and value > 0):
            raise ArgumentFault(what, value, "a positive number")
    if not (np.all(np.isfinite(r)) and np.all(r >= 0)):
        raise ArgumentFault("loop", loop, "0 ohm or more")
    return r
