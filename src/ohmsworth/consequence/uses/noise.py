"""Thermal noise of resistances, and levels in dBu."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

from ohmsworth.errors import ArgumentFault
from ohmsworth.materials import BOLTZMANN

Array = npt.NDArray[np.float64]

#: Volts of 0 dBu: 1 mW in 600 Ω.
DBU_REFERENCE = math.sqrt(0.6)


def thermal_noise(resistance: npt.ArrayLike, temperature: float, bandwidth: float) -> Array:
    """Thermal noise in volts rms: √(4kTRB).

    Parameters
    ----------
    resistance
        Ohm at least 0, any shape.
    temperature
        Kelvin above 0.
    bandwidth
        Hertz above 0; flat, far below 6 THz.

    Notes
    -----
    Source: "Johnson-Nyquist".
    """
    r = np.asarray(resistance, dtype=float)
    if not np.all(r >= 0):
        raise ArgumentFault("resistance", resistance, "0 ohm or more")
    for name, value in (("temperature", temperature), ("bandwidth", bandwidth)):
        if not (math.isfinite(value) and value > 0):
            raise ArgumentFault(name, value, "a positive number")
    return np.asarray(np.sqrt(4 * BOLTZMANN * temperature * r * bandwidth))


def dbu(voltage: npt.ArrayLike) -> Array:
    """Level in dBu of `voltage` (volts rms above 0, any shape): 20 log10(V/√0.6 V)."""
    v = np.asarray(voltage, dtype=float)
    if not np.all(v > 0):
        raise ArgumentFault("voltage", voltage, "more than 0 V")
    return np.asarray(20 * np.log10(v / DBU_REFERENCE))


def volts(level: npt.ArrayLike) -> Array:
    """Volts rms of `level` in dBu, any shape: the inverse of `dbu`."""
    return np.asarray(DBU_REFERENCE * 10 ** (np.asarray(level, dtype=float) / 20))


def noise_rise(added: npt.ArrayLike, present: npt.ArrayLike) -> Array:
    """Rise of noise in dB when the noise voltage `added` joins `present`, both volts rms and independent.

    10 log10(1 + (added/present)²); `present` above 0. Thermal noise only: a contact that carries direct
    current adds noise of its own below some kilohertz, which no resistance reading can tell.
    """
    there = np.asarray(present, dtype=float)
    if not np.all(there > 0):
        raise ArgumentFault("present", present, "more than 0 V")
    return np.asarray(10 * np.log10(1 + (np.asarray(added, dtype=float) / there) ** 2))
