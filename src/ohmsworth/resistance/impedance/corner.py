"""A film or a skin effect in a curve: the corner that suits best, and whether it is there at all.

For a given corner fc both are linear in one amplitude (Rf or Rs ≥ 0) beside R and L. The corners from a third of the lowest to
three times the highest tone are tried; the best is the one with the least sum of squares. Since the best of many is taken, its t
passes a limit more often than t does. With c the normal value that is as rare as t, and V the length of the path that the
normalised whitened columns (freed from R and L) run through as the corner moves:

    P ≤ Φ(−c) + V exp(−c²/2)/2π

Source: "Davies" for the bound.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy import optimize, stats

from ohmsworth.resistance.impedance.curve import Array, Complex
from ohmsworth.resistance.impedance.estimated import Estimated
from ohmsworth.resistance.impedance.least_squares import LinearFit, Weighted, fitted
from ohmsworth.resistance.impedance.shapes import Bent, bend, bend_slope, columns_of

#: How far beyond the tones a corner is looked for, as a factor, and how many are tried.
BEYOND, TRIED = 3.0, 61
_AMPLITUDE = np.array([0.0, 0.0, 1.0])


@dataclass(frozen=True, slots=True, eq=False)
class Bending:
    """The best film, or the best skin effect.

    Parameters
    ----------
    shape
        Which of the two.
    corner
        fc in hertz.
    low, high
        Ends of its 95 % interval by the sum of squares; 0 and infinity where it leads out of the tried corners.
    fit
        R, L and amplitude at that corner.
    full
        The same with the logarithm of the corner as a fourth parameter, linearised.
    p_value
        Bound on the chance of as much without any.
    bound
        Largest amplitude, with 95 % confidence, whose corner lies within the tones, in ohm.
    """

    shape: Bent
    corner: float
    low: float
    high: float
    fit: LinearFit
    full: LinearFit
    p_value: float
    bound: float

    @property
    def apart(self) -> bool:
        """Whether corner, amplitude and R can be told from each other."""
        return self.low > 0 and np.isfinite(self.high)


def best_bending(data: Weighted, shape: Bent) -> Bending:
    """Look for a film or a skin effect; at least three tones."""
    f = data.curve.frequency
    tried = np.geomspace(f[0] / BEYOND, f[-1] * BEYOND, TRIED)
    fits = [fitted(data, columns_of(shape, f, corner)) for corner in tried]
    straight = fitted(data, columns_of("series", f)).square
    # A film of less than nothing is none.
    squares = np.array([fit.square if fit.value[2] > 0 else straight for fit in fits])
    corner = _polished(data, shape, tried, squares)
    fit = fitted(data, columns_of(shape, f, corner))
    full = fitted(data, full_columns(shape, f, fit.value[2], corner))
    amplitude = fit.estimated(_AMPLITUDE)
    low, high = _profile(tried, squares, fit, full) if fit.value[2] > 0 else (0.0, np.inf)
    within = (tried >= f[0]) & (tried <= f[-1])
    bound = max(_upper(fits[i].estimated(_AMPLITUDE)) for i in np.flatnonzero(within))
    return Bending(shape, corner, low, high, fit, full, _chance(data, shape, tried, amplitude), bound)


def full_columns(shape: Bent, frequency: Array, amplitude: float, corner: float) -> Complex:
    """Columns of R, L, amplitude and the logarithm of the corner, shape (tones, 4)."""
    return np.column_stack(
        [columns_of(shape, frequency, corner), amplitude * bend_slope(shape, frequency, corner)]
    )


def _polished(data: Weighted, shape: Bent, tried: Array, squares: Array) -> float:
    """The best corner between the neighbours of the best one tried."""
    best = int(squares.argmin())
    low, high = float(np.log(tried[max(best - 1, 0)])), float(np.log(tried[min(best + 1, len(tried) - 1)]))

    def square(log_corner: float) -> float:
        fit = fitted(data, columns_of(shape, data.curve.frequency, float(np.exp(log_corner))))
        return fit.square if fit.value[2] > 0 else float(squares.max())

    found = optimize.minimize_scalar(square, bounds=(low, high), method="bounded", options={"xatol": 1e-7})
    return float(np.exp(found.x)) if found.fun < squares[best] else float(tried[best])


def _profile(tried: Array, squares: Array, fit: LinearFit, full: LinearFit) -> tuple[float, float]:
    """Corners whose sum of squares is not significantly more than the least."""
    corner = full.estimated(np.array([0.0, 0.0, 0.0, 1.0]))
    dearer = full.covariance[3, 3] / full.plain[3, 3]
    allowed = fit.square + float(stats.t.isf(0.025, corner.degrees)) ** 2 * dearer
    inside = np.flatnonzero(squares <= allowed)
    if not len(inside):  # sharper than the steps between the corners that are tried
        step = float(np.log(tried[1] / tried[0]))
        middle = tried[int(squares.argmin())]
        return float(middle * np.exp(-step)), float(middle * np.exp(step))
    first, last = inside[0], inside[-1]
    low = 0.0 if first == 0 else float(tried[first - 1])
    high = np.inf if last == len(tried) - 1 else float(tried[last + 1])
    return low, high


def _chance(data: Weighted, shape: Bent, tried: Array, amplitude: Estimated) -> float:
    t = amplitude.value / amplitude.uncertainty
    if t <= 0:
        return 1.0
    c = float(stats.norm.isf(stats.t.sf(t, amplitude.freedom)))
    path = _path(data, shape, tried)
    return min(1.0, float(stats.norm.sf(c)) + path * float(np.exp(-(c**2) / 2)) / (2 * np.pi))


def _path(data: Weighted, shape: Bent, tried: Array) -> float:
    """Length in radian of the path of the normalised columns as the corner moves."""
    f = data.curve.frequency
    straight = data.rows(columns_of("series", f))
    q, _ = np.linalg.qr(straight / np.linalg.norm(straight, axis=0))
    bent = data.rows(np.column_stack([bend(shape, f, corner) for corner in tried]))
    bent = bent - q @ (q.T @ bent)
    bent = bent / np.linalg.norm(bent, axis=0)
    chord = np.linalg.norm(np.diff(bent, axis=1), axis=0)
    return float(2 * np.arcsin(np.clip(chord / 2, 0, 1)).sum())


def _upper(amplitude: Estimated) -> float:
    return max(0.0, amplitude.value) + float(stats.t.isf(0.05, amplitude.freedom)) * amplitude.uncertainty
