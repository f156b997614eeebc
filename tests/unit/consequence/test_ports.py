"""A cable with its contacts as a two-port: against chain matrices written by hand, balanced or not."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt
import pytest

from ohmsworth.consequence import TwoPort, cascade, passive, reciprocal, series, shunt
from ohmsworth.consequence.circuit import (
    Block,
    CableConstants,
    Capacitor,
    Circuit,
    Contact,
    Element,
    Line,
    Resistor,
    VoltageSource,
    Volts,
    cable_of,
    plain_resistance,
)
from ohmsworth.consequence.ports import Path, Port, path_two_port
from ohmsworth.errors import ArgumentFault

FREQUENCY = np.array([50.0, 1e3, 20e3, 1e6])
EMF = VoltageSource("emf", "in")
PATH = Path(Port("in", "0"), Port("out", "back"), 75.0, {"emf": 1.0})
R, L, C = 0.2, 0.5e-6, 80e-12
PAIR = cable_of([plain_resistance(R / 2)] * 2, (L / 2, L / 2), np.array([[0, C], [C, 0]]))


def contacts_only(*more: Element) -> Circuit:
    return Circuit((EMF, Contact("hot", "in", "out"), Contact("cold", "0", "back"), *more))


def with_cable(length: float) -> Circuit:
    return Circuit(
        (
            EMF,
            Contact("hot near", "in", "a", count=2),
            Contact("cold near", "0", "b"),
            Line(("a", "b"), ("c", "d"), PAIR, length),
            Contact("hot far", "c", "out"),
            Contact("cold far", "d", "back"),
            Resistor("out", "back", 600.0),
            Capacitor("out", "back", 1e-9),
        )
    )


def line(length: float) -> TwoPort:
    s = 2j * np.pi * FREQUENCY
    angle, impedance = np.sqrt((R + s * L) * s * C) * length, np.sqrt((R + s * L) / (s * C))
    rows = [[np.cosh(angle), impedance * np.sinh(angle)], [np.sinh(angle) / impedance, np.cosh(angle)]]
    return TwoPort(FREQUENCY, np.moveaxis(np.array(rows), 2, 0))


def same(found: TwoPort, expected: TwoPort, rtol: float = 1e-9) -> None:
    scale = np.array([[1, 75.0], [1 / 75.0, 1]])
    np.testing.assert_allclose(found.chain / scale, expected.chain / scale, rtol=rtol, atol=1e-11)


@pytest.mark.parametrize(("hot", "cold"), [(0.0, 0.0), (1e-3, 0.0), (0.5, 7.0), (1e6, 3.0)])
def test_contacts_alone_are_what_stands_in_the_loop(hot: float, cold: float) -> None:
    found = path_two_port(contacts_only(), PATH, [hot, cold], FREQUENCY)
    same(found, series(FREQUENCY, np.full(4, hot + cold, complex)), rtol=1e-6)


def test_source_and_load_are_left_out() -> None:
    bare = path_two_port(contacts_only(), PATH, [0.5, 7.0], FREQUENCY)
    loaded = contacts_only(Resistor("out", "back", 10.0), Capacitor("in", "0", 1e-6))
    np.testing.assert_array_equal(path_two_port(loaded, PATH, [0.5, 7.0], FREQUENCY).chain, bare.chain)


@pytest.mark.parametrize("length", [0.0, 3.0, 300.0])
def test_a_cable_between_contacts(length: float) -> None:
    found = path_two_port(with_cable(length), PATH, [0.4, 0.1, 0.3, 0.05], FREQUENCY)
    near, far = (series(FREQUENCY, np.full(4, ohm, complex)) for ohm in (0.5, 0.35))
    same(found, cascade(near, line(length), far))


@pytest.mark.parametrize("reference", [10.0, 75.0, 600.0])
def test_the_reference_is_how_it_is_told_and_not_what_it_is(reference: float) -> None:
    path = Path(PATH.near, PATH.far, reference, PATH.drive)
    found = path_two_port(with_cable(30.0), path, [0.1] * 4, FREQUENCY)
    same(found, path_two_port(with_cable(30.0), PATH, [0.1] * 4, FREQUENCY))


def test_what_was_measured_is_part_of_the_way() -> None:
    known = cascade(series(FREQUENCY, np.full(4, 3 + 0j)), shunt(FREQUENCY, 2j * np.pi * FREQUENCY * 1e-9))
    block = Block(
        ("a", "0"), ("b", "0"), lambda frequency: known.chain[np.searchsorted(FREQUENCY, frequency)]
    )
    circuit = Circuit(
        (EMF, Contact("near", "in", "a"), block, Contact("far", "b", "out"), Contact("cold", "0", "back"))
    )
    found = path_two_port(circuit, PATH, [0.5, 0.25, 0.125], FREQUENCY)
    same(
        found,
        cascade(series(FREQUENCY, np.full(4, 0.5 + 0j)), known, series(FREQUENCY, np.full(4, 0.375 + 0j))),
    )


# ------------------------------------------------------------ balanced ports

BALANCED = Path(Port("p", "m", "0"), Port("x", "y", "s"), 110.0, {"plus": 0.5, "minus": -0.5})
CORE, SCREEN = plain_resistance(0.05), plain_resistance(0.02)
CC, CS = 40e-12, 90e-12


def screened(plus: float, minus: float) -> tuple[Circuit, npt.ArrayLike]:
    between = np.array([[0, CC, CS], [CC, 0, CS], [CS, CS, 0]])
    cable = CableConstants((CORE, CORE, SCREEN), np.diag([0.3e-6, 0.3e-6, 0.0]), between)
    parts = (
        VoltageSource("plus", "p", "0"),
        VoltageSource("minus", "m", "0"),
        Contact("plus near", "p", "a"),
        Contact("minus near", "m", "b"),
        Line(("a", "b", "0"), ("x", "y", "s"), cable, 40.0),
    )
    return Circuit(parts), [plus, minus]


def test_between_the_legs_of_a_balanced_cable_its_screen_is_no_part_of_the_loop() -> None:
    circuit, ohm = screened(0.4, 0.4)
    found = path_two_port(circuit, BALANCED, ohm, FREQUENCY)
    s = 2j * np.pi * FREQUENCY
    z, y = 0.1 + s * 0.6e-6, s * (CC + CS / 2)
    angle, impedance = np.sqrt(z * y) * 40.0, np.sqrt(z / y)
    rows = [[np.cosh(angle), impedance * np.sinh(angle)], [np.sinh(angle) / impedance, np.cosh(angle)]]
    expected = cascade(
        series(FREQUENCY, np.full(4, 0.8, complex)), TwoPort(FREQUENCY, np.moveaxis(np.array(rows), 2, 0))
    )
    same(found, expected)


def test_legs_that_differ_give_a_little_to_the_common_mode_and_it_is_lost() -> None:
    alike, unlike = (path_two_port(*screened_at(pair)) for pair in ((0.4, 0.4), (0.8, 0.0)))
    assert passive(unlike)
    assert reciprocal(unlike)
    assert not np.allclose(unlike.chain, alike.chain, rtol=1e-9)
    np.testing.assert_allclose(unlike.chain, alike.chain, rtol=1e-2, atol=1e-4)


def screened_at(pair: tuple[float, float]) -> tuple[Circuit, Path, npt.ArrayLike, npt.NDArray[np.float64]]:
    circuit, ohm = screened(*pair)
    return circuit, BALANCED, ohm, FREQUENCY


# ------------------------------------------------------------ the rest


def test_a_path_tells_the_signal_from_end_to_end() -> None:
    assert PATH.signal.drive == {"emf": 1.0}
    assert PATH.signal.arrives == Volts("out", "back")


def test_a_path_through_nothing_is_refused() -> None:
    circuit = Circuit((EMF, Resistor("in", "out", 1.0), Resistor("0", "back", 1.0)))
    with pytest.raises(ArgumentFault):
        path_two_port(circuit, PATH, [], FREQUENCY)


def test_so_many_contacts_so_many_resistances() -> None:
    with pytest.raises(ArgumentFault, match="ohm"):
        path_two_port(contacts_only(), PATH, [0.1], FREQUENCY)


def test_a_shunt_by_hand_is_no_series() -> None:
    """The comparison above would see what stands across in place of in line."""
    with pytest.raises(AssertionError):
        same(series(FREQUENCY, np.full(4, 1 + 0j)), shunt(FREQUENCY, np.full(4, 1 + 0j)))
