"""Contact metals: facts with their sources, and how hot a contact spot gets."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np
import numpy.typing as npt

from ohmsworth.errors import ArgumentFault, UnknownName

Array = npt.NDArray[np.float64]

#: Boltzmann constant (J/K) and elementary charge (C), exact in the SI. Source: "CODATA".
BOLTZMANN, ELEMENTARY_CHARGE = 1.380649e-23, 1.602176634e-19
#: Lorenz number (π²/3)(k/e)² in V²/K². Source: "CODATA".
LORENZ_NUMBER = math.pi**2 / 3 * (BOLTZMANN / ELEMENTARY_CHARGE) ** 2
#: Largest contact voltage for the voltage-temperature relation: no metal of METALS is solid above it.
HIGHEST_SPOT_VOLTAGE = 0.65
#: Ambient temperatures in kelvin for which the relation is used: −100 to 200 °C.
COLDEST_AMBIENT, HOTTEST_AMBIENT = 173.15, 473.15


@dataclass(frozen=True, slots=True)
class Metal:
    """A contact metal or plating, pure and bulk (a hard or porous plating differs).

    Parameters
    ----------
    resistivity
        Ohm metre at 20 °C. Source: "metal-handbook".
    temperature_coefficient
        1/K, referred to 20 °C. Source: "metal-handbook".
    softening_voltage, melting_voltage
        Volts across the contact at which its spots soften and melt. Source: "Holm".
    melting_point
        Kelvin. Source: "ITS-90" (nickel: "metal-handbook").
    """

    name: str
    symbol: str
    resistivity: float
    temperature_coefficient: float
    softening_voltage: float
    melting_voltage: float
    melting_point: float


_LIST = (
    Metal("gold", "Au", 2.44e-8, 0.0034, 0.08, 0.43, 1337.33),
    Metal("silver", "Ag", 1.59e-8, 0.0038, 0.09, 0.37, 1234.93),
    Metal("tin", "Sn", 10.9e-8, 0.0045, 0.07, 0.13, 505.078),
    Metal("nickel", "Ni", 6.99e-8, 0.006, 0.22, 0.65, 1728.0),
    Metal("copper", "Cu", 1.68e-8, 0.0039, 0.12, 0.43, 1357.77),
)
#: Metals by name.
METALS: Mapping[str, Metal] = MappingProxyType({metal.name: metal for metal in _LIST})
#: Names of the surfaces a contact is sold with.
PLATINGS: tuple[str, ...] = tuple(METALS)


def metal(name: str) -> Metal:
    """Look up a metal by name (any case).

    Raises
    ------
    UnknownName
        When it is not in METALS.
    """
    try:
        return METALS[name.strip().lower()]
    except KeyError:
        raise UnknownName("metal", name, PLATINGS) from None


def spot_temperature(voltage: npt.ArrayLike, ambient: float) -> Array:
    """Temperature in kelvin of the hottest place of a contact that carries `voltage`.

    Tmax = √(T0² + V²/(4L)), from V² = 4L(Tmax² − T0²).

    Parameters
    ----------
    voltage
        Volts across the contact, either sign, any shape, at most 0.65 V in size.
    ambient
        Temperature T0 of the bulk, kelvin.

    Notes
    -----
    Valid for a metallic contact without film, both members alike, that loses its heat through its leads only.
    Good within 3 % of the tabled melting voltage for silver and tin, 6 % for gold and copper; nickel departs
    further (it changes at its Curie point). Source: "Holm", Lorenz number "CODATA".
    """
    v = np.asarray(voltage, dtype=float)
    _check_ambient(ambient)
    if not np.all(np.abs(v) <= HIGHEST_SPOT_VOLTAGE):
        raise ArgumentFault("voltage", voltage, f"at most {HIGHEST_SPOT_VOLTAGE} V across a metallic contact")
    return np.asarray(np.sqrt(ambient**2 + v**2 / (4 * LORENZ_NUMBER)))


def spot_voltage(temperature: npt.ArrayLike, ambient: float) -> Array:
    """Voltage across a contact whose hottest place has `temperature`: the inverse of `spot_temperature`.

    V = √(4L(Tmax² − T0²)), Tmax from `ambient` to the temperature that 0.65 V gives, kelvin, any shape.
    """
    hottest = np.asarray(temperature, dtype=float)
    _check_ambient(ambient)
    limit = float(spot_temperature(HIGHEST_SPOT_VOLTAGE, ambient))
    if not (np.all(hottest >= ambient) and np.all(hottest <= limit)):
        raise ArgumentFault("temperature", temperature, f"{ambient:g} K (ambient) to {limit:.0f} K")
    return np.asarray(np.sqrt(4 * LORENZ_NUMBER * (hottest**2 - ambient**2)))


def _check_ambient(ambient: float) -> None:
    if not COLDEST_AMBIENT <= ambient <= HOTTEST_AMBIENT:
        raise ArgumentFault("ambient", ambient, f"{COLDEST_AMBIENT} K to {HOTTEST_AMBIENT} K")
