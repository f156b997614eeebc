"""A cable of two like cores in a screen as an exact transmission line."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from ohmsworth.consequence.network import Complex
from ohmsworth.errors import ArgumentFault
from ohmsworth.materials import resistance_ratio, skin_depth

AnyComplex = npt.NDArray[np.complexfloating[Any, Any]]

#: Above this, screens and dielectrics behave in ways that this model of an audio cable leaves out.
HIGHEST_FREQUENCY = 200e3

#: Nepers of loss above which hyperbolic functions are near to overflow.
_LARGEST_LOSS = 300.0


@dataclass(frozen=True, slots=True)
class Line:
    """Two like cores in a screen; per-length values in SI per metre.

    Parameters
    ----------
    core_resistance
        Ohm per metre of one core at its temperature, direct current.
    core_radius
        Metre, for the skin effect.
    screen_resistance
        Ohm per metre of the screen.
    loop_inductance
        Henry per metre of both cores as a loop.
    core_core, core_screen
        Farad per metre: the capacitor between the cores and the one from each core to the screen, as elements
        of the equivalent circuit.
    """

    length: float
    core_resistance: float
    core_radius: float
    screen_resistance: float
    loop_inductance: float
    core_core: float
    core_screen: float


def roll_off_frequency(resistance: float, capacitance: float) -> float:
    """Frequency in hertz at which `resistance` (ohm) into `capacitance` (farad) is 3 dB down: 1/(2πRC)."""
    for name, value in (("resistance", resistance), ("capacitance", capacitance)):
        if not (math.isfinite(value) and value > 0):
            raise ArgumentFault(name, value, "a positive number")
    return 1 / (2 * math.pi * resistance * capacitance)


def check_frequency(frequency: npt.ArrayLike) -> npt.NDArray[np.float64]:
    """`frequency` as array, or ArgumentFault outside 0 to 200 kHz."""
    f = np.asarray(frequency, dtype=float)
    if not (np.all(f > 0) and np.all(f <= HIGHEST_FREQUENCY)):
        raise ArgumentFault("frequency", frequency, f"above 0 and at most {HIGHEST_FREQUENCY:g} Hz")
    return f


def line_chain(line: Line, frequency: npt.ArrayLike) -> Complex:
    """Chain matrix of `line`, shape (..., 4, 4) for `frequency` of shape (...).

    With like cores the sum and the difference of the legs travel alone, each by
    V = V' cosh γl + I' (z/γ) sinh γl, I = V' (γ/z) sinh γl + I' cosh γl, γ² = zy, with

    - difference: z = R + jωL/2, y = jω(Cs + 2Cc);
    - sum: z = R + jωL/2 + 2Rs, y = jωCs.

    Valid above 0 to 200 kHz, any length; dielectric loss and the screen's own inductance are left out.
    Source: "chain-matrix"; R over frequency "skin-effect".
    """
    f = check_frequency(frequency)
    omega = np.asarray(2j * math.pi * f, dtype=np.complex128)
    resistance = line.core_resistance * resistance_ratio(line.core_radius / skin_depth(f))
    series = np.asarray(resistance + omega * line.loop_inductance / 2)
    difference = _mode(series, omega * (line.core_screen + 2 * line.core_core), line.length)
    common = _mode(series + 2 * line.screen_resistance, omega * line.core_screen, line.length)
    own, other = (common + difference) / 2, (common - difference) / 2
    # Axes: quantity at the source end, its leg, quantity at the load end, its leg.
    legs = np.stack((np.stack((own, other), -1), np.stack((other, own), -1)), -2)
    return np.asarray(np.moveaxis(legs, -3, -2).reshape(*f.shape, 4, 4))


def _mode(series: AnyComplex, shunt: AnyComplex, length: float) -> Complex:
    """The 2 × 2 chain matrix of one mode, shape (..., 2, 2)."""
    squared = series * shunt * length**2
    angle = np.sqrt(squared)
    if np.any(np.abs(angle.real) > _LARGEST_LOSS):
        raise ArgumentFault(
            "length", length, "a shorter cable, or better values: nothing passes through this one"
        )
    cosh = np.cosh(angle)
    # sinh(x)/x by its series near zero: a cable without length or without resistance is no special case.
    small = np.abs(angle) < 1e-4
    ratio = np.where(small, 1 + squared / 6, np.sinh(angle) / np.where(small, 1, angle))
    upper = np.stack((cosh, series * length * ratio), -1)
    return np.asarray(
        np.stack((upper, np.stack((shunt * length * ratio, cosh), -1)), -2), dtype=np.complex128
    )
