"""The circuit of a lighting control line: driver, joints, pair, receivers, terminator."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from ohmsworth.consequence.circuit import (
    Capacitor,
    Circuit,
    Contact,
    Element,
    Line,
    Resistor,
    Transfer,
    VoltageSource,
    Volts,
    transfers,
)
from ohmsworth.consequence.circuit.elements import Array
from ohmsworth.consequence.ports import Path, Port
from ohmsworth.consequence.rule import Curve, Position
from ohmsworth.consequence.use import Use, number, text
from ohmsworth.consequence.uses.audio_rules import once
from ohmsworth.consequence.uses.cables import pair_alone
from ohmsworth.consequence.uses.lighting_settings import ALONG, BOTH_ENDS, NONE, driver_emf, unit_loads

JOINT, TERMINATOR = "plus joint", "terminator"
PLUS, MINUS = (JOINT, "plus near", "plus far"), ("minus near", "minus far")
BOTH_DATA = Position("every joint of both data conductors", PLUS + MINUS)
ONE_DATA = Position("every joint of one data conductor, the other ideal", PLUS)
ONE_JOINT = Position("one joint of one data conductor, all others ideal", (JOINT,))
ONLY_TERMINATOR = Position("both contacts of the terminator", (TERMINATOR,))

#: All cable with its joints, told in 120 Ω; receivers and terminator left out.
LIGHTING_PATH = Path(Port("desk", "0"), Port("last plus", "last minus"), 120.0, {"driver": 1.0})

_LAST = Volts("last plus", "last minus")


def lighting_circuit(use: Use) -> Circuit:
    """The circuit that the settings of `use` describe; what goes out in one data conductor comes back in the other.

    Half of the joints are reckoned at each end. One of the first conductor has a name of its own, at the desk, where all
    current passes.
    """
    joints, termination = number(use, "joints"), number(use, "termination")
    near = max(joints / 2 - 1, 0.0)
    return Circuit(
        (
            VoltageSource("driver", "emf"),
            Resistor("emf", "desk", number(use, "driver_resistance")),
            *([Resistor("desk", "0", termination)] if text(use, "terminated") == BOTH_ENDS else []),
            Contact(JOINT, "desk", "first"),
            Contact("plus near", "first", "cable plus", count=near),
            Contact("minus near", "0", "cable minus", count=joints / 2),
            *_cable_and_middle(use),
            Contact("plus far", "end plus", "last plus", count=joints - 1 - near),
            Contact("minus far", "end minus", "last minus", count=joints / 2),
            *_receivers(use, "last", 0.5 if text(use, "receivers_stand") == ALONG else 1.0),
            *_terminator(use),
        )
    )


def _cable_and_middle(use: Use) -> Iterator[Element]:
    cable, length = pair_alone(use), number(use, "length")
    near, far = ("cable plus", "cable minus"), ("end plus", "end minus")
    if text(use, "receivers_stand") != ALONG:
        yield Line(near, far, cable, length)
        return
    middle = ("middle plus", "middle minus")
    yield Line(near, middle, cable, length / 2)
    yield from _receivers(use, "middle", 0.5)
    yield Line(middle, far, cable, length / 2)


def _receivers(use: Use, place: str, part: float) -> tuple[Element, ...]:
    """A `part` of all receivers between the data conductors at one place."""
    ohm = number(use, "unit_resistance") / (unit_loads(use) * part)
    farad = number(use, "receiver_capacitance") * number(use, "receivers") * part
    plus, minus = f"{place} plus", f"{place} minus"
    return (Resistor(plus, minus, ohm), Capacitor(plus, minus, farad))


def _terminator(use: Use) -> tuple[Element, ...]:
    if text(use, "terminated") == NONE:
        return ()
    return (
        Resistor("last plus", "resistor", number(use, "termination")),
        Contact(TERMINATOR, "resistor", "last minus", count=2.0),
    )


def last_transfer(circuit: Circuit, frequency: Array) -> Transfer:
    """Volts between the data conductors at the last receiver per volt of the driver's EMF."""
    return transfers(circuit, frequency, {"driver": 1.0}, [_LAST])[0]


def level_curve(use: Use, circuit: Circuit) -> Curve:
    """Volts at the last receiver for a sine as high as the driver's EMF."""
    emf = driver_emf(use)
    return Curve(
        key="level",
        words="level at the last receiver",
        unit="V",
        low=1e3,
        high=1e7,
        position=BOTH_DATA,
        circuit=circuit,
        solve=once(lambda frequency: last_transfer(circuit, frequency)),
        show=lambda y, _ideal: np.asarray(emf * np.abs(y)),
        worse="lower",
    )
