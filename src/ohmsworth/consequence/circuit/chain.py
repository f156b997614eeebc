"""The chain matrix of a length of cable: what it takes at one end for what there is to be at the other."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from ohmsworth.consequence.circuit.cable import CableConstants, series_impedance, shunt_admittance
from ohmsworth.errors import ArgumentFault

Array = npt.NDArray[np.float64]
Complex = npt.NDArray[np.complex128]

#: Nepers of loss above which hyperbolic functions are near to overflow.
LARGEST_LOSS = 300.0
#: Size up to which the series below are cut at the last digit, and the number of their terms.
_SMALL, _TERMS = 0.25, 8


def line_chain(cable: CableConstants, length: float, frequency: Array) -> Complex:
    """Chain matrix of `length` metres of a cable of n conductors, shape (m, 2n, 2n) for hertz of shape (m,).

    [V; I] = [[cosh √(zy)l, z l sinh(√(yz)l)/√(yz)l], [y l sinh(√(zy)l)/√(zy)l, cosh √(yz)l]] [V'; I'], potentials V and
    currents I towards the far end of all conductors.

    Notes
    -----
    Exact for a uniform line of any length; from 0 Hz. Of a line of α nepers its numbers hold e^α, beside which e^(−α) is lost
    from α = 18 on: `transfers` cuts such a line into sections. Source: "chain-matrix".
    """
    return chain_of(series_impedance(cable, frequency), shunt_admittance(cable, frequency), length)


def chain_of(impedance: Complex, admittance: Complex, length: float) -> Complex:
    """The same from ohm in series and siemens across a metre, shape (m, n, n) each, both symmetric."""
    z, y = impedance, admittance
    if z.shape[1] == 2 and _floats(y):
        return _one_mode(z, y[:, 0, 0], length)
    cosh, ratio = _doubled(z @ y * length**2)
    upper = np.concatenate((cosh, length * ratio @ z), axis=2)
    lower = np.concatenate((length * y @ ratio, np.swapaxes(cosh, 1, 2)), axis=2)
    return np.concatenate((upper, lower), axis=1)


def _floats(y: Complex) -> bool:
    """Whether two conductors have no capacitance to anything but each other."""
    return bool(np.all(y[:, 0, 0] == -y[:, 0, 1]) and np.all(y[:, 1, 1] == -y[:, 0, 1]))


def _one_mode(z: Complex, y: Complex, length: float) -> Complex:
    """The closed form for two conductors with the admittance y between them.

    With u = (1, −1) and p = z u, the matrix A = zy l² is y l² p u', and all its powers are A times a number x² = y l² u'p:
    cosh √A = 1 + A (cosh x − 1)/x², sinh √A/√A = 1 + A (sinh(x)/x − 1)/x².
    """
    p = z[:, :, 0] - z[:, :, 1]
    x: Complex = np.asarray(np.sqrt(y * (p[:, 0] - p[:, 1])) * length, dtype=np.complex128)
    _refuse_loss(x)
    sinh, cosh = _both(0.5 * x)
    half = _over(sinh, 0.5 * x)
    ratio, common = half * cosh, half * half * y * (length**2 / 2)
    near, far = common * p[:, 0], common * p[:, 1]
    # All of a frequency's values in a row: each is read as a whole.
    chain = np.empty((4, 4, len(y)), dtype=np.complex128)
    chain[0, 0] = chain[2, 2] = 1 + near
    chain[1, 1] = chain[3, 3] = 1 - far
    chain[0, 1] = chain[3, 2] = -near
    chain[1, 0] = chain[2, 3] = far
    chain[2, 0] = chain[3, 1] = y * length * ratio
    chain[2, 1] = chain[3, 0] = -chain[2, 0]
    rest = _rest(ratio, x) * y * length**3
    for i, j in ((0, 0), (0, 1), (1, 0), (1, 1)):
        chain[i, 2 + j] = length * z[:, i, j] + rest * p[:, i] * p[:, j]
    return np.moveaxis(chain, 2, 0)


def _refuse_loss(angle: Complex) -> None:
    """Refuse a line whose modes turn and lose by `angle`, its real part in nepers."""
    if np.any(np.abs(angle.real) > LARGEST_LOSS):
        raise too_long(f"one of {np.abs(angle.real).max():.3g} nepers")


def too_long(found: object) -> ArgumentFault:
    """The refusal of a line that passes nothing; `found` tells its length or what it does."""
    return ArgumentFault(
        "length", found, "a shorter cable, or better values: nothing passes through this one"
    )


def _both(x: Complex) -> tuple[Complex, Complex]:
    """Both sinh x and cosh x: of the real functions, much quicker than the complex ones."""
    sinh, cosh, sine, cosine = np.sinh(x.real), np.cosh(x.real), np.sin(x.imag), np.cos(x.imag)
    return sinh * cosine + 1j * (cosh * sine), cosh * cosine + 1j * (sinh * sine)


def _over(sinh: Complex, x: Complex) -> Complex:
    """sinh(x)/x, by its series near zero."""
    small = np.abs(x) < 1e-4
    result = sinh / np.where(small, 1, x)
    result[small] = 1 + x[small] ** 2 / 6
    return np.asarray(result)


def _rest(ratio: Complex, x: Complex) -> Complex:
    """(sinh(x)/x − 1)/x² from sinh(x)/x, by its series near zero."""
    small = np.abs(x) < 0.5
    result = (ratio - 1) / np.where(small, 1, x * x)
    # 1/3! + x²/5! + x⁴/7! + …, within 1e-17 below 0.5
    series, square = np.zeros_like(x[small]), x[small] ** 2
    for k in range(7, 0, -1):
        series = (1 + square * series) * (1 / (2 * k * (2 * k + 1)))
    result[small] = series
    return np.asarray(result)


def _doubled(square: Complex) -> tuple[Complex, Complex]:
    """Both functions by their series at A/4^k, then doubled k times: cosh 2x = 2 cosh² x − 1, sinh 2x = 2 sinh x cosh x.

    h = cosh − 1 is carried instead of cosh, which would lose its digits next to 1.
    """
    size = float(np.max(np.abs(square).sum(2), initial=0.0))
    if not np.isfinite(size) or np.sqrt(size) > 4 * LARGEST_LOSS * 2**6:
        raise too_long(f"one of {np.sqrt(size):.3g} radians or nepers")
    if np.sqrt(size) > LARGEST_LOSS:
        _refuse_loss(np.sqrt(np.linalg.eigvals(square)))
    doublings = max(0, int(np.ceil(np.log(max(size, 1e-300) / _SMALL) / np.log(4))))
    a = square / 4.0**doublings
    eye = np.eye(square.shape[1])
    h, ratio = np.zeros_like(a), np.zeros_like(a)
    for k in range(_TERMS, 0, -1):
        h = a @ (eye + h) / ((2 * k - 1) * 2 * k)
        ratio = a @ (eye + ratio) / (2 * k * (2 * k + 1))
    ratio = eye + ratio
    for _ in range(doublings):
        ratio = ratio @ (eye + h)
        h = 2 * h @ h + 4 * h
    return np.asarray(eye + h), np.asarray(ratio)
