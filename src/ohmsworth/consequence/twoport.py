"""One-ports and two-ports over frequency: what a cable, a filter or a contact does between a source and a load.

A two-port is held as its chain matrix, V1 = A V2 + B I2, I1 = C V2 + D I2 (port 1 towards the source; I2 flows into the
load): things one behind another are then a product, and a contact of exactly zero ohm is exact.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import reduce

import numpy as np
import numpy.typing as npt

from ohmsworth.consequence.circuit.elements import Complex
from ohmsworth.errors import ArgumentFault

Frequencies = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class TwoPort:
    """A linear two-port.

    Parameters
    ----------
    frequency
        Hertz, shape (m,), zero or more, ascending.
    chain
        Chain matrices [[A, B], [C, D]], complex, shape (m, 2, 2): A and D plain numbers, B in ohm, C in siemens.
    """

    frequency: Frequencies
    chain: Complex

    def __post_init__(self) -> None:
        _check_frequency(self.frequency)
        _check_values("chain", self.chain, (len(self.frequency), 2, 2))


@dataclass(frozen=True, slots=True, eq=False)
class OnePort:
    """What a single pair of terminals sends back, such as an antenna, an input, or a cable with its far end open.

    Parameters
    ----------
    frequency
        Hertz, shape (m,), zero or more, ascending.
    reflection
        S11 = (Z − R)/(Z + R), complex, shape (m,): also where Z is infinite.
    reference_resistance
        R in ohm, positive.
    """

    frequency: Frequencies
    reflection: Complex
    reference_resistance: float

    def __post_init__(self) -> None:
        _check_frequency(self.frequency)
        _check_values("reflection", self.reflection, (len(self.frequency),))
        if not (np.isfinite(self.reference_resistance) and self.reference_resistance > 0):
            raise ArgumentFault("reference_resistance", self.reference_resistance, "a positive number of ohm")


def _check_frequency(frequency: Frequencies) -> None:
    wanted = "one frequency or more, zero or above, each higher than the one before"
    if np.ndim(frequency) != 1 or not len(frequency):
        raise ArgumentFault("frequency", np.shape(frequency), wanted)
    if not (np.all(np.isfinite(frequency)) and frequency[0] >= 0 and np.all(np.diff(frequency) > 0)):
        raise ArgumentFault("frequency", "others", wanted)


def _check_values(name: str, values: Complex, shape: tuple[int, ...]) -> None:
    if np.shape(values) != shape:
        raise ArgumentFault(name, np.shape(values), f"the shape {shape}")
    if not np.all(np.isfinite(values)):
        raise ArgumentFault(name, "a value that is not finite", "finite numbers")


def series(frequency: npt.ArrayLike, impedance: npt.ArrayLike) -> TwoPort:
    """`impedance` (ohm, scalar or shape (m,)) in line with the signal: [[1, Z], [0, 1]]. Source: "chain-matrix"."""
    return _ladder(frequency, impedance, (0, 1))


def shunt(frequency: npt.ArrayLike, admittance: npt.ArrayLike) -> TwoPort:
    """`admittance` (siemens, scalar or shape (m,)) across the signal: [[1, 0], [Y, 1]]. Source: "chain-matrix"."""
    return _ladder(frequency, admittance, (1, 0))


def _ladder(frequency: npt.ArrayLike, value: npt.ArrayLike, place: tuple[int, int]) -> TwoPort:
    f = np.asarray(frequency, dtype=float)
    chain = np.zeros((*f.shape, 2, 2), dtype=np.complex128)
    chain[..., (0, 1), (0, 1)] = 1
    chain[..., *place] = value
    return TwoPort(f, chain)


def cascade(first: TwoPort, *others: TwoPort) -> TwoPort:
    """`first` with `others` behind it, from source to load: the product of their chain matrices.

    All must be known at the very same frequencies (see `at_frequency`). Source: "chain-matrix".
    """
    for other in others:
        if not np.array_equal(other.frequency, first.frequency):
            raise ArgumentFault(
                "others", "two-ports at other frequencies", "the frequencies of the first one"
            )
    return TwoPort(first.frequency, reduce(np.matmul, (other.chain for other in others), first.chain))


def chain_from_impedance(impedance: npt.ArrayLike) -> Complex:
    """Chain matrices of impedance matrices in ohm, both of shape (..., 2, 2).

    V = Z I with both currents into the two-port: [[Z11, det Z], [1, Z22]]/Z21. Not finite where Z21 is zero: nothing
    passes from port 1 to port 2 there. Source: "chain-matrix".
    """
    z = np.asarray(impedance, dtype=np.complex128)
    one = np.ones_like(z[..., 0, 0])
    return _over(z[..., 1, 0], z[..., 0, 0], determinant(z), one, z[..., 1, 1])


def chain_from_admittance(admittance: npt.ArrayLike) -> Complex:
    """Chain matrices of admittance matrices in siemens, both of shape (..., 2, 2).

    I = Y V with both currents into the two-port: [[Y22, 1], [det Y, Y11]]/(−Y21). Not finite where Y21 is zero.
    Source: "chain-matrix".
    """
    y = np.asarray(admittance, dtype=np.complex128)
    one = np.ones_like(y[..., 0, 0])
    return _over(-y[..., 1, 0], y[..., 1, 1], one, determinant(y), y[..., 0, 0])


def determinant(chain: Complex) -> Complex:
    """A D − B C of matrices [[A, B], [C, D]], shape (..., 2, 2): S12/S21, 1 where the two-port is reciprocal."""
    return np.asarray(chain[..., 0, 0] * chain[..., 1, 1] - chain[..., 0, 1] * chain[..., 1, 0])


def _over(divisor: Complex, a: Complex, b: Complex, c: Complex, d: Complex) -> Complex:
    """[[a, b], [c, d]]/divisor, without a warning where that is not finite."""
    upper, lower = np.stack((a, b), -1), np.stack((c, d), -1)
    with np.errstate(all="ignore"):
        return np.asarray(np.stack((upper, lower), -2) / divisor[..., None, None])
