import numpy as np
import pytest

from ohmsworth.consequence.circuit import (
    Capacitor,
    Circuit,
    Contact,
    Inductor,
    Resistor,
    Transfer,
    VoltageSource,
    Volts,
    respond,
    transfers,
)
from ohmsworth.consequence.circuit.ratio import ratio_of
from ohmsworth.errors import ArgumentFault

FREQUENCY = np.array([50.0, 1e3, 20e3])
CIRCUIT = Circuit(
    (
        VoltageSource("one", "in"),
        Contact("first", "in", "a"),
        Resistor("a", "b", 3.0),
        Contact("second", "b", "c"),
        Inductor("c", "d", 1e-3),
        Capacitor("c", "0", 1e-5),
        Contact("third", "d", "0"),
        Resistor("d", "0", 7.0),
        Resistor("b", "0", 20.0),
    )
)


def quantities(*asked: Volts) -> tuple[Transfer, ...]:
    return transfers(CIRCUIT, FREQUENCY, {"one": 1.0}, asked)


def test_it_is_the_ratio_for_every_resistance() -> None:
    top, bottom = quantities(Volts("c"), Volts("b"))
    ohm = np.random.default_rng(5).exponential(10, (40, 3))
    ohm[0] = 0
    np.testing.assert_allclose(
        respond(ratio_of(top, bottom), ohm), respond(top, ohm) / respond(bottom, ohm), rtol=1e-10
    )


def test_a_quantity_per_itself_is_one() -> None:
    (one,) = quantities(Volts("b"))
    np.testing.assert_allclose(respond(ratio_of(one, one), [[1.0, 2.0, 3.0]]), 1, rtol=1e-12)


def test_a_divisor_of_nothing_is_refused() -> None:
    top, nothing = quantities(Volts("c"), Volts("d"))  # the ideal third contact shorts d
    with pytest.raises(ArgumentFault, match="not 0"):
        ratio_of(top, nothing)


def test_quantities_of_different_drives_are_refused() -> None:
    (one,) = quantities(Volts("b"))
    other = transfers(CIRCUIT, FREQUENCY, {"one": 2.0}, [Volts("b")])[0]
    with pytest.raises(ArgumentFault, match="same circuit and drive"):
        ratio_of(one, other)
