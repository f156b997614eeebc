"""A balanced circuit: source, contacts, screened pair, contacts, input."""

from __future__ import annotations

from ohmsworth.consequence.circuit import (
    Circuit,
    Contact,
    CurrentSource,
    Line,
    Resistor,
    Transfer,
    VoltageSource,
    Volts,
    transfers,
)
from ohmsworth.consequence.circuit.elements import Array, Element
from ohmsworth.consequence.ports import Path, Port
from ohmsworth.consequence.rule import Position
from ohmsworth.consequence.use import Use, number
from ohmsworth.consequence.uses.cables import screened_pair

PLUS, MINUS, SCREEN = ("plus near", "plus far"), ("minus near", "minus far"), ("screen near", "screen far")
BOTH_LEGS = Position("every contact of both legs", PLUS + MINUS)
ONE_LEG = Position("every contact of one leg, the other leg ideal", PLUS)
ONLY_SCREEN = Position("every contact of the screen", SCREEN)
LEGS_AND_SCREEN = Position("every contact of both legs and of the screen", PLUS + MINUS + SCREEN)

#: The signal between the legs, 1 V in all; and 1 V of hum on both.
SIGNAL, HUM = {"plus": 0.5, "minus": -0.5}, {"hum": 1.0}
_INPUT = Volts("input plus", "input minus")
#: The cable with its contacts, told in 100 Ω as balanced cables usually are.
BALANCED_PATH = Path(
    Port("output plus", "output minus", "0"),
    Port("input plus", "input minus", "input screen"),
    100.0,
    SIGNAL,
)


def balanced_circuit(use: Use) -> Circuit:
    """The circuit that the settings of `use` describe.

    Hum stands between the screen at the source and the middle of the source; voltages at the input are told against the
    screen there.
    """
    inner, near, far = (
        number(use, "source_impedance") / 2,
        number(use, "contacts_near"),
        number(use, "contacts_far"),
    )
    return Circuit(
        (
            VoltageSource("hum", "hum"),
            Resistor("hum", "middle", number(use, "source_common")),
            VoltageSource("plus", "drive plus", "middle"),
            VoltageSource("minus", "drive minus", "middle"),
            Resistor("drive plus", "output plus", inner),
            Resistor("drive minus", "output minus", inner),
            Contact("plus near", "output plus", "cable plus", count=near),
            Contact("minus near", "output minus", "cable minus", count=near),
            Contact("screen near", "0", "cable screen", count=near),
            Line(
                ("cable plus", "cable minus", "cable screen"),
                ("end plus", "end minus", "end screen"),
                screened_pair(use),
                number(use, "length"),
            ),
            Contact("plus far", "end plus", "input plus", count=far),
            Contact("minus far", "end minus", "input minus", count=far),
            Contact("screen far", "end screen", "input screen", count=far),
            *_load(number(use, "load_impedance"), number(use, "load_common")),
            CurrentSource("back", "input plus", "input minus"),
        )
    )


def _load(between: float, common: float) -> list[Element]:
    """An input of `between` ohm from leg to leg, all counted, of which `common` from each leg to the screen is a part."""
    parts: list[Element] = [
        Resistor("input plus", "input screen", common),
        Resistor("input minus", "input screen", common),
    ]
    bridge = 1 / between - 1 / (2 * common)
    if bridge > 0:
        parts.append(Resistor("input plus", "input minus", 1 / bridge))
    return parts


def signal_transfer(circuit: Circuit, frequency: Array) -> Transfer:
    """Volts between the legs at the input for 1 V of signal between them at the source."""
    return transfers(circuit, frequency, SIGNAL, [_INPUT])[0]


def hum_transfer(circuit: Circuit, frequency: Array) -> Transfer:
    """Volts between the legs at the input for 1 V of hum on both at the source."""
    return transfers(circuit, frequency, HUM, [_INPUT])[0]


def back_transfer(circuit: Circuit, frequency: Array) -> Transfer:
    """Ohm between the legs as the input sees all of the circuit, itself included: volts for 1 A driven back."""
    return transfers(circuit, frequency, {"back": 1.0}, [_INPUT])[0]
