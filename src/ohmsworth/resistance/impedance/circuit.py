"""The circuit of a take: what the drive meets before the contact."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ohmsworth.errors import ArgumentFault

Complex = NDArray[np.complex128]
Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Shunt:
    """The known resistance beside the contact.

    Parameters
    ----------
    resistance
        In ohm.
    tolerance
        Half-width as a fraction of it (a rectangle), temperature included.
    inductance
        In henry, between its sense points.
    inductance_tolerance
        Half-width in henry (a rectangle).
    """

    resistance: float
    tolerance: float = 0.01
    inductance: float = 0.0
    inductance_tolerance: float = 0.0

    def __post_init__(self) -> None:
        if not 0 < self.resistance < np.inf:
            raise ArgumentFault("resistance", self.resistance, "more than zero")
        for name in ("tolerance", "inductance_tolerance"):
            if not 0 <= getattr(self, name) < np.inf:
                raise ArgumentFault(name, getattr(self, name), "zero or more")

    def impedance(self, frequency: Array) -> Complex:
        """``R + j 2π f L`` in ohm, shape as `frequency` in hertz."""
        return np.asarray(self.resistance + 2j * np.pi * frequency * self.inductance)


@dataclass(frozen=True, slots=True)
class Circuit:
    """From the output of the interface through the contact and back.

    Output, `series`, then shunt and contact in a row back to the output's return; `bridge` lies across shunt and
    contact together, so that a contact that opens does not see the whole output.

    Parameters
    ----------
    shunt
        The known resistance.
    series
        Ohm in the row with the output, its own source resistance included.
    output
        Peak volts of the output at full scale, open.
    bridge
        Ohm across shunt and contact; None without.
    inputs
        Peak volts at the inputs that read as full scale, by input; None where nobody knows: voltage and current are
        then taken from what the drive should give.
    crosstalk
        Largest share of one input's voltage that reads on the other, where no turned takes cancel it.
    mismatch
        Largest relative difference of the two inputs, gain and phase, where no swapped takes cancel it.
    """

    shunt: Shunt
    series: float
    output: float
    bridge: float | None = None
    inputs: tuple[float, float] | None = None
    crosstalk: float = 1e-5
    mismatch: float = 0.02

    def __post_init__(self) -> None:
        for name in ("series", "output"):
            if not 0 < getattr(self, name) < np.inf:
                raise ArgumentFault(name, getattr(self, name), "more than zero")
        for name in ("crosstalk", "mismatch"):
            if not 0 <= getattr(self, name) < 1:
                raise ArgumentFault(name, getattr(self, name), "a share from 0 to less than 1")
        if self.bridge is not None and not 0 < self.bridge < np.inf:
            raise ArgumentFault("bridge", self.bridge, "more than zero, or none")

    def current(self, output: float, contact: float) -> float:
        """Ampere through a contact of `contact` ohm while the output gives `output` volts open."""
        row = self.shunt.resistance + contact
        if self.bridge is None:
            return output / (self.series + row)
        across = self.bridge * row / (self.bridge + row)
        return output * across / (self.series + across) / row

    def open_circuit(self, output: float) -> float:
        """Volts that an open contact sees while the output gives `output` volts open."""
        return output if self.bridge is None else output * self.bridge / (self.series + self.bridge)
