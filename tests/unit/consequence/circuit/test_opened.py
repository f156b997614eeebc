"""An open contact against one of a gigaohm, and against the circuit without it."""

import numpy as np
import pytest

from ohmsworth.consequence.circuit import (
    Capacitor,
    Circuit,
    Contact,
    Element,
    Resistor,
    VoltageSource,
    Volts,
    opened,
    respond,
    transfers,
)
from ohmsworth.errors import ArgumentFault, UnknownName

FREQUENCY = np.array([0.0, 1e3, 1e6])
SHUNT: tuple[Element, ...] = (Contact("shunt", "two", "way"), Resistor("way", "0", 120.0))
REST: tuple[Element, ...] = (
    VoltageSource("source", "top"),
    Resistor("top", "one", 40.0),
    Contact("series", "one", "two"),
    Capacitor("two", "0", 1e-9),
    Contact("last", "two", "three"),
    Resistor("three", "0", 750.0),
)


def test_the_circuit_without_it() -> None:
    whole = transfers(Circuit((*REST, *SHUNT)), FREQUENCY, {"source": 1.0}, [Volts("three")])[0]
    without = transfers(Circuit(REST), FREQUENCY, {"source": 1.0}, [Volts("three")])[0]
    found = opened(whole, "shunt")
    assert found.contacts == without.contacts
    np.testing.assert_allclose(found.ideal, without.ideal, rtol=1e-12)
    np.testing.assert_allclose(found.seen, without.seen, rtol=1e-10)
    ohm = np.array([[0.0, 0.0], [3.0, 100.0], [1e3, 1e6]])
    np.testing.assert_allclose(respond(found, ohm), respond(without, ohm), rtol=1e-9)
    huge = np.insert(ohm, whole.contacts.index("shunt"), 1e9, axis=1)
    np.testing.assert_allclose(respond(found, ohm), respond(whole, huge), rtol=1e-5)


def test_what_cannot_be_opened_is_refused() -> None:
    whole = transfers(Circuit((*REST, *SHUNT)), FREQUENCY, {"source": 1.0}, [Volts("three")])[0]
    with pytest.raises(UnknownName, match="shunt"):
        opened(whole, "shant")
    # At 0 Hz nothing passes a contact that leads into a capacitor, whatever stands across it.
    parts = (*REST, Contact("idle", "three", "end"), Capacitor("end", "0", 1e-9))
    idle = transfers(Circuit(parts), 0.0, {"source": 1.0}, [Volts("three")])[0]
    with pytest.raises(ArgumentFault, match="another way"):
        opened(idle, "idle")
