"""Circuits: parts between nodes, solved once for all the resistances that their contacts may have."""

from __future__ import annotations

from ohmsworth.consequence.circuit.bands import magnitude_bands
from ohmsworth.consequence.circuit.cable import CableConstants, cable_of, plain_resistance
from ohmsworth.consequence.circuit.chain import line_chain
from ohmsworth.consequence.circuit.draws import magnitudes, respond
from ohmsworth.consequence.circuit.elements import (
    GROUND,
    Block,
    Capacitor,
    Circuit,
    Contact,
    CurrentSource,
    Element,
    Impedance,
    Inductor,
    Line,
    Resistor,
    Transformer,
    VoltageSource,
)
from ohmsworth.consequence.circuit.forms import (
    Forms,
    Polynomials,
    along,
    forms_of,
    value_along,
    value_with,
    weights_of,
)
from ohmsworth.consequence.circuit.mode import wave_constants, wave_delay
from ohmsworth.consequence.circuit.opened import opened
from ohmsworth.consequence.circuit.pulse import Harmonics, PulseTrain, harmonics, waveform, worst_level
from ohmsworth.consequence.circuit.series import polynomials_of
from ohmsworth.consequence.circuit.solve import Amperes, Transfer, Volts, transfers

__all__ = [
    "GROUND",
    "Amperes",
    "Block",
    "CableConstants",
    "Capacitor",
    "Circuit",
    "Contact",
    "CurrentSource",
    "Element",
    "Forms",
    "Harmonics",
    "Impedance",
    "Inductor",
    "Line",
    "Polynomials",
    "PulseTrain",
    "Resistor",
    "Transfer",
    "Transformer",
    "VoltageSource",
    "Volts",
    "along",
    "cable_of",
    "forms_of",
    "harmonics",
    "line_chain",
    "magnitude_bands",
    "magnitudes",
    "opened",
    "plain_resistance",
    "polynomials_of",
    "respond",
    "transfers",
    "value_along",
    "value_with",
    "wave_constants",
    "wave_delay",
    "waveform",
    "weights_of",
    "worst_level",
]
