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
    z, y = series_impedance(cable, frequency), shunt_admittance(cable, frequency)
    cosh, ratio = _hyperbolic(z @ y * length**2, z, y, length)
    upper = np.concatenate((cosh, length * ratio @ z), axis=2)
    lower = np.concatenate((length * y @ ratio, np.swapaxes(cosh, 1, 2)), axis=2)
    return np.concatenate((upper, lower), axis=1)


def _hyperbolic(square: Complex, z: Complex, y: Complex, length: float) -> tuple[Complex, Complex]:
    """Both cosh √A and sinh √A/√A of matrices A = zy l², shape (m, n, n)."""
    if square.shape[1] == 2 and _floats(y):
        return _one_mode(square, z, y, length)
    return _doubled(square)


def _floats(y: Complex) -> bool:
    """Whether two conductors have no capacitance to anything but each other."""
    return bool(np.all(y[:, 0, 0] == -y[:, 0, 1]) and np.all(y[:, 1, 1] == -y[:, 0, 1]))


def _one_mode(square: Complex, z: Complex, y: Complex, length: float) -> tuple[Complex, Complex]:
    """The closed form for two conductors: A is a product of two vectors, and all its powers are A times a number."""
    loop = z[:, 0, 0] + z[:, 1, 1] - z[:, 0, 1] - z[:, 1, 0]
    angle: Complex = np.asarray(np.sqrt(y[:, 0, 0] * loop) * length, dtype=np.complex128)
    _refuse_loss(angle)
    half = _sinh_ratio(angle / 2)
    eye = np.eye(2)
    cosh = eye + square * np.asarray(half**2 / 2)[:, None, None]
    return cosh, eye + square * _sinh_rest(angle)[:, None, None]


def _refuse_loss(angle: Complex) -> None:
    """Refuse a line whose modes turn and lose by `angle`, its real part in nepers."""
    if np.any(np.abs(angle.real) > LARGEST_LOSS):
        raise too_long(f"one of {np.abs(angle.real).max():.3g} nepers")


def too_long(found: object) -> ArgumentFault:
    """The refusal of a line that passes nothing; `found` tells its length or what it does."""
    return ArgumentFault(
        "length", found, "a shorter cable, or better values: nothing passes through this one"
    )


def _sinh_ratio(x: Complex) -> Complex:
    """sinh(x)/x, by its series near zero."""
    small = np.abs(x) < 1e-4
    return np.asarray(np.where(small, 1 + x**2 / 6, np.sinh(x) / np.where(small, 1, x)))


def _sinh_rest(x: Complex) -> Complex:
    """(sinh(x)/x − 1)/x², by its series near zero."""
    small = np.abs(x) < 0.5
    s = np.where(small, x, 0) ** 2
    # 1/3! + x²/5! + x⁴/7! + …, within 1e-17 below 0.5
    near = 1 / 6 * (1 + s / 20 * (1 + s / 42 * (1 + s / 72 * (1 + s / 110 * (1 + s / 156 * (1 + s / 210))))))
    safe = np.where(small, 1, x)
    return np.asarray(np.where(small, near, (np.sinh(safe) / safe - 1) / safe**2))


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
