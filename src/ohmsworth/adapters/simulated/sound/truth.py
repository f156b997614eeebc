"""What is true of a shunt and a contact that do not exist."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from ohmsworth.errors import ArgumentFault

Array = NDArray[np.float64]
Complex = NDArray[np.complex128]


@dataclass(frozen=True, slots=True)
class TrueContact:
    """Metal and a film in a row: ``Z(f) = R + j2πfL + Rf / (1 + j2πf Rf Cf)``.

    Parameters
    ----------
    resistance
        R of the metal, ohm; its mean over what is analysed.
    inductance
        L between the sense points, henry.
    film, capacitance
        Rf of the film in ohm, 0 without one, and Cf across it in farad.
    scale, lean
        Volts over which the current through the film (through the metal without one) bends, None where it does not, and
        how lopsided: ``i = (v/Rn) (1 + lean v/scale + (v/scale)²/6)``, the first terms of a hyperbolic sine and a lean.
    drift
        Relative change of R over what is analysed, a straight line through nought in its middle.
    flicker
        Root of the relative spectral density of R at 1 Hz, 1/√Hz; it falls as 1/√f.
    """

    resistance: float
    inductance: float = 0.0
    film: float = 0.0
    capacitance: float = 0.0
    scale: float | None = None
    lean: float = 0.0
    drift: float = 0.0
    flicker: float = 0.0

    def __post_init__(self) -> None:
        not_negative(self, "resistance", "inductance", "film", "capacitance", "flicker")
        if self.scale is not None and not self.scale > 0:
            raise ArgumentFault("scale", self.scale, "volts, more than zero, or none")

    def impedance(self, frequency: Array) -> Complex:
        """Z in ohm while the current is small, shape as `frequency` in hertz."""
        metal = self.resistance + 2j * np.pi * frequency * self.inductance
        return np.asarray(metal + self.film / (1 + 2j * np.pi * frequency * self.film * self.capacitance))

    def bent(self, frequency: Array) -> tuple[float, Complex]:
        """Rn and the impedance of the part that bends: the film with its capacitance, or the metal's resistance."""
        if self.film:
            part = self.film / (1 + 2j * np.pi * frequency * self.film * self.capacitance)
            return self.film, np.asarray(part)
        return self.resistance, np.full(len(frequency), self.resistance, complex)


@dataclass(frozen=True, slots=True)
class TrueShunt:
    """What the shunt really is: ``Z(f) = R + j2πfL``.

    Parameters
    ----------
    resistance, inductance
        R in ohm and L in henry.
    drift
        Relative change of R over what is analysed while it warms, a straight line through nought in its middle.
    """

    resistance: float
    inductance: float = 0.0
    drift: float = 0.0

    def __post_init__(self) -> None:
        not_negative(self, "resistance", "inductance")

    def impedance(self, frequency: Array) -> Complex:
        """Z in ohm, shape as `frequency` in hertz."""
        return np.asarray(self.resistance + 2j * np.pi * frequency * self.inductance)


@dataclass(frozen=True, slots=True)
class Truth:
    """The contact and the shunt in a row with it."""

    contact: TrueContact
    shunt: TrueShunt


def not_negative(holder: object, *names: str) -> None:
    """Refuse a field that is negative or no finite number."""
    for name in names:
        if not 0 <= getattr(holder, name) < np.inf:
            raise ArgumentFault(name, getattr(holder, name), "zero or more")
