"""A line of two conductors by its two numbers: how a wave travels along it, and its characteristic impedance."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from ohmsworth.consequence.circuit.cable import CableConstants, series_impedance, shunt_admittance
from ohmsworth.errors import ArgumentFault

Array = npt.NDArray[np.float64]
Complex = npt.NDArray[np.complex128]


def wave_constants(cable: CableConstants, frequency: npt.ArrayLike) -> tuple[Complex, Complex]:
    """Propagation constant per metre and characteristic impedance in ohm, each of shape (m,).

    γ = √(zy), Z0 = √(z/y), with z of the loop and y between both conductors.

    Parameters
    ----------
    cable
        Two conductors, capacitance between them.
    frequency
        Hertz above 0, m values.

    Notes
    -----
    For current that goes in one conductor and comes back in the other. Source: "chain-matrix".
    """
    f = np.atleast_1d(np.asarray(frequency, dtype=float))
    if cable.conductors != 2 or cable.capacitance[0, 1] == 0:
        raise ArgumentFault("cable", cable.conductors, "two conductors with a capacitance between them")
    if f.ndim != 1 or not np.all(f > 0):
        raise ArgumentFault("frequency", frequency, "one dimension of hertz above 0")
    series, shunt = series_impedance(cable, f), shunt_admittance(cable, f)
    z = series[:, 0, 0] + series[:, 1, 1] - series[:, 0, 1] - series[:, 1, 0]
    y = -shunt[:, 0, 1]
    # The square root of the product: both have their angles between 0 and 90°, so that the wave dies out on its way.
    return np.asarray(np.sqrt(z * y)), np.asarray(np.sqrt(z / y))


def wave_delay(cable: CableConstants) -> float:
    """Second per metre that a wave takes in the space between two conductors: √(LC)."""
    inductance = cable.inductance
    loop = inductance[0, 0] + inductance[1, 1] - 2 * inductance[0, 1]
    return float(np.sqrt(loop * cable.capacitance[0, 1]))
