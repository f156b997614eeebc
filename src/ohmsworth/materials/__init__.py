"""Materials: facts about metals, platings and conductors, each with its source."""

from __future__ import annotations

from ohmsworth.materials.conductors import (
    COPPER_ALPHA20,
    COPPER_RESISTIVITY,
    REFERENCE_TEMPERATURE,
    Conductor,
    awg_diameter,
    conductor_from_text,
    conductor_of_area,
    equivalent_length,
    maximum_class5,
    resistance_per_metre,
    temperature_factor,
)
from ohmsworth.materials.metals import (
    BOLTZMANN,
    HIGHEST_SPOT_VOLTAGE,
    LORENZ_NUMBER,
    METALS,
    PLATINGS,
    Metal,
    metal,
    spot_temperature,
    spot_voltage,
)
from ohmsworth.materials.skin import resistance_ratio, screen_impedance, skin_depth, wire_impedance
from ohmsworth.materials.thermal_emf import EMF_AGAINST_COPPER, thermal_emf_allowance

__all__ = [
    "BOLTZMANN",
    "COPPER_ALPHA20",
    "COPPER_RESISTIVITY",
    "EMF_AGAINST_COPPER",
    "HIGHEST_SPOT_VOLTAGE",
    "LORENZ_NUMBER",
    "METALS",
    "PLATINGS",
    "REFERENCE_TEMPERATURE",
    "Conductor",
    "Metal",
    "awg_diameter",
    "conductor_from_text",
    "conductor_of_area",
    "equivalent_length",
    "maximum_class5",
    "metal",
    "resistance_per_metre",
    "resistance_ratio",
    "screen_impedance",
    "skin_depth",
    "spot_temperature",
    "spot_voltage",
    "temperature_factor",
    "thermal_emf_allowance",
    "wire_impedance",
]
