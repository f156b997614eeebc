"""Consequence: what a contact resistance does in the customer's circuit, and how much of it would matter."""

from __future__ import annotations

from ohmsworth.consequence.effects import (
    effects,
    response,
)
from ohmsworth.consequence.kinds import (
    USE_KINDS,
    make_use,
    settings_of,
)
from ohmsworth.consequence.losses import (
    insertion_loss,
    largest_gain,
    passive,
    reciprocal,
    return_loss,
)
from ohmsworth.consequence.scattering import (
    at_frequency,
    chain_from_scattering,
    impedance_of,
    scattering_from_chain,
)
from ohmsworth.consequence.thresholds import (
    smallest_threshold,
    thresholds,
)
from ohmsworth.consequence.twoport import (
    OnePort,
    TwoPort,
    cascade,
    chain_from_admittance,
    chain_from_impedance,
    series,
    shunt,
)
from ohmsworth.consequence.use import (
    Effect,
    Setting,
    Threshold,
    Use,
)
from ohmsworth.consequence.uses.noise import (
    dbu,
    noise_rise,
    thermal_noise,
    volts,
)
from ohmsworth.consequence.uses.phantom import (
    PHANTOM_SUPPLIES,
    PhantomSupply,
    phantom_supply,
    phantom_volts,
)

__all__ = [
    "PHANTOM_SUPPLIES",
    "USE_KINDS",
    "Effect",
    "OnePort",
    "PhantomSupply",
    "Setting",
    "Threshold",
    "TwoPort",
    "Use",
    "at_frequency",
    "cascade",
    "chain_from_admittance",
    "chain_from_impedance",
    "chain_from_scattering",
    "dbu",
    "effects",
    "impedance_of",
    "insertion_loss",
    "largest_gain",
    "make_use",
    "noise_rise",
    "passive",
    "phantom_supply",
    "phantom_volts",
    "reciprocal",
    "response",
    "return_loss",
    "scattering_from_chain",
    "series",
    "settings_of",
    "shunt",
    "smallest_threshold",
    "thermal_noise",
    "thresholds",
    "volts",
]
