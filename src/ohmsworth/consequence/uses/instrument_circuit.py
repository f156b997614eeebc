"""An instrument with a passive pickup: coil, controls, contacts, cable, input, and the player who touches the strings."""

from __future__ import annotations

from ohmsworth.consequence.circuit import (
    Capacitor,
    Circuit,
    Contact,
    CurrentSource,
    Inductor,
    Line,
    Resistor,
    Transfer,
    VoltageSource,
    Volts,
    transfers,
)
from ohmsworth.consequence.circuit.elements import Array, Element
from ohmsworth.consequence.ports import Signal
from ohmsworth.consequence.rule import Position
from ohmsworth.consequence.use import Use, number
from ohmsworth.consequence.uses.cables import coaxial

HOT, RETURN = ("hot near", "hot far"), ("return near", "return far")
HOT_CONTACTS = Position("every hot contact (tip), the return ideal", HOT)
RETURN_CONTACTS = Position("every contact of the return (sleeve), hot ideal", RETURN)
BOTH = Position("every contact of hot and return", HOT + RETURN)

#: 1 V of the string, and what the input has of it.
STRING = Signal({"string": 1.0}, Volts("input"))


def instrument_circuit(use: Use) -> Circuit:
    """The circuit that the settings of `use` describe, told against the chassis of the amplifier."""
    near, far = number(use, "contacts_near"), number(use, "contacts_far")
    return Circuit(
        (
            *_pickup(use),
            *_controls(use),
            VoltageSource("mains", "mains"),
            Capacitor("mains", "return", number(use, "body_mains")),
            Capacitor("return", "0", number(use, "body_earth")),
            Contact("hot near", "wiper", "cable hot", count=near),
            Contact("return near", "return", "cable screen", count=near),
            Line(
                ("cable hot", "cable screen"),
                ("end hot", "end screen"),
                coaxial(use),
                number(use, "length"),
            ),
            Contact("hot far", "end hot", "input", count=far),
            Contact("return far", "end screen", "0", count=far),
            Resistor("input", "0", number(use, "input_resistance")),
            Capacitor("input", "0", number(use, "input_capacitance")),
            CurrentSource("back", "input"),
        )
    )


def _pickup(use: Use) -> tuple[Element, ...]:
    """The string's voltage in series with winding and inductance; capacitance and eddy currents across them."""
    return (
        VoltageSource("string", "string", "return"),
        Resistor("string", "coil", number(use, "pickup_resistance")),
        Inductor("coil", "pickup", number(use, "pickup_inductance")),
        Capacitor("pickup", "return", number(use, "pickup_capacitance")),
        Resistor("pickup", "return", number(use, "pickup_loss")),
    )


def _controls(use: Use) -> tuple[Element, ...]:
    """Volume as a divider, tone as a resistor and a capacitor across the pickup."""
    volume, track = number(use, "volume"), number(use, "volume_resistance")
    return (
        Resistor("pickup", "wiper", (1 - volume) * track),
        Resistor("wiper", "return", volume * track),
        Resistor("pickup", "tone", number(use, "tone") * number(use, "tone_resistance")),
        Capacitor("tone", "return", number(use, "tone_capacitance")),
    )


def string_transfer(circuit: Circuit, frequency: Array) -> Transfer:
    """Volts at the input for 1 V of the string."""
    return transfers(circuit, frequency, {"string": 1.0}, [Volts("input")])[0]


def mains_transfer(circuit: Circuit, frequency: Array) -> Transfer:
    """Volts at the input for 1 V of the mains, which reaches the player through the air."""
    return transfers(circuit, frequency, {"mains": 1.0}, [Volts("input")])[0]


def back_transfer(circuit: Circuit, frequency: Array) -> Transfer:
    """Volts at the input for 1 A driven into it: the impedance of all that is joined to it."""
    return transfers(circuit, frequency, {"back": 1.0}, [Volts("input")])[0]
