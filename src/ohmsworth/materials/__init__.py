"""Materials: facts about metals, platings and conductors, each with its source."""

from __future__ import annotations

from ohmsworth.materials.conductor_classes import CONDUCTOR_CLASSES, maximum_resistance
from ohmsworth.materials.conductor_text import conductor_from_text
from ohmsworth.materials.conductors import (
    COPPER_ALPHA20,
    COPPER_RESISTIVITY,
    REFERENCE_TEMPERATURE,
    Conductor,
    awg_diameter,
    conductor_of_area,
    conductor_of_gauge,
    equivalent_length,
    in_parallel,
    resistance_per_metre,
    stranded,
    temperature_factor,
    twist_factor,
    with_lay,
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
from ohmsworth.materials.skin import (
    conductor_impedance,
    resistance_ratio,
    screen_impedance,
    skin_depth,
    wire_impedance,
)
from ohmsworth.materials.thermal_emf import EMF_AGAINST_COPPER, thermal_emf_allowance

__all__ = [
    "BOLTZMANN",
    "CONDUCTOR_CLASSES",
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
    "conductor_impedance",
    "conductor_of_area",
    "conductor_of_gauge",
    "equivalent_length",
    "in_parallel",
    "maximum_resistance",
    "metal",
    "resistance_per_metre",
    "resistance_ratio",
    "screen_impedance",
    "skin_depth",
    "spot_temperature",
    "spot_voltage",
    "stranded",
    "temperature_factor",
    "thermal_emf_allowance",
    "twist_factor",
    "wire_impedance",
    "with_lay",
]
