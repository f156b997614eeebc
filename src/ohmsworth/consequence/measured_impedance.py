"""A contact's impedance between and beside the tones at which it was measured.

    Z(f) = R(f) + j 2πf L(f)

with R and L = X/(2πf) along straight lines over ln f between the tones: exact for a resistance in series with an inductance.
Beyond the tones R is held; so is L, but X where it is a capacitance's above the highest tone, which an inductance held would let
grow. Further than a factor of two from the tones nothing is told.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ohmsworth.consequence.circuit.elements import Complex
from ohmsworth.consequence.use import Array
from ohmsworth.errors import ArgumentFault

#: How many times beyond the lowest and the highest tone the impedance is told.
REACH = 2.0


@dataclass(frozen=True, slots=True, eq=False)
class MeasuredImpedance:
    """Z at m tones.

    Parameters
    ----------
    frequency
        Hertz, above zero and ascending, shape (m,).
    value
        Ohm, shape (..., m): perhaps several, such as an estimate with the ends of its interval.

    Raises
    ------
    ArgumentFault
        When there is no tone, the frequencies do not ascend from above zero, or there is not one value a tone.
    """

    frequency: Array
    value: Complex

    def __post_init__(self) -> None:
        f = self.frequency
        if not (len(f) and f[0] > 0 and (np.diff(f) > 0).all()):
            raise ArgumentFault("frequency", f, "one or more, above zero and ascending")
        if self.value.shape[-1:] != f.shape or not np.isfinite(self.value).all():
            raise ArgumentFault("value", self.value.shape, "one finite impedance a tone")

    @property
    def lowest(self) -> float:
        """Hertz from which on it is told."""
        return float(self.frequency[0] / REACH)

    @property
    def highest(self) -> float:
        """Hertz up to which it is told."""
        return float(self.frequency[-1] * REACH)

    def at(self, frequency: Array) -> Complex:
        """Ohm at `frequency` (n,), shape (..., n); no number beyond what is told."""
        place = np.interp(
            np.log(np.maximum(frequency, self.lowest / 2)),
            np.log(self.frequency),
            np.arange(len(self.frequency)),
        )
        low = np.minimum(place.astype(int), len(self.frequency) - 1)
        high = np.minimum(low + 1, len(self.frequency) - 1)
        part = place - low
        turn = 2 * np.pi * self.frequency
        inductance = self.value.imag / turn

        def between(values: Array) -> Array:
            return np.asarray(values[..., low] * (1 - part) + values[..., high] * part)

        reactance = 2 * np.pi * frequency * between(inductance)
        last = self.value.imag[..., -1:]
        reactance = np.where((frequency > self.frequency[-1]) & (last < 0), last, reactance)
        # A tolerance for the ends themselves, which a product of two numbers need not hit.
        told = (frequency >= self.lowest * (1 - 1e-9)) & (frequency <= self.highest * (1 + 1e-9))
        return np.asarray(np.where(told, between(self.value.real) + 1j * reactance, np.nan))
