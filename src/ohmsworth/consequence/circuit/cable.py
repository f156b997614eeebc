"""What a metre of cable is: series impedance and shunt admittance of all its conductors, over frequency."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from ohmsworth.errors import ArgumentFault

Array = npt.NDArray[np.float64]
Complex = npt.NDArray[np.complex128]

#: Hertz of shape (m,) to ohm per metre of one conductor, shape (m,).
PerMetre = Callable[[Array], Complex]


@dataclass(frozen=True, slots=True, eq=False)
class CableConstants:
    """A cable of n conductors per metre, screens among them.

    Parameters
    ----------
    inside
        For each conductor its own impedance over frequency in ohm per metre: resistance and the field inside it.
    inductance
        Henry per metre, shape (n, n), symmetric: of the space between the conductors.
    capacitance
        Farad per metre, shape (n, n), symmetric: [i, j] between conductors i and j, [i, i] from i to what is around
        the cable.
    loss_tangent
        Of the insulation, the same at all frequencies: the conductance is ω tan δ C.
    """

    inside: tuple[PerMetre, ...]
    inductance: Array
    capacitance: Array
    loss_tangent: float = 0.0

    def __post_init__(self) -> None:
        n = len(self.inside)
        for name in ("inductance", "capacitance"):
            matrix = getattr(self, name)
            if (
                matrix.shape != (n, n)
                or not np.array_equal(matrix, matrix.T)
                or not np.all(np.isfinite(matrix))
            ):
                raise ArgumentFault(name, matrix, f"a symmetric matrix of {n} × {n}")
        if np.any(self.capacitance < 0) or np.any(np.linalg.eigvalsh(self.inductance) < -1e-12):
            raise ArgumentFault(
                "inductance", self.inductance, "inductances and capacitances that can be stored in"
            )
        if not 0 <= self.loss_tangent <= 1:
            raise ArgumentFault("loss_tangent", self.loss_tangent, "0 to 1")

    @property
    def conductors(self) -> int:
        """How many there are."""
        return len(self.inside)


def series_impedance(cable: CableConstants, frequency: Array) -> Complex:
    """Ohm per metre of `cable`, shape (m, n, n) for `frequency` in hertz of shape (m,)."""
    omega = 2j * np.pi * frequency[:, None, None]
    z = omega * cable.inductance
    for i, inside in enumerate(cable.inside):
        z[:, i, i] += inside(frequency)
    return np.asarray(z, dtype=np.complex128)


def shunt_admittance(cable: CableConstants, frequency: Array) -> Complex:
    """Siemens per metre of `cable`, shape (m, n, n) for `frequency` in hertz of shape (m,)."""
    per_farad = 2 * np.pi * frequency[:, None, None] * (1j + cable.loss_tangent)
    return np.asarray(per_farad * node_matrix(cable.capacitance), dtype=np.complex128)


class CablesAt:
    """Series impedance and shunt admittance of cables at some frequencies, reckoned once however many pieces there are."""

    def __init__(self, frequency: Array) -> None:
        self.frequency = frequency
        self._known: dict[CableConstants, tuple[Complex, Complex]] = {}

    def __call__(self, cable: CableConstants) -> tuple[Complex, Complex]:
        """Ohm and siemens per metre of `cable`, shape (m, n, n) each."""
        if cable not in self._known:
            z, y = series_impedance(cable, self.frequency), shunt_admittance(cable, self.frequency)
            self._known[cable] = z, y
        return self._known[cable]


def node_matrix(between: Array) -> Array:
    """Capacitances between conductors as the matrix that takes their potentials to their charges."""
    return np.asarray(np.diag(between.sum(1)) - (between - np.diag(np.diag(between))))


def plain_resistance(ohm_per_metre: float) -> PerMetre:
    """A conductor with the same resistance at all frequencies and no field inside."""
    return lambda frequency: np.full(frequency.shape, ohm_per_metre, dtype=np.complex128)


def cable_of(
    inside: Sequence[PerMetre],
    own: Sequence[float],
    capacitance: npt.ArrayLike,
    loss_tangent: float = 0.0,
    common: float = 0.0,
) -> CableConstants:
    """A cable from the inductance of each conductor, as if currents returned by the one with 0.

    Parameters
    ----------
    own
        Henry per metre of each conductor: half the loop for each of two like cores, the whole for the core of a coaxial
        cable, 0 for a screen around them.
    common
        Henry per metre of all conductors together against their surroundings: it counts only where current returns
        outside the cable, as hum does between two earths.
    """
    size = len(inside)
    return CableConstants(
        tuple(inside),
        np.diag(np.asarray(own, dtype=float)) + common * np.ones((size, size)),
        np.asarray(capacitance, dtype=float),
        loss_tangent,
    )
