"""Capacitance between round wires inside a round screen, of any arrangement."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

from ohmsworth.errors import ArgumentFault

#: Electric constant in farad per metre. Source: "CODATA".
ELECTRIC_CONSTANT = 8.8541878128e-12
#: Gap between two wires, or a wire and its screen, in diameters: below it the expansion is too short.
SMALLEST_GAP = 0.1
#: Share of the field that is left to the multipoles beyond those counted.
_NEGLECTED = 1e-7

Array = npt.NDArray[np.float64]
Centres = npt.NDArray[np.complex128]


def capacitance_matrix(
    centres: npt.ArrayLike, diameter: float, screen_diameter: float, permittivity: float
) -> Array:
    """Charges per metre and volt of like wires in a screen: q = C v, shape (n, n).

    Each wire is a line charge with multipoles, each with its image in the screen, that hold as many points of its
    surface at one potential. The nearer the wires, the more multipoles: within 0.001 % of the exact solution.

    Parameters
    ----------
    centres
        Places of the wires' centres as complex numbers, metre from the screen's axis, shape (n,).
    diameter
        Metre over the bare copper of each wire.
    screen_diameter
        Metre, inside the screen.
    permittivity
        Relative, of the whole space inside: with air between insulated cores the effective one.

    Notes
    -----
    The elements outside the diagonal are negative: −C[i, j] is the capacitor between wires i and j, and the sum of
    row i the capacitor from wire i to the screen. Source: "chain-matrix".
    """
    wires = np.atleast_1d(np.asarray(centres, dtype=complex))
    _check(wires, diameter, screen_diameter, permittivity)
    places, radius = 2 * wires / screen_diameter, diameter / screen_diameter
    orders = _orders(wires, diameter, screen_diameter)
    turn = np.exp(2j * math.pi * np.arange(2 * orders + 1) / (2 * orders + 1))
    points = (places[:, None] + radius * turn).ravel()
    # Columns: of each wire its line charge, then its multipoles.
    columns = np.concatenate([_potentials(points, place, radius, orders) for place in places], axis=1)
    held = np.repeat(np.eye(len(places)), len(turn), axis=0)
    charges = np.linalg.solve(columns, held)[:: len(turn)]
    return np.asarray(math.pi * ELECTRIC_CONSTANT * permittivity * (charges + charges.T))


def _orders(centres: Centres, diameter: float, screen_diameter: float) -> int:
    """Multipoles that each wire needs, by the smallest gap."""
    # Two wires x diameters apart have images that shrink by x − √(x² − 1) from one to the next.
    x = 1 + _smallest_gap(centres, diameter, screen_diameter) / diameter
    shrink = x - math.sqrt(x * x - 1)
    return max(4, math.ceil(math.log(_NEGLECTED) / (2 * math.log(shrink))))


def _potentials(points: Centres, place: complex, radius: float, orders: int) -> Array:
    """Potential at `points` of the charges of the wire at `place` in a screen of radius 1, zero on the screen."""
    mirrored = 1 - place * points.conj()
    line = -np.log(np.abs((points - place) / mirrored))
    order = np.arange(1, orders + 1)
    poles = (radius / (points - place))[:, None] ** order
    poles -= (radius * points.conj() / mirrored)[:, None] ** order
    return np.concatenate([line[:, None], poles.real, poles.imag], axis=1)


def _check(centres: Centres, diameter: float, screen_diameter: float, permittivity: float) -> None:
    for name, value in (("diameter", diameter), ("screen_diameter", screen_diameter)):
        if not (math.isfinite(value) and value > 0):
            raise ArgumentFault(name, value, "positive metre")
    if not (math.isfinite(permittivity) and permittivity >= 1):
        raise ArgumentFault("permittivity", permittivity, "1 or more")
    gap = _smallest_gap(centres, diameter, screen_diameter)
    if not gap >= SMALLEST_GAP * diameter * (1 - 1e-9):
        wanted = f"wires {SMALLEST_GAP:g} of their diameter or more apart, and from the screen"
        raise ArgumentFault("diameter", diameter, wanted)


def _smallest_gap(centres: Centres, diameter: float, screen_diameter: float) -> float:
    apart = np.abs(centres[:, None] - centres)[~np.eye(len(centres), dtype=bool)]
    return float(np.min(np.append(apart - diameter, (screen_diameter - diameter) / 2 - np.abs(centres))))
