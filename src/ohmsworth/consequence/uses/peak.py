"""The highest point of curves that are known at some places."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from scipy.interpolate import CubicSpline

from ohmsworth.consequence.use import Array


def peak_finder(places: Array) -> Callable[[Array], tuple[Array, Array]]:
    """A function that finds the highest point of smooth curves known at `places`.

    Parameters
    ----------
    places
        Shape (m,), rising, m at least 4.

    Returns
    -------
    Callable
        Heights of shape (..., m) to place and height of the highest point, each of shape (...): of the cubic spline
        through the heights, next to the highest of them.

    Notes
    -----
    Both move smoothly with the heights as long as the highest point stays on the same hill, so that an equation can be
    solved for them. A curve that only falls is highest at its first place, one that only rises at its last. The slopes of a
    spline are linear in the heights: a matrix gives them for any number of curves.
    """
    slopes = CubicSpline(places, np.eye(len(places)))(places, 1).T
    steps = np.diff(places)

    def find(heights: Array) -> tuple[Array, Array]:
        highest = heights.argmax(axis=-1)[..., None]
        slope = heights @ slopes
        # The top lies after the highest sample where the curve still rises there, before it otherwise.
        rises = np.take_along_axis(slope, highest, -1) >= 0
        first = np.clip(np.where(rises, highest, highest - 1), 0, len(steps) - 1)
        low, high, rise, fall = (
            np.take_along_axis(a, first + i, -1)[..., 0] for a in (heights, slope) for i in (0, 1)
        )
        piece = first[..., 0]
        t, height = _top(low, high, rise, fall, steps[piece])
        return places[piece] + t, height

    return find


def _top(low: Array, high: Array, rise: Array, fall: Array, step: Array) -> tuple[Array, Array]:
    """Where a cubic is highest between two ends `step` apart, and how high, from heights and slopes there."""
    mean = (high - low) / step
    c2, c3 = (3 * mean - 2 * rise - fall) / step, (rise + fall - 2 * mean) / step**2
    # 3 c3 t² + 2 c2 t + rise = 0, the root at which the curve bends down, in the form that bears c3 = 0.
    bend = np.sqrt(np.maximum(c2**2 - 3 * c3 * rise, 0)) - c2
    # Where it never bends down it is highest at an end.
    end = np.where(rise > 0, step, 0.0)
    t = np.clip(np.divide(rise, bend, out=end, where=bend > 0), 0, step)
    return t, np.asarray(low + t * (rise + t * (c2 + t * c3)))
