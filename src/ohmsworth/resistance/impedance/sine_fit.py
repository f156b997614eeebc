"""Fit of a sine of known frequency, with an offset: the closed form that a lock-in is held to.

    y(t) = A cos(2πft) + B sin(2πft) + C = Re(Y exp(j2πft)) + C,    Y = A − jB

by linear least squares. Over whole cycles it is the discrete Fourier transform at that frequency. In white noise of standard
deviation σ over M samples (whole cycles), σ√(2/M) is the standard uncertainty of A, of B and of the amplitude, σ/√M of C;
no unbiased estimate has less (Cramér-Rao). Source: "IEEE1057" (three-parameter fit), "Kay" (bounds).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from ohmsworth.errors import ArgumentFault

Array = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class SineFit:
    """A sine in samples.

    Parameters
    ----------
    phasor
        Y, peak, of time zero at the first sample; in the unit of the samples.
    offset
        C.
    deviation
        Standard deviation of the samples about the fit, over samples less three.
    covariance
        Of (A, B, C) = (Re Y, −Im Y, C), shape (3, 3).
    degrees
        Degrees of freedom: samples less three.
    """

    phasor: complex
    offset: float
    deviation: float
    covariance: Array
    degrees: int


def three_parameter_fit(samples: npt.ArrayLike, rate: float, frequency: float) -> SineFit:
    """Least-squares sine of `frequency` hertz in `samples` that were taken at `rate` a second.

    Raises
    ------
    ArgumentFault
        When there are three samples or fewer, or the frequency is not between zero and half the rate.
    """
    y = np.asarray(samples, float)
    if y.ndim != 1 or len(y) <= 3:
        raise ArgumentFault("samples", y.shape, "one row of more than three")
    if not 0 < frequency < rate / 2:
        raise ArgumentFault("frequency", frequency, "more than zero and less than half the rate")
    phase = 2 * np.pi * frequency / rate * np.arange(len(y))
    columns = np.column_stack([np.cos(phase), np.sin(phase), np.ones(len(y))])
    # The triangular factor, and not the normal equations: twice as many digits where there is less than a cycle.
    q, r = np.linalg.qr(columns)
    a, b, c = np.linalg.solve(r, q.T @ y)
    left = y - columns @ [a, b, c]
    degrees = len(y) - 3
    square = float(left @ left) / degrees
    inverse = np.linalg.inv(r)
    return SineFit(complex(a, -b), float(c), square**0.5, square * inverse @ inverse.T, degrees)
