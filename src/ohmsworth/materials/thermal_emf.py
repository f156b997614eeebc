"""Thermal EMF of a junction against copper: an allowance where a reading cannot cancel it."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from ohmsworth.errors import ArgumentFault, UnknownName

#: Size of the EMF against copper in volt per kelvin. Source: "low-level".
#: The handbooks give sizes, not signs, and clean copper only as "less than": the upper end stands here.
EMF_AGAINST_COPPER: Mapping[str, float] = MappingProxyType(
    {
        "copper": 0.3e-6,
        "silver": 0.5e-6,
        "gold": 0.5e-6,
        "brass": 3e-6,
        "tin-lead solder": 5e-6,
        "iron-nickel-cobalt alloy": 40e-6,
        "copper oxide": 1000e-6,
    }
)
#: Temperature differences believed on a bench, in kelvin.
LARGEST_DIFFERENCE = 100.0


def thermal_emf_allowance(material: str, temperature_difference: float) -> float:
    """Largest EMF in volt of a copper-`material` loop whose junctions differ by `temperature_difference`.

    a = S ΔT, the half-width of an interval around zero: the sign is not known.

    Parameters
    ----------
    material
        A key of EMF_AGAINST_COPPER.
    temperature_difference
        Kelvin between the two junctions, either sign, at most 100 K in size.

    Notes
    -----
    Source: "low-level".
    """
    size = abs(temperature_difference)
    if not size <= LARGEST_DIFFERENCE:
        wanted = f"at most {LARGEST_DIFFERENCE:g} K"
        raise ArgumentFault("temperature_difference", temperature_difference, wanted)
    try:
        slope = EMF_AGAINST_COPPER[material.strip().lower()]
    except KeyError:
        raise UnknownName("material", material, tuple(EMF_AGAINST_COPPER)) from None
    return slope * size
