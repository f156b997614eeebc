"""What lock-in leaves of a take: a phasor a tone and a group of periods, and the noise about it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Complex = NDArray[np.complex128]


@dataclass(frozen=True, slots=True, eq=False)
class Lines:
    """Phasors of both inputs at some frequencies; a line is ``x(t) = Re(Y exp(j2πft))`` from the start of the main part.

    Parameters
    ----------
    cycles
        Cycles in a period of the plan, shape (lines,).
    groups
        Phasors in groups of periods that follow each other, full scale being 1, shape (groups, 2, lines).
    noise
        Covariance E[n nᴴ] of the mean phasors of the two inputs, shape (lines, 2, 2), complex and Hermitian; the noise is
        circular, so that real and imaginary part have half of it each.
    degrees
        Degrees of freedom of `noise`, shape (lines,).
    """

    cycles: NDArray[np.int64]
    groups: Complex
    noise: Complex
    degrees: Array

    @property
    def mean(self) -> Complex:
        """Mean phasors, shape (2, lines)."""
        return np.asarray(self.groups.mean(axis=0))


@dataclass(frozen=True, slots=True, eq=False)
class Take:
    """A take after lock-in.

    Parameters
    ----------
    tones
        Lines at the tones that are played.
    products
        Lines at harmonics and sums and differences of them, where nothing is played.
    clock
        Recorder's samples to player's samples of the same stretch, less one.
    clock_uncertainty
        Standard uncertainty of it.
    start
        Sample of the recording at which the drive begins (not a whole number).
    shared_clock
        Whether player and recorder passed for running by one clock.
    """

    tones: Lines
    products: Lines
    clock: float
    clock_uncertainty: float
    start: float
    shared_clock: bool = True
