"""Scattering parameters: two-ports as network analysers measure them and files hold them.

A wave a that runs into a port and the wave b that comes back are, for the port's reference resistance R,
a = (V + R I)/(2 √R) and b = (V − R I)/(2 √R), I into the two-port; b = S a. The reference says how S is written, not
what the two-port does: the chain matrix knows none.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from ohmsworth.consequence.circuit.elements import Complex
from ohmsworth.consequence.twoport import Frequencies, OnePort, TwoPort, determinant
from ohmsworth.errors import ArgumentFault

#: Two-ports are read off between two frequencies only where that is right to so much: 0.01 is 0.09 dB of what passes.
INTERPOLATION_ERROR = 0.01


def scattering_from_chain(chain: npt.ArrayLike, reference_resistance: npt.ArrayLike) -> Complex:
    """Scattering matrices of chain matrices, both of shape (..., 2, 2).

    S = [[A R2 + B − C R1 R2 − D R1, 2 √(R1 R2) (A D − B C)], [2 √(R1 R2), B − A R2 − C R1 R2 + D R1]] / Δ,
    Δ = A R2 + B + C R1 R2 + D R1.

    Parameters
    ----------
    chain
        As in `TwoPort`.
    reference_resistance
        Ohm, positive: one for both ports, or those of port 1 and port 2.

    S12 is made of a difference that shrinks as the loss grows: it is right to some 2e-16/abs(S21), which is 1e-11 at 100 dB, and
    means nothing beyond 150 dB. Not finite where Δ is zero, which no passive two-port reaches. Source: "chain-matrix".
    """
    m = np.asarray(chain, dtype=np.complex128)
    first, second = both_references(reference_resistance)
    a, b, c, d = m[..., 0, 0] * second, m[..., 0, 1], m[..., 1, 0] * first * second, m[..., 1, 1] * first
    through = 2 * np.sqrt(first * second)
    forward = np.full_like(a, through)
    upper = np.stack((a - d + b - c, through * determinant(m)), -1)
    lower = np.stack((forward, d - a + b - c), -1)
    with np.errstate(all="ignore"):
        return np.asarray(np.stack((upper, lower), -2) / (a + b + c + d)[..., None, None])


def chain_from_scattering(scattering: npt.ArrayLike, reference_resistance: npt.ArrayLike) -> Complex:
    """Chain matrices of scattering matrices, both of shape (..., 2, 2); the inverse of `scattering_from_chain`.

    With P = S12 S21 and T = 2 S21:
    A = ((1 + S11)(1 − S22) + P)/T √(R1/R2), B = ((1 + S11)(1 + S22) − P)/T √(R1 R2),
    C = ((1 − S11)(1 − S22) − P)/T /√(R1 R2), D = ((1 − S11)(1 + S22) + P)/T √(R2/R1).

    Not finite where S21 is zero: nothing passes from port 1 to port 2 there. Source: "chain-matrix".
    """
    s = np.asarray(scattering, dtype=np.complex128)
    first, second = both_references(reference_resistance)
    s11, s22, both = s[..., 0, 0], s[..., 1, 1], s[..., 0, 1] * s[..., 1, 0]
    upper = np.stack(((1 + s11) * (1 - s22) + both, (1 + s11) * (1 + s22) - both), -1)
    lower = np.stack(((1 - s11) * (1 - s22) - both, (1 - s11) * (1 + s22) + both), -1)
    ratio, product = np.sqrt(first / second), np.sqrt(first * second)
    scale = np.array([[ratio, product], [1 / product, 1 / ratio]])
    with np.errstate(all="ignore"):
        return np.asarray(np.stack((upper, lower), -2) * scale / (2 * s[..., 1, 0])[..., None, None])


def both_references(reference_resistance: npt.ArrayLike) -> tuple[float, float]:
    """The reference resistances of port 1 and port 2, from one for both or from two."""
    given = np.asarray(reference_resistance)
    if given.dtype.kind not in "iuf" or given.shape not in ((), (2,)):
        wanted = "one real number of ohm, or two"
        raise ArgumentFault("reference_resistance", reference_resistance, wanted)
    first, second = np.broadcast_to(given.astype(float), 2).tolist()
    if not (np.all(np.isfinite(given)) and np.all(given > 0)):
        raise ArgumentFault("reference_resistance", reference_resistance, "positive numbers of ohm")
    return first, second


def impedance_of(one_port: OnePort) -> Complex:
    """Impedance in ohm, shape (m,): R (1 + S11)/(1 − S11). ArgumentFault where it is infinite, at S11 = 1."""
    if np.any(one_port.reflection == 1):
        raise ArgumentFault("one_port", "a reflection of 1", "an impedance that is not infinite")
    s11 = one_port.reflection
    return np.asarray(one_port.reference_resistance * (1 + s11) / (1 - s11))


def at_frequency(
    two_port: TwoPort,
    frequency: npt.ArrayLike,
    reference_resistance: npt.ArrayLike = 50.0,
    tolerance: float = INTERPOLATION_ERROR,
) -> TwoPort:
    """`two_port` at other frequencies, all of them within its own.

    Every scattering parameter is drawn as straight lines in the complex plane from one known frequency to the next. How far
    the true curve may lie beside such a line is estimated from its bend: e = h² abs(S'')/8, h the step and S'' the larger of the
    second differences at its two ends. A cable whose S21 turns by φ from step to step has e = 1 − cos(φ/2) of S21, nearly:
    16 degrees make 0.01. With two known frequencies alone, e is the whole difference between them.

    Parameters
    ----------
    frequency
        Hertz, shape (n,), ascending; a known one gives back what is known there.
    reference_resistance
        Ohm, of both ports or of each: in which S is drawn.
    tolerance
        The largest e: of S21 and S12 as a share of the larger of both ends, of S11 and S22 as they are.

    Raises
    ------
    ArgumentFault
        Outside the known frequencies (nothing is known there, at zero hertz least of all), and where the known ones are
        too far apart.
    """
    f, known = np.atleast_1d(np.asarray(frequency, dtype=float)), two_port.frequency
    if f.size and not (f.min() >= known[0] and f.max() <= known[-1]):
        wanted = f"frequencies from {known[0]:g} to {known[-1]:g} Hz, between which the two-port is known"
        raise ArgumentFault("frequency", f"{f.min():g} to {f.max():g} Hz", wanted)
    s = scattering_from_chain(two_port.chain, reference_resistance)
    _check_steps(known, s, f, tolerance)
    drawn = np.empty((len(f), 2, 2), dtype=np.complex128)
    for row, column in np.ndindex(2, 2):
        drawn[:, row, column] = np.interp(f, known, s[:, row, column])
    return TwoPort(f, chain_from_scattering(drawn, reference_resistance))


def _check_steps(known: Frequencies, s: Complex, f: Frequencies, tolerance: float) -> None:
    """Refuse steps between known frequencies that are too long to draw a straight line over, where one is asked for."""
    asked = np.setdiff1d(f, known)
    steps = np.unique(np.searchsorted(known, asked) - 1)
    if not len(steps):
        return
    error = _beside_the_line(known, s)[steps]
    size = np.ones_like(error)
    for row, column in ((0, 1), (1, 0)):
        size[:, row, column] = np.maximum(np.abs(s[steps, row, column]), np.abs(s[steps + 1, row, column]))
    too_far = np.any(error > tolerance * size, axis=(1, 2))
    if np.any(too_far):
        at = steps[np.argmax(too_far)]
        found = f"frequencies between {known[at]:g} and {known[at + 1]:g} Hz"
        wanted = (
            f"frequencies where the steps are short enough to draw S to {tolerance:g}; measure finer steps"
        )
        raise ArgumentFault("frequency", found, wanted)


def _beside_the_line(known: Frequencies, s: Complex) -> npt.NDArray[np.float64]:
    """How far S may lie beside a straight line, for every step between known frequencies, shape (m − 1, 2, 2)."""
    step = np.diff(known)[:, None, None]
    slope = np.diff(s, axis=0) / step
    if len(known) == 2:
        return np.abs(np.diff(s, axis=0))
    bend = np.abs(np.diff(slope, axis=0)) / (step[1:] + step[:-1]) * 2
    ends = np.concatenate((bend[:1], bend, bend[-1:]))
    return np.asarray(step**2 / 8 * np.maximum(ends[1:], ends[:-1]))
