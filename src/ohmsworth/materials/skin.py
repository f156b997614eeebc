"""Skin effect in a round wire: how its resistance rises with frequency."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt
from scipy.special import jve

from ohmsworth.errors import ArgumentFault
from ohmsworth.materials.conductors import COPPER_RESISTIVITY

#: Magnetic constant in henry per metre (CODATA 2018 value to its sixth digit, 4π × 1e-7).
MAGNETIC_CONSTANT = 4e-7 * math.pi

Array = npt.NDArray[np.float64]


def skin_depth(frequency: npt.ArrayLike, resistivity: float = COPPER_RESISTIVITY) -> Array:
    """Depth in metre at which the current density has fallen to 1/e.

    δ = √(ρ/(π f µ0)), f in hertz > 0, ρ in ohm metre > 0; a good non-magnetic conductor (not nickel).
    Source: "skin-effect".
    """
    f = np.asarray(frequency, dtype=float)
    if not (np.all(np.isfinite(f)) and np.all(f > 0)):
        raise ArgumentFault("frequency", frequency, "positive hertz")
    if not (math.isfinite(resistivity) and resistivity > 0):
        raise ArgumentFault("resistivity", resistivity, "positive ohm metre")
    return np.asarray(np.sqrt(resistivity / (math.pi * f * MAGNETIC_CONSTANT)))


def resistance_ratio(radius_over_depth: npt.ArrayLike) -> Array:
    """Resistance of a round wire at frequency f over that at zero frequency.

    R/R0 = Re[(ka/2) J0(ka)/J1(ka)], ka = (1 − j) a/δ.

    Parameters
    ----------
    radius_over_depth
        a/δ, 0 to 1000, any shape. The wire is solid, round, non-magnetic and alone (no proximity effect).

    Notes
    -----
    Source: "skin-effect".
    """
    x = np.asarray(radius_over_depth, dtype=float)
    if not (np.all(x >= 0) and np.all(x <= 1000)):
        raise ArgumentFault("radius_over_depth", radius_over_depth, "0 to 1000")
    # Below a/δ = 0.01 the ratio is 1 within 1e-9, and J1 is too near zero to divide by.
    ka = (1 - 1j) * np.maximum(x, 0.01)
    # The scaled functions share one factor exp(−|Im ka|), which cancels: no overflow for thick wires.
    return np.asarray(np.where(x < 0.01, 1.0, (ka / 2 * jve(0, ka) / jve(1, ka)).real))
