"""Chosen contacts with one resistance, against all the forms and against a circuit with resistors in their places."""

from dataclasses import replace

import numpy as np
import pytest

from ohmsworth.consequence.circuit import (
    Capacitor,
    Circuit,
    Contact,
    Element,
    Resistor,
    Transfer,
    VoltageSource,
    Volts,
    along,
    forms_of,
    polynomials_of,
    transfers,
    value_along,
)

FREQUENCY = np.array([0.0, 1e3, 1e6])
OHM = np.array([0.0, 1e-6, 1e-3, 1.0, 1e3, 1e9])
# "a" and "back" are in series, told in opposite directions; "b" stands behind a shunt; "c" is in it.
PARTS: tuple[Element, ...] = (
    VoltageSource("source", "top"),
    Resistor("top", "one", 50.0),
    Contact("a", "one", "two", count=2.0),
    Contact("c", "two", "shunt"),
    Capacitor("shunt", "return", 1e-9),
    Contact("b", "two", "three"),
    Resistor("three", "return", 75.0),
    Contact("back", "0", "return", count=3.0),
)


def solved(parts: tuple[Element, ...]) -> Transfer:
    return transfers(Circuit(parts), FREQUENCY, {"source": 1.0}, [Volts("three", "return")])[0]


@pytest.mark.parametrize(
    "weights", [(2.0, 0.0, 0.0, 3.0), (2.0, 1.0, 1.0, 3.0), (0.0, 0.5, 1.0, 0.0), (0.0, 0.0, 0.0, 0.0)]
)
def test_the_same_as_all_the_forms(weights: tuple[float, ...]) -> None:
    transfer = solved(PARTS)
    found = value_along(polynomials_of(transfer, np.array(weights)), OHM)
    every = value_along(along(forms_of(transfer), np.array(weights)), OHM)
    np.testing.assert_allclose(found, every, rtol=1e-9)


# At 1 GΩ it is the circuit solved anew that loses digits: the volts across its load are a difference of large ones.
@pytest.mark.parametrize("ohm", OHM[:-1])
def test_the_same_as_resistors_in_their_places(ohm: float) -> None:
    transfer = solved(PARTS)
    weights = {"a": 2.0, "b": 1.0, "c": 1.0, "back": 3.0}
    fixed = tuple(
        replace(part, ohm=weights[part.name] * ohm) if isinstance(part, Contact) else part for part in PARTS
    )
    found = value_along(polynomials_of(transfer, np.array([weights[n] for n in transfer.contacts])), ohm)
    np.testing.assert_allclose(found, solved(fixed).ideal, rtol=1e-9)


def test_contacts_in_series_are_one_and_others_are_not() -> None:
    transfer = solved(PARTS)
    place = {name: k for k, name in enumerate(transfer.contacts)}

    def degree(*names: str) -> int:
        weights = np.zeros(len(place))
        weights[[place[name] for name in names]] = 1.0
        return polynomials_of(transfer, weights).denominator.shape[1] - 1

    assert degree("a", "back") == 1
    assert degree("a", "b") == 2
    assert degree("a", "b", "c", "back") == 3
    assert degree() == 0
