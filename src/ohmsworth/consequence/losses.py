"""What a two-port takes and sends back between a source and a load, and whether it is what a cable can be."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from ohmsworth.consequence.scattering import both_references, scattering_from_chain
from ohmsworth.consequence.twoport import TwoPort, determinant

Decibel = npt.NDArray[np.float64]
#: What rounding may leave of an equality.
ROUNDING = 1e-9


def return_loss(two_port: TwoPort, source_resistance: float, load_resistance: float) -> Decibel:
    """Return loss at the source in decibel, shape (m,): −20 log10 abs((Zin − Rs)/(Zin + Rs)) with the load at the far end.

    Infinite where nothing comes back. Both resistances in ohm, positive. Source: "chain-matrix".
    """
    s = scattering_from_chain(two_port.chain, (source_resistance, load_resistance))
    with np.errstate(divide="ignore"):
        return np.asarray(-20 * np.log10(np.abs(s[:, 0, 0])))


def insertion_loss(two_port: TwoPort, source_resistance: float, load_resistance: float) -> Decibel:
    """Insertion loss in decibel, shape (m,): power in the load without the two-port over power in the load with it.

    20 log10 abs((A Rl + B + C Rs Rl + D Rs)/(Rs + Rl)); with like resistances −20 log10 abs(S21). Below zero where the two-port
    matches a load better than a straight joint does. Both resistances in ohm, positive. Source: "chain-matrix".
    """
    source, load = both_references((source_resistance, load_resistance))
    a, b, c, d = (two_port.chain[:, row, column] for row, column in np.ndindex(2, 2))
    divided = np.abs(a * load + b + c * source * load + d * source) / (source + load)
    with np.errstate(divide="ignore"):
        return np.asarray(20 * np.log10(divided))


def reciprocal(two_port: TwoPort, tolerance: float = ROUNDING) -> bool:
    """Whether as much passes forward as backward at every frequency: abs(A D − B C − 1) ≤ `tolerance`.

    A D − B C is S12/S21. Every cable, contact and filter of resistors, coils and capacitors is reciprocal; measured, to
    the analyser's accuracy. Where a two-port loses much, A D and B C are large and their rounding counts: `tolerance` is
    taken of abs(A D) + abs(B C) there. Source: "chain-matrix".
    """
    size = np.maximum(1, _products(two_port))
    return bool(np.all(np.abs(determinant(two_port.chain) - 1) <= tolerance * size))


def passive(two_port: TwoPort, tolerance: float = ROUNDING) -> bool:
    """Whether no more power ever comes out than went in: `largest_gain` ≤ 1 + `tolerance` at every frequency.

    That holds for every positive reference resistance or for none; it is reckoned at 50 ohm, and the rounding of S12 (see
    `scattering_from_chain`) is allowed for. Measured, a low-loss cable can pass 1 by the analyser's error. Source:
    "chain-matrix".
    """
    passed = np.abs(scattering_from_chain(two_port.chain, 50.0)[:, 1, 0])
    with np.errstate(invalid="ignore"):
        rounding = 4 * np.finfo(float).eps * _products(two_port) * passed
    return bool(np.all(largest_gain(two_port) <= 1 + tolerance + rounding))


def largest_gain(two_port: TwoPort, reference_resistance: npt.ArrayLike = 50.0) -> npt.NDArray[np.float64]:
    """Largest singular value of S, shape (m,): the amplitude that can come out over what went in, of all ways to feed it.

    Infinite where S is. Source: "chain-matrix".
    """
    s = scattering_from_chain(two_port.chain, reference_resistance)
    finite = np.all(np.isfinite(s), axis=(1, 2))
    gain = np.full(len(s), np.inf)
    gain[finite] = np.linalg.svd(s[finite], compute_uv=False)[:, 0]
    return gain


def _products(two_port: TwoPort) -> npt.NDArray[np.float64]:
    """abs(A D) + abs(B C), of which A D − B C is the difference."""
    size = np.abs(two_port.chain)
    return np.asarray(size[:, 0, 0] * size[:, 1, 1] + size[:, 0, 1] * size[:, 1, 0])
