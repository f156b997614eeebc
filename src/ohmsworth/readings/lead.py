"""A lead or cable as an analyser measured it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt


@dataclass(frozen=True, slots=True, eq=False)
class MeasuredLead:
    """A two-port over frequency.

    Parameters
    ----------
    frequency
        Hertz, shape (m,), ascending.
    chain
        Chain matrices [[A, B], [C, D]] from the source side to the load side, shape (m, 2, 2).
    """

    frequency: npt.NDArray[np.float64]
    chain: npt.NDArray[np.complex128]
