"""A headphone on its amplifier: two channels, contacts of left, right and common return, leads, ears."""

from __future__ import annotations

from ohmsworth.consequence.circuit import (
    Circuit,
    Contact,
    Line,
    Resistor,
    Transfer,
    VoltageSource,
    Volts,
    transfers,
)
from ohmsworth.consequence.circuit.elements import Array, Element
from ohmsworth.consequence.circuit.ratio import ratio_of
from ohmsworth.consequence.ports import Signal
from ohmsworth.consequence.rule import Position
from ohmsworth.consequence.use import Use, number
from ohmsworth.consequence.uses.cables import three_core, two_core
from ohmsworth.consequence.uses.moving_coil import moving_coil

_CONDUCTORS = ("left", "right", "return")
LEFT, RIGHT, RETURN = ((f"{name} near", f"{name} far") for name in _CONDUCTORS)
ONE_CHANNEL = Position("every contact of one channel, the others ideal", LEFT)
CHANNELS = Position("every contact of both channels, the common return ideal", LEFT + RIGHT)
COMMON_RETURN = Position("every contact of the common return, both channels ideal", RETURN)
EVERY_CONTACT = Position("every contact of both channels and of the common return", LEFT + RIGHT + RETURN)

_LEFT_EAR, _RIGHT_EAR = (Volts(f"{side} ear", f"{side} back") for side in ("left", "right"))
#: 1 V of both channels alike, and what the left ear has of it.
BOTH_CHANNELS = Signal({"left": 1.0, "right": 1.0}, _LEFT_EAR)


def headphone_circuit(use: Use) -> Circuit:
    """The circuit that the settings of `use` describe, told against the amplifier's return."""
    output, amplifier = number(use, "output_impedance"), ("left out", "right out", "0")
    near, plug = _contacts("near", amplifier, number(use, "contacts_near"))
    joint = _nodes("joint")
    far, split = _contacts("far", joint, number(use, "contacts_far"))
    return Circuit(
        (
            VoltageSource("left", "left drive"),
            VoltageSource("right", "right drive"),
            Resistor("left drive", "left out", output),
            Resistor("right drive", "right out", output),
            *near,
            Line(plug, joint, three_core(use), number(use, "shared_length")),
            *far,
            *_ear(use, "left", (split[0], split[2])),
            *_ear(use, "right", (split[1], split[2])),
        )
    )


def _nodes(place: str) -> tuple[str, ...]:
    return tuple(f"{place} {name}" for name in _CONDUCTORS)


def _contacts(end: str, before: tuple[str, ...], count: float) -> tuple[tuple[Contact, ...], tuple[str, ...]]:
    """The contacts at one end, and the nodes behind them; none where there are none."""
    if count == 0:
        return (), before
    after = _nodes(f"behind {end}")
    parts = zip(_CONDUCTORS, before, after, strict=True)
    return tuple(Contact(f"{name} {end}", a, b, count=count) for name, a, b in parts), after


def _ear(use: Use, side: str, start: tuple[str, str]) -> tuple[Element, ...]:
    """A pair of cores, and an ear whose moving coil is a source of its own: silent, or what is to be damped."""
    return (
        Line(
            start,
            (f"{side} ear", f"{side} back"),
            two_core(use),
            number(use, "length"),
        ),
        *moving_coil(use, f"{side} ear", f"{side} coil", number(use, "ear_impedance")),
        VoltageSource(f"{side} motion", f"{side} coil", f"{side} back"),
    )


def level_transfer(circuit: Circuit, frequency: Array) -> Transfer:
    """Volts at the left ear when both channels have 1 V alike."""
    return transfers(circuit, frequency, {"left": 1.0, "right": 1.0}, [_LEFT_EAR])[0]


def balance_transfer(circuit: Circuit, frequency: Array) -> Transfer:
    """Volts at the left ear per volt at the right one when both channels have the same."""
    return ratio_of(*transfers(circuit, frequency, {"left": 1.0, "right": 1.0}, [_LEFT_EAR, _RIGHT_EAR]))


def crosstalk_transfer(circuit: Circuit, frequency: Array) -> Transfer:
    """Volts at the left ear per volt at the right one when only the right channel is driven."""
    return ratio_of(*transfers(circuit, frequency, {"right": 1.0}, [_LEFT_EAR, _RIGHT_EAR]))


def damping_transfer(circuit: Circuit, frequency: Array) -> Transfer:
    """Impedance of the left ear over all that it sees, Z/Zs: how its motion's voltage divides between the two."""
    asked = [Volts("left coil", "left ear"), _LEFT_EAR]
    return ratio_of(*transfers(circuit, frequency, {"left motion": 1.0}, asked))
