"""Materials: facts about metals, platings, films and conductors, each with its source."""

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
from ohmsworth.materials.constriction import (
    clean_resistance,
    cluster_resistance,
    film_resistance,
    spot_radius,
    spot_resistance,
)
from ohmsworth.materials.facts import PlatingFacts, Statement
from ohmsworth.materials.film_breakdown import (
    DRY_VOLTAGE,
    FRITTING_FACTS,
    FRITTING_FIELD,
    Fritting,
    fritting,
    voltage_after_fritting,
)
from ohmsworth.materials.film_harmonics import FILM_VOLTAGE, Distortion, film_distortion, third_harmonic
from ohmsworth.materials.galvanic import ANODIC_INDEX, SAFE_DIFFERENCE, Pairing, pairing
from ohmsworth.materials.hardness import HARDNESS, Hardness, hardness_of
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
from ohmsworth.materials.platings import PLATING_FACTS, plating_facts
from ohmsworth.materials.skin import resistance_ratio, screen_impedance, skin_depth, wire_impedance
from ohmsworth.materials.span import Span
from ohmsworth.materials.spot_heat import SpotState, melting_span, spot_state, spot_state_of_current
from ohmsworth.materials.tarnish_facts import OBSERVATIONS, TARNISH_FACTS, Observation
from ohmsworth.materials.tarnish_film import (
    ENVIRONMENTS,
    WIPED_OVER_CLEAN,
    Environment,
    Tarnish,
    film_growth,
    tarnish,
    unwiped_resistance,
    wiped_resistance,
)
from ohmsworth.materials.thermal_emf import EMF_AGAINST_COPPER, thermal_emf_allowance
from ohmsworth.materials.wear import SLIDING, WEAR_FACTS, Sliding, WearLife, wear_life, worn_volume

__all__ = [
    "ANODIC_INDEX",
    "BOLTZMANN",
    "COPPER_ALPHA20",
    "COPPER_RESISTIVITY",
    "DRY_VOLTAGE",
    "EMF_AGAINST_COPPER",
    "ENVIRONMENTS",
    "FILM_VOLTAGE",
    "FRITTING_FACTS",
    "FRITTING_FIELD",
    "HARDNESS",
    "HIGHEST_SPOT_VOLTAGE",
    "LORENZ_NUMBER",
    "METALS",
    "OBSERVATIONS",
    "PLATINGS",
    "PLATING_FACTS",
    "REFERENCE_TEMPERATURE",
    "SAFE_DIFFERENCE",
    "SLIDING",
    "TARNISH_FACTS",
    "WEAR_FACTS",
    "WIPED_OVER_CLEAN",
    "Conductor",
    "Distortion",
    "Environment",
    "Fritting",
    "Hardness",
    "Metal",
    "Observation",
    "Pairing",
    "PlatingFacts",
    "Sliding",
    "Span",
    "SpotState",
    "Statement",
    "Tarnish",
    "WearLife",
    "awg_diameter",
    "clean_resistance",
    "cluster_resistance",
    "conductor_from_text",
    "conductor_of_area",
    "equivalent_length",
    "film_distortion",
    "film_growth",
    "film_resistance",
    "fritting",
    "hardness_of",
    "maximum_class5",
    "melting_span",
    "metal",
    "pairing",
    "plating_facts",
    "resistance_per_metre",
    "resistance_ratio",
    "screen_impedance",
    "skin_depth",
    "spot_radius",
    "spot_resistance",
    "spot_state",
    "spot_state_of_current",
    "spot_temperature",
    "spot_voltage",
    "tarnish",
    "temperature_factor",
    "thermal_emf_allowance",
    "third_harmonic",
    "unwiped_resistance",
    "voltage_after_fritting",
    "wear_life",
    "wiped_resistance",
    "wire_impedance",
    "worn_volume",
]
