"""The circuit of a video line: source, contacts of centre and screen, coaxial cable, contacts, input."""

from __future__ import annotations

import numpy as np

from ohmsworth.consequence.circuit import (
    Circuit,
    Resistor,
    Transfer,
    VoltageSource,
    Volts,
    transfers,
)
from ohmsworth.consequence.circuit.elements import Array, Complex
from ohmsworth.consequence.ports import Path, Port
from ohmsworth.consequence.rule import Curve, Position, decibels, level_change
from ohmsworth.consequence.use import Use, number
from ohmsworth.consequence.uses.audio_rules import once
from ohmsworth.consequence.uses.cables import coaxial
from ohmsworth.consequence.uses.reflection import return_loss
from ohmsworth.consequence.uses.two_conductors import Run

RUN = Run("centre", "screen")
BOTH = Position("every contact of centre and screen", RUN.contacts())
ONLY_CENTRE = Position("every contact of the centre, the screen ideal", RUN.contacts("centre"))
ONLY_SCREEN = Position("every contact of the screen, the centre ideal", RUN.contacts("screen"))
#: The cable with its contacts, told in 75 Ω.
VIDEO_PATH = Path(Port("output", "0"), Port("input centre", "input screen"), 75.0, {"signal": 1.0})

_SOURCE = {"signal": 1.0}
_OUTPUT, _INPUT = Volts("output"), Volts("input centre", "input screen")


def video_circuit(use: Use) -> Circuit:
    """The circuit that the settings of `use` describe; all current that the centre brings comes back in the screen."""
    return Circuit(
        (
            VoltageSource("signal", "drive"),
            Resistor("drive", "output", number(use, "source_impedance")),
            *RUN.parts(use, coaxial(use), ("output", "0", "input centre", "input screen")),
            Resistor("input centre", "input screen", number(use, "load_impedance")),
        )
    )


def output_transfer(circuit: Circuit, frequency: Array) -> Transfer:
    """Volts at the terminals of the source per volt of its EMF."""
    return transfers(circuit, frequency, _SOURCE, [_OUTPUT])[0]


def input_transfer(circuit: Circuit, frequency: Array) -> Transfer:
    """Volts at the input per volt of the source's EMF."""
    return transfers(circuit, frequency, _SOURCE, [_INPUT])[0]


def return_loss_curve(circuit: Circuit) -> Curve:
    """What comes back into the source."""
    return Curve(
        key="return_loss",
        words="return loss at the source",
        unit="dB",
        low=1e6,
        high=3e9,
        position=BOTH,
        circuit=circuit,
        solve=lambda frequency: output_transfer(circuit, frequency),
        show=lambda y, _ideal: return_loss(y),
        worse="lower",
    )


def insertion_loss_curve(use: Use, circuit: Circuit) -> Curve:
    """Loss of cable and contacts together: 20 log10 |Zl/((Zs + Zl) V)| for V at the input per volt of EMF."""
    source, load = number(use, "source_impedance"), number(use, "load_impedance")
    direct = load / (source + load)

    def show(y: Complex, _ideal: Complex) -> Array:
        return -decibels(np.abs(y) / direct)

    return Curve(
        key="insertion_loss",
        words="insertion loss of cable and contacts",
        unit="dB",
        low=1e6,
        high=3e9,
        position=BOTH,
        circuit=circuit,
        solve=once(lambda frequency: input_transfer(circuit, frequency)),
        show=show,
        worse="higher",
    )


def added_loss_curve(circuit: Circuit) -> Curve:
    """Loss that the contacts add: 20 log10 |V(ideal)/V|."""
    return Curve(
        key="added_loss",
        words="loss added by the contacts",
        unit="dB",
        low=1e6,
        high=3e9,
        position=BOTH,
        circuit=circuit,
        solve=once(lambda frequency: input_transfer(circuit, frequency)),
        show=lambda y, ideal: -level_change(y, ideal),
        worse="higher",
    )
