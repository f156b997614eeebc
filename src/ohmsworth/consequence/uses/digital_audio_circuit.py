"""The circuit of a digital audio line: source, contacts of both legs, pair, contacts, receiver."""

from __future__ import annotations

import numpy as np

from ohmsworth.consequence.circuit import (
    Circuit,
    Inductor,
    Resistor,
    Transfer,
    VoltageSource,
    Volts,
    transfers,
)
from ohmsworth.consequence.circuit.elements import Array, Complex
from ohmsworth.consequence.ports import Path, Port
from ohmsworth.consequence.rule import Curve, Position, decibels
from ohmsworth.consequence.use import Use, number, text
from ohmsworth.consequence.uses.audio_rules import once
from ohmsworth.consequence.uses.cables import pair_alone
from ohmsworth.consequence.uses.digital_audio_settings import AT_BOTH, NONE
from ohmsworth.consequence.uses.reflection import return_loss
from ohmsworth.consequence.uses.two_conductors import Run

RUN = Run("plus", "minus")
BOTH_LEGS = Position("every contact of both legs", RUN.contacts())
ONE_LEG = Position("every contact of one leg, the other leg ideal", RUN.contacts("plus"))
#: The pair with its contacts, told in 110 Ω.
DIGITAL_AUDIO_PATH = Path(Port("output", "0"), Port("input plus", "input minus"), 110.0, {"signal": 1.0})
#: Hertz between which the interface is specified, the upper end in samples of each channel.
LOWEST, HIGHEST_OVER_RATE = 0.1e6, 128

_SOURCE = {"signal": 1.0}


def digital_audio_circuit(use: Use) -> Circuit:
    """The circuit that the settings of `use` describe; what goes out in one leg comes back in the other."""
    winding, where = number(use, "transformer_inductance"), text(use, "transformer")
    return Circuit(
        (
            VoltageSource("signal", "drive"),
            Resistor("drive", "output", number(use, "source_impedance")),
            *([Inductor("output", "0", winding)] if where == AT_BOTH else []),
            *RUN.parts(use, pair_alone(use), ("output", "0", "input plus", "input minus")),
            *([Inductor("input plus", "input minus", winding)] if where != NONE else []),
            Resistor("input plus", "input minus", number(use, "load_impedance")),
        )
    )


def output_transfer(circuit: Circuit, frequency: Array) -> Transfer:
    """Volts at the terminals of the source per volt of its EMF."""
    return transfers(circuit, frequency, _SOURCE, [Volts("output")])[0]


def input_transfer(circuit: Circuit, frequency: Array) -> Transfer:
    """Volts between the legs at the receiver per volt of the source's EMF."""
    return transfers(circuit, frequency, _SOURCE, [Volts("input plus", "input minus")])[0]


def source_emf(use: Use) -> float:
    """Volts of EMF, peak to peak, that leave the stated volts in the rated impedance."""
    rated = number(use, "rated_impedance")
    return number(use, "source_volts") * (number(use, "source_impedance") + rated) / rated


def margin_curve(use: Use, circuit: Circuit) -> Curve:
    """Level at the receiver above what it needs: 20 log10(E |V|/Umin)."""
    times = source_emf(use) / number(use, "receiver_minimum")

    def show(y: Complex, _ideal: Complex) -> Array:
        return decibels(times * np.abs(y))

    return Curve(
        key="margin",
        words="level at the receiver above what it needs",
        unit="dB",
        low=LOWEST,
        high=2e7,
        position=BOTH_LEGS,
        circuit=circuit,
        solve=once(lambda frequency: input_transfer(circuit, frequency)),
        show=show,
        worse="lower",
    )


def return_loss_curve(circuit: Circuit) -> Curve:
    """What comes back into the source."""
    return Curve(
        key="return_loss",
        words="return loss at the source",
        unit="dB",
        low=LOWEST,
        high=2e7,
        position=BOTH_LEGS,
        circuit=circuit,
        solve=lambda frequency: output_transfer(circuit, frequency),
        show=lambda y, _ideal: return_loss(y),
        worse="lower",
    )
