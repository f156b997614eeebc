"""What a metre of cable has, from its measures: external inductance and capacitance.

All conductors are taken as round and the space between them as one dielectric; between insulated cores with air in
the gaps that is an effective permittivity, between 1 and the plastic's own. The inductance holds at frequencies
where the current has left the inside of the conductors and the screen keeps the field in; below some tens of
kilohertz a thin screen lets it through, and a pair has the inductance of `two_wires`.
"""

from __future__ import annotations

import cmath
import math
from dataclasses import fields, replace
from typing import TypeVar

import numpy as np
import numpy.typing as npt

from ohmsworth.errors import ArgumentFault
from ohmsworth.materials.line_constants import LineConstants, PairConstants
from ohmsworth.materials.multiwire import ELECTRIC_CONSTANT, capacitance_matrix
from ohmsworth.materials.skin import MAGNETIC_CONSTANT
from ohmsworth.units import show_stated

#: A screen so many times wider than a quad is as good as none.
_FAR = 1000.0
#: Cores of a cable that are computed one by one.
MOST_CORES = 61

Array = npt.NDArray[np.float64]
Constants = TypeVar("Constants", LineConstants, PairConstants)


def coax(diameter: float, screen_diameter: float, permittivity: float) -> LineConstants:
    """Coaxial cable: L = (µ0/2π) ln(D/d), C = 2πε/ln(D/d).

    Parameters
    ----------
    diameter
        d, over the inner conductor, metre.
    screen_diameter
        D, inside the screen, metre.
    permittivity
        Relative, 1 or more.

    Notes
    -----
    Source: "line-geometry".
    """
    _check_lengths(diameter=diameter, screen_diameter=screen_diameter)
    if screen_diameter <= diameter:
        raise ArgumentFault(
            "screen_diameter", screen_diameter, f"more than the inner conductor, {show_stated(diameter, 'm')}"
        )
    return _line(math.log(screen_diameter / diameter), permittivity)


def two_wires(diameter: float, spacing: float, permittivity: float) -> LineConstants:
    """Two parallel or twisted wires without a screen: L = (µ0/π) arcosh(s/d), C = πε/arcosh(s/d).

    Parameters
    ----------
    diameter
        d, over the bare copper, metre.
    spacing
        s, between the centres, metre: for cores that touch the diameter over the insulation.
    permittivity
        Relative, 1 or more.

    Notes
    -----
    Exact for round wires. Source: "line-geometry".
    """
    _check_lengths(diameter=diameter, spacing=spacing)
    if spacing <= diameter:
        raise ArgumentFault(
            "spacing", spacing, f"more than the diameter of the wires, {show_stated(diameter, 'm')}"
        )
    return _line(2 * math.acosh(spacing / diameter), permittivity)


def wire_over_plane(diameter: float, height: float, permittivity: float) -> LineConstants:
    """A wire over a flat screen: L = (µ0/2π) arcosh(2h/d), C = 2πε/arcosh(2h/d).

    `height` is from the plane to the wire's centre, metre. Exact. Source: "line-geometry".
    """
    _check_lengths(diameter=diameter, height=height)
    if 2 * height <= diameter:
        raise ArgumentFault(
            "height", height, f"more than the radius of the wire, {show_stated(diameter / 2, 'm')}"
        )
    return _line(math.acosh(2 * height / diameter), permittivity)


def pair_in_screen(
    diameter: float, spacing: float, screen_diameter: float, permittivity: float
) -> PairConstants:
    """Two like cores side by side in the middle of a round screen.

    Cc and Cs from the capacitance matrix of the two wires; L = µ0 ε/(Cc + Cs/2), for in one dielectric both
    fields are alike. Thin wires give L = (µ0/π) ln[(2s/d)(D² − s²)/(D² + s²)].

    Parameters
    ----------
    diameter, spacing, screen_diameter
        d over the bare copper, s between the centres, D inside the screen, metre.
    permittivity
        Relative, 1 or more.

    Notes
    -----
    Exact for round conductors with gaps of a tenth of the wire or more. Source: "chain-matrix".
    """
    _check_lengths(spacing=spacing)
    centres = np.array([-0.5, 0.5]) * spacing
    return _legs(capacitance_matrix(centres, diameter, screen_diameter, permittivity), permittivity)


def quad_in_screen(
    diameter: float, spacing: float, screen_diameter: float, permittivity: float
) -> PairConstants:
    """Star quad in a screen: four cores in a square, each leg of the pair two opposite ones joined.

    As `pair_in_screen`; `spacing` is between the centres of neighbouring cores. Thin wires far from the screen
    give L = (µ0/2π) ln(√2 s/d).
    """
    _check_lengths(spacing=spacing)
    centres = spacing / math.sqrt(2) * 1j ** np.arange(4)
    cores = capacitance_matrix(centres, diameter, screen_diameter, permittivity)
    joined = np.array([[1.0, 0.0, 1.0, 0.0], [0.0, 1.0, 0.0, 1.0]])
    return _legs(joined @ cores @ joined.T, permittivity)


def open_quad(diameter: float, spacing: float, permittivity: float) -> LineConstants:
    """Star quad without a screen, opposite cores joined, as loudspeaker cable of four cores is wired."""
    _check_lengths(spacing=spacing)
    pair = quad_in_screen(diameter, spacing, _FAR * spacing, permittivity)
    return LineConstants(pair.inductance, pair.core_core + pair.core_screen / 2)


def core_to_others(
    count: int, diameter: float, spacing: float, screen_diameter: float, permittivity: float
) -> Array:
    """Capacitance from each core of a multicore cable to all others and the screen, farad per metre, shape (n,).

    Up to five cores lie in a ring; more lie in a triangular lattice about the middle (7, 19, 37: whole layers).
    An estimate, for real cores do not lie so evenly. Valid for 1 to 61 cores with gaps of a tenth of the wire or
    more.
    """
    _check_lengths(spacing=spacing)
    if not 1 <= count <= MOST_CORES:
        raise ArgumentFault("count", count, f"1 to {MOST_CORES} cores")
    places = _core_places(count, spacing)
    return np.diag(capacitance_matrix(places, diameter, screen_diameter, permittivity)).copy()


def lengthened(constants: Constants, factor: float) -> Constants:
    """`constants` of a metre of cable whose wires are `factor` metres long (see `twist_factor`)."""
    if not (math.isfinite(factor) and factor >= 1):
        raise ArgumentFault("factor", factor, "1 or more")
    longer = {field.name: factor * getattr(constants, field.name) for field in fields(constants)}
    return replace(constants, **longer)


def _core_places(count: int, spacing: float) -> npt.NDArray[np.complex128]:
    """Centres of cores with `spacing` between neighbours, the innermost first."""
    if count == 1:
        return np.zeros(1, dtype=complex)
    if count <= 5:
        ring = np.exp(2j * math.pi * np.arange(count) / count)
        return np.asarray(ring * spacing / (2 * math.sin(math.pi / count)))
    steps = np.arange(-5, 6)
    lattice = (steps[:, None] + steps * cmath.exp(1j * math.pi / 3)).ravel()
    # Rounded, so that the order within a layer goes by the angle and not by the last digit of a float.
    order = np.lexsort((np.round(np.angle(lattice), 9), np.round(np.abs(lattice), 9)))
    return np.asarray(spacing * lattice[order[:count]])


def _legs(matrix: Array, permittivity: float) -> PairConstants:
    """Constants of a pair from the capacitance matrix of its two like legs."""
    core_core = -float(matrix[0, 1])
    core_screen = float(matrix[0, 0] + matrix[0, 1])
    filled = MAGNETIC_CONSTANT * ELECTRIC_CONSTANT * permittivity
    return PairConstants(filled / (core_core + core_screen / 2), core_core, core_screen)


def _line(shape: float, permittivity: float) -> LineConstants:
    """L = (µ0/2π) × `shape` and C = 2πε/`shape`."""
    if not (math.isfinite(permittivity) and permittivity >= 1):
        raise ArgumentFault("permittivity", permittivity, "1 or more")
    full = 2 * math.pi * ELECTRIC_CONSTANT * permittivity
    return LineConstants(MAGNETIC_CONSTANT / (2 * math.pi) * shape, full / shape)


def _check_lengths(**lengths: float) -> None:
    for name, value in lengths.items():
        if not (math.isfinite(value) and value > 0):
            raise ArgumentFault(name, value, "positive metre")
