"""A loudspeaker on its amplifier: output, contacts, two cores, contacts, impedance."""

from __future__ import annotations

import numpy as np

from ohmsworth.consequence.circuit import (
    Circuit,
    CurrentSource,
    Resistor,
    Transfer,
    VoltageSource,
    Volts,
    transfers,
)
from ohmsworth.consequence.circuit.elements import Array, Element
from ohmsworth.consequence.ports import Signal
from ohmsworth.consequence.use import Use, number, text
from ohmsworth.consequence.uses.cables import two_core
from ohmsworth.consequence.uses.loudspeaker_settings import DAMPING_FACTOR, LOUDSPEAKER_LOAD
from ohmsworth.consequence.uses.moving_coil import moving_coil
from ohmsworth.consequence.uses.two_conductors import Run

RUN = Run("plus", "minus")
#: What is across the loudspeaker.
_LOAD = ("load plus", "load minus")
#: 1 V of the amplifier without load, and what the load has of it.
AMPLIFIER = Signal({"amplifier": 1.0}, Volts(*_LOAD))


def output_impedance(use: Use) -> float:
    """Ohm of the amplifier: as given, or what its damping factor says."""
    if text(use, "amplifier") == DAMPING_FACTOR:
        return number(use, "damping_impedance") / number(use, "damping_factor")
    return number(use, "output_impedance")


def output_voltage(use: Use) -> float:
    """Volts of the amplifier without load, with which its power goes into the nominal impedance: √(P Zn) (1 + Zo/Zn)."""
    nominal = number(use, "nominal_impedance")
    return float(np.sqrt(number(use, "power") * nominal) * (1 + output_impedance(use) / nominal))


def nominal_circuit(use: Use) -> Circuit:
    """The circuit with the nominal impedance as load."""
    return _circuit(use, (Resistor(*_LOAD, number(use, "nominal_impedance")),))


def loudspeaker_circuit(use: Use) -> Circuit:
    """The circuit with the load that the settings describe."""
    if text(use, "load") != LOUDSPEAKER_LOAD:
        return nominal_circuit(use)
    coil = number(use, "coil_resistance"), number(use, "coil_inductance")
    return _circuit(use, moving_coil(use, *_LOAD, *coil))


def seen_circuit(use: Use) -> Circuit:
    """The circuit as the loudspeaker sees it: 1 A driven back into it."""
    return _circuit(use, (CurrentSource("cone", *_LOAD),))


def _circuit(use: Use, load: tuple[Element, ...]) -> Circuit:
    return Circuit(
        (
            VoltageSource("amplifier", "drive"),
            Resistor("drive", "output", output_impedance(use)),
            *RUN.parts(use, two_core(use), ("output", "0", *_LOAD)),
            *load,
        )
    )


def load_transfer(circuit: Circuit, frequency: Array) -> Transfer:
    """Volts across the load for 1 V of the amplifier without load."""
    return transfers(circuit, frequency, {"amplifier": 1.0}, [Volts(*_LOAD)])[0]


def seen_transfer(circuit: Circuit, frequency: Array) -> Transfer:
    """Volts across the loudspeaker for 1 A that it drives back: the impedance that it sees."""
    return transfers(circuit, frequency, {"cone": 1.0}, [Volts(*_LOAD)])[0]
