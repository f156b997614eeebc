"""Consequence: what a contact resistance does in the customer's circuit, and how much of it would matter."""

from __future__ import annotations

from ohmsworth.consequence.effects import effects, response
from ohmsworth.consequence.kinds import USE_KINDS, make_use, settings_of
from ohmsworth.consequence.thresholds import smallest_threshold, thresholds
from ohmsworth.consequence.use import Effect, Setting, Threshold, Use
from ohmsworth.consequence.uses.noise import dbu, noise_rise, thermal_noise, volts
from ohmsworth.consequence.uses.phantom import PHANTOM_SUPPLIES, PhantomSupply, phantom_supply, phantom_volts

__all__ = [
    "PHANTOM_SUPPLIES",
    "USE_KINDS",
    "Effect",
    "PhantomSupply",
    "Setting",
    "Threshold",
    "Use",
    "dbu",
    "effects",
    "make_use",
    "noise_rise",
    "phantom_supply",
    "phantom_volts",
    "response",
    "settings_of",
    "smallest_threshold",
    "thermal_noise",
    "thresholds",
    "volts",
]
