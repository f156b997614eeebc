"""Skin effect in round wires and thin screens: their internal impedance over frequency."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt
from numpy.polynomial.polynomial import polyval

from ohmsworth.errors import ArgumentFault
from ohmsworth.materials.conductors import COPPER_RESISTIVITY, Conductor, temperature_factor

#: Magnetic constant in henry per metre (CODATA 2018 value to its sixth digit, 4π × 1e-7).
MAGNETIC_CONSTANT = 4e-7 * math.pi

#: Largest radius over skin depth that is computed.
LARGEST_RATIO = 1000.0
# The ratio from which on a wire counts as thick, and the terms that leave nothing out there.
_THICK, _THICK_TERMS = 20.0, 16

Array = npt.NDArray[np.float64]
Complex = npt.NDArray[np.complex128]


def skin_depth(frequency: npt.ArrayLike, resistivity: float = COPPER_RESISTIVITY) -> Array:
    """Depth in metre at which the current density has fallen to 1/e.

    δ = √(ρ/(π f µ0)), f in hertz > 0, ρ in ohm metre > 0; a good non-magnetic conductor (not nickel).
    Source: "skin-effect".
    """
    f = np.asarray(frequency, dtype=float)
    if not (np.all(np.isfinite(f)) and np.all(f > 0)):
        raise ArgumentFault("frequency", frequency, "positive hertz")
    _check_positive("resistivity", resistivity, "ohm metre")
    return np.asarray(np.sqrt(resistivity / (math.pi * f * MAGNETIC_CONSTANT)))


def resistance_ratio(radius_over_depth: npt.ArrayLike) -> Array:
    """Resistance of a round wire at frequency f over that at zero frequency.

    R/R0 = Re[(ka/2) J0(ka)/J1(ka)], ka = (1 − j) a/δ.

    Parameters
    ----------
    radius_over_depth
        a/δ, 0 to 1000, any shape. The wire is solid, round, non-magnetic and alone (no proximity effect).

    Notes
    -----
    Source: "skin-effect".
    """
    x = np.asarray(radius_over_depth, dtype=float)
    if not (np.all(x >= 0) and np.all(x <= LARGEST_RATIO)):
        raise ArgumentFault("radius_over_depth", radius_over_depth, f"0 to {LARGEST_RATIO:g}")
    return np.asarray(_wire_ratio(x).real)


def wire_impedance(resistance_per_metre: float, frequency: npt.ArrayLike) -> Complex:
    """Internal impedance z = R + jωLi of a round wire in ohm per metre, of the shape of `frequency`.

    z = (kρ/2πa) J0(ka)/J1(ka), k = (1 − j)/δ. The wire's resistance R0 = ρ/(πa²) at its temperature is all that
    it depends on: z = R0 (ka/2) J0(ka)/J1(ka) with a/δ = √(µ0 f/R0). At low frequency R0 + jωµ0/8π, at high
    frequency (1 + j)ρ/(2πaδ).

    Parameters
    ----------
    resistance_per_metre
        Ohm per metre, direct current, at the wire's temperature, more than zero.
    frequency
        Hertz, zero or more, any shape, so far as a/δ ≤ 1000.

    Notes
    -----
    Solid (or strands that touch), round, non-magnetic, alone (no proximity effect). The inductance of the space
    around the wire comes on top: see `ohmsworth.materials.geometry`. Source: "skin-effect".
    """
    _check_positive("resistance_per_metre", resistance_per_metre, "ohm per metre")
    f = _not_negative(frequency)
    x = np.sqrt(MAGNETIC_CONSTANT * f / resistance_per_metre)
    if not np.all(x <= LARGEST_RATIO):
        highest = LARGEST_RATIO**2 * resistance_per_metre / MAGNETIC_CONSTANT
        raise ArgumentFault("frequency", frequency, f"at most {highest:.3g} Hz for this wire")
    return np.asarray(resistance_per_metre * _wire_ratio(x))


def conductor_impedance(conductor: Conductor, temperature: float, frequency: npt.ArrayLike) -> Complex:
    """Internal impedance of `conductor` in ohm per metre of cable, of the shape of `frequency`.

    z = ((1 + lay)/n) × `wire_impedance` of one of its n wires at `temperature` (kelvin, −50 to 150 °C). A bundle
    of strands is taken as one round wire: the strands touch.
    """
    longer = 1 + conductor.lay
    cold = conductor.resistance_per_metre * conductor.wires / longer
    wire = cold * temperature_factor(temperature)
    return np.asarray(wire_impedance(wire, frequency) * longer / conductor.wires)


def screen_impedance(
    resistance_per_metre: float,
    radius: float,
    frequency: npt.ArrayLike,
    resistivity: float = COPPER_RESISTIVITY,
) -> Complex:
    """Internal impedance of a thin tubular screen in ohm per metre, of the shape of `frequency`.

    z = (ρm/2πb) coth(mt) = R0 mt coth(mt), m = (1 + j)/δ, with the thickness t = ρ/(2πbR0) that gives the screen
    its direct-current resistance R0. At low frequency R0 + jωµ0t/(6πb), at high frequency (1 + j)ρ/(2πbδ).

    Parameters
    ----------
    resistance_per_metre
        R0 in ohm per metre at the screen's temperature, more than zero.
    radius
        b in metre, of the inner face, along which the current returns.
    frequency
        Hertz, zero or more, any shape.
    resistivity
        ρ in ohm metre at the same temperature.

    Notes
    -----
    Valid for t well below b, and for the current of the conductors inside. A braid is more resistive at high
    frequency than the tube that has the same direct-current resistance, for its strands cross over. Source:
    "skin-effect".
    """
    _check_positive("resistance_per_metre", resistance_per_metre, "ohm per metre")
    _check_positive("radius", radius, "metre")
    _check_positive("resistivity", resistivity, "ohm metre")
    f = _not_negative(frequency)
    thickness = resistivity / (2 * math.pi * radius * resistance_per_metre)
    mt = (1 + 1j) * thickness * np.sqrt(math.pi * MAGNETIC_CONSTANT * f / resistivity)
    return np.asarray(resistance_per_metre * _sheet_ratio(mt))


def _wire_ratio(x: Array) -> Complex:
    """z/R0 = (ka/2) J0(ka)/J1(ka) of a round wire for x = a/δ from 0 to 1000, to 1e-15."""
    # Three times quicker than the Bessel functions one by one, and there is no thick wire for which they overflow.
    return np.piecewise(np.asarray(x, dtype=np.complex128), [x > _THICK], [_thick_ratio, _thin_ratio])


def _thin_ratio(x: Complex) -> Complex:
    """By the continued fraction 1 − q/(2 − q/(3 − …)), q = (ka/2)² = −jx²/2."""
    q = -0.5j * x * x
    # So many terms leave nothing out.
    terms = 12 + int(1.6 * x.real.max(initial=0.0))
    ratio = np.full_like(q, terms)
    for k in range(terms - 1, 0, -1):
        ratio = k - q / ratio
    return ratio


def _thick_ratio(x: Complex) -> Complex:
    """By Hankel's expansions J0/J1 = j Σ a_k(0)(j/ka)^k/Σ a_k(1)(j/ka)^k: the field at one side knows nothing of the other's."""
    ka = (1 - 1j) * x
    return np.asarray(0.5j * ka * polyval(1j / ka, _hankel(0)) / polyval(1j / ka, _hankel(1)))


def _hankel(order: int) -> Array:
    """a_k = Π (4 order² − (2i − 1)²)/8i over i from 1 to k."""
    i = np.arange(1, _THICK_TERMS)
    return np.asarray(np.cumprod(np.append(1.0, (4 * order**2 - (2 * i - 1) ** 2) / (8 * i))), dtype=float)


def _sheet_ratio(mt: Complex) -> Complex:
    """Return x coth x for x = `mt`: 1 + x²/3 near zero, x far away."""
    small = np.abs(mt) < 1e-3
    x = np.where(small, 1.0, mt)
    minus = np.expm1(-2 * x)
    return np.asarray(np.where(small, 1 + mt**2 / 3 - mt**4 / 45, -x * (2 + minus) / minus))


def _check_positive(name: str, value: float, unit: str) -> None:
    if not (math.isfinite(value) and value > 0):
        raise ArgumentFault(name, value, f"positive {unit}")


def _not_negative(frequency: npt.ArrayLike) -> Array:
    f = np.asarray(frequency, dtype=float)
    if not (np.all(np.isfinite(f)) and np.all(f >= 0)):
        raise ArgumentFault("frequency", frequency, "zero or more hertz")
    return f
