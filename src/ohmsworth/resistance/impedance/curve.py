"""An impedance over frequency, with the parts of its uncertainty kept apart by source."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Complex = NDArray[np.complex128]


@dataclass(frozen=True, slots=True, eq=False)
class Curve:
    """Z(f) = R + jX at each tone; of a wire, where it says so, Y(f) = G + jB in siemens.

    Parameters
    ----------
    frequency
        In hertz, shape (tones,), ascending.
    value
        In ohm, shape (tones,).
    random
        Covariance of (R, X) from noise, in ohm², shape (tones, 2, 2); independent from tone to tone.
    degrees
        Degrees of freedom of `random`, shape (tones,).
    shared
        What one standard uncertainty of each further source does to `value`, in ohm, shape (tones,): the same error at
        every tone, independent from source to source.
    """

    frequency: Array
    value: Complex
    random: Array
    degrees: Array
    shared: Mapping[str, Complex]

    def covariance(self) -> Array:
        """Covariance of (R, X) from everything, in ohm², shape (tones, 2, 2)."""
        total = self.random.copy()
        for effect in self.shared.values():
            parts = np.column_stack([effect.real, effect.imag])
            total += parts[:, :, None] * parts[:, None, :]
        return total
