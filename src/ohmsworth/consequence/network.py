"""Two legs over a screen, from load back to source, as chain matrices.

Voltages are of the legs against the screen at the same place; currents flow towards the load. The state at a
place is what it takes there to have 1 V on leg + (first column) or on leg − (second column) at the load.
Walking back from the load keeps a resistance of exactly zero exact, which admittances could not.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

Complex = npt.NDArray[np.complex128]
#: 2 × 2 matrices over the legs (+, −) in the last two axes; axes before broadcast.
LegMatrix = npt.NDArray[np.complex128] | npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class State:
    """Voltages and currents of both legs at one place, each of shape (..., 2, 2)."""

    voltage: LegMatrix
    current: LegMatrix


def series_impedance(
    plus: npt.ArrayLike, minus: npt.ArrayLike, screen: npt.ArrayLike = 0.0
) -> npt.NDArray[np.float64]:
    """Impedance matrix in ohm, shape (..., 2, 2), of resistances in the legs and the screen they return by.

    Z = [[p + s, s], [s, m + s]]: both legs' currents return through s.
    """
    p, m, s = np.broadcast_arrays(*(np.asarray(x, dtype=float) for x in (plus, minus, screen)))
    return np.stack((np.stack((p + s, s), -1), np.stack((s, m + s), -1)), -2)


def load_admittance(differential: float, common: float) -> npt.NDArray[np.float64]:
    """Admittance matrix in siemens, shape (2, 2), of a balanced load.

    Parameters
    ----------
    differential
        Whole impedance between the legs in ohm, as an input's data sheet gives it.
    common
        Impedance of each leg to the screen in ohm. The bridge that is left between the legs is
        1/(1/differential − 1/(2 common)), so `differential` must not be above 2 × `common`.
    """
    bridge = 1 / differential - 1 / (2 * common)
    own = 1 / common + bridge
    return np.array([[own, -bridge], [-bridge, own]])


def at_load(admittance: LegMatrix) -> State:
    """The state at a load of `admittance` (siemens, shape (2, 2))."""
    return State(np.eye(2), admittance)


def before_series(state: State, impedance: LegMatrix) -> State:
    """The state on the source side of `impedance` (ohm): V = V' + Z I', I = I'."""
    return State(state.voltage + impedance @ state.current, state.current)


def before_chain(state: State, chain: Complex) -> State:
    """The state on the source side of a chain matrix of shape (..., 4, 4): [V; I] = chain [V'; I']."""
    a, b = chain[..., :2, :2], chain[..., :2, 2:]
    c, d = chain[..., 2:, :2], chain[..., 2:, 2:]
    return State(
        a @ state.voltage + b @ state.current,
        c @ state.voltage + d @ state.current,
    )


def voltage_at_load(drive: LegMatrix, plus: float, minus: float) -> tuple[Complex, Complex]:
    """Voltages of both legs at the load for open-circuit voltages `plus` and `minus` of the source.

    `drive` is the voltage of the state behind the source's impedance, shape (..., 2, 2); it is inverted here.
    """
    a, b = drive[..., 0, 0], drive[..., 0, 1]
    c, d = drive[..., 1, 0], drive[..., 1, 1]
    determinant = a * d - b * c
    return np.asarray((d * plus - b * minus) / determinant), np.asarray((a * minus - c * plus) / determinant)
