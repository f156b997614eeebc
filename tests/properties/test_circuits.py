"""What must hold for any circuit of passive parts, drawn at random."""

import numpy as np
import numpy.typing as npt
from hypothesis import given
from hypothesis import strategies as st

from ohmsworth.consequence.circuit import (
    Amperes,
    Capacitor,
    Circuit,
    Contact,
    Element,
    Inductor,
    Line,
    Resistor,
    VoltageSource,
    Volts,
    cable_of,
    respond,
    transfers,
)
from ohmsworth.materials import wire_impedance

FREQUENCIES = np.array([50.0, 1e3, 20e3, 1e6])
NODES = ("a", "b", "c", "d", "0")


def wire(frequency: npt.NDArray[np.float64]) -> npt.NDArray[np.complex128]:
    return wire_impedance(0.1, frequency)


CABLE = cable_of((wire, wire), (3e-7, 3e-7), [[0, 1e-10], [1e-10, 0]], 0.01)


@st.composite
def networks(draw: st.DrawFn) -> tuple[tuple[Element, ...], list[float]]:
    """Parts on five nodes that are all held to the ground, with two to four contacts, and what these have."""
    parts: list[Element] = [Resistor(node, "0", draw(st.floats(10, 1e5))) for node in NODES[:-1]]
    pair = st.lists(st.sampled_from(NODES), min_size=2, max_size=2, unique=True)
    for _ in range(draw(st.integers(1, 5))):
        (a, b), kind = draw(pair), draw(st.sampled_from("RLCW"))
        if kind == "R":
            parts.append(Resistor(a, b, draw(st.floats(0.1, 1e4))))
        elif kind == "L":
            parts += [Inductor(a, f"{a}{b}{len(parts)}", draw(st.floats(1e-6, 1e-1)))]
            parts += [Resistor(f"{a}{b}{len(parts) - 1}", b, draw(st.floats(0.5, 100)))]
        elif kind == "C":
            parts.append(Capacitor(a, b, draw(st.floats(1e-12, 1e-6))))
        else:
            far = (f"x{len(parts)}", f"y{len(parts)}")
            parts.append(Line((a, "0"), far, CABLE, draw(st.floats(0, 100))))
            parts.append(Resistor(*far, draw(st.floats(10, 1e4))))
    ohm = draw(st.lists(st.floats(0, 1e3), min_size=2, max_size=4))
    for k in range(len(ohm)):
        a, b = draw(pair)
        parts += [Contact(f"k{k}", a, f"m{k}"), Resistor(f"m{k}", b, draw(st.floats(0.5, 1e3)))]
    return tuple(parts), ohm


def source_at(node: str) -> tuple[Element, ...]:
    return (VoltageSource("e", f"source {node}"), Resistor(f"source {node}", node, 100.0))


@given(networks())
def test_forms_are_the_circuit_with_resistors_in_place(
    network: tuple[tuple[Element, ...], list[float]],
) -> None:
    parts, ohm = network
    filled = tuple(Resistor(p.a, p.b, ohm[int(p.name[1:])]) if isinstance(p, Contact) else p for p in parts)
    asked = [Volts("b"), Volts("c", "d")]
    contacts = transfers(Circuit((*source_at("a"), *parts)), FREQUENCIES, {"e": 1.0}, asked)
    resistors = transfers(Circuit((*source_at("a"), *filled)), FREQUENCIES, {"e": 1.0}, asked)
    for one, other in zip(contacts, resistors, strict=True):
        np.testing.assert_allclose(respond(one, [ohm])[0], other.ideal, rtol=1e-9, atol=1e-13)


@given(networks())
def test_it_passes_the_same_both_ways(network: tuple[tuple[Element, ...], list[float]]) -> None:
    """Reciprocity: volts at b for a source at a, and the other way round, both ends loaded alike."""
    parts, ohm = network
    there, back = (
        transfers(
            Circuit((*source_at(near), Resistor(far, "0", 100.0), *parts)),
            FREQUENCIES,
            {"e": 1.0},
            [Volts(far)],
        )[0]
        for near, far in (("a", "b"), ("b", "a"))
    )
    np.testing.assert_allclose(respond(there, [ohm]), respond(back, [ohm]), rtol=1e-8, atol=1e-14)


@given(networks())
def test_it_makes_no_power(network: tuple[tuple[Element, ...], list[float]]) -> None:
    """What the source gives is at least what one resistor takes, and never below nothing."""
    parts, ohm = network
    circuit = Circuit((*source_at("a"), Resistor("b", "0", 50.0), *parts))
    drawn, volts = transfers(circuit, FREQUENCIES, {"e": 1.0}, [Amperes("e"), Volts("b")])
    given_, taken = -respond(drawn, [ohm])[0].real, np.abs(respond(volts, [ohm])[0]) ** 2 / 50
    assert np.all(given_ >= taken - 1e-12 * np.abs(given_))


@given(networks(), st.floats(1e-3, 1e3))
def test_a_contact_alone_never_raises_its_own_current(
    network: tuple[tuple[Element, ...], list[float]], more: float
) -> None:
    """|i(r)| = |i(0)| / |1 + r g| with the real part of g not below zero."""
    parts, ohm = network
    (current,) = transfers(Circuit((*source_at("a"), *parts)), FREQUENCIES, {"e": 1.0}, [Amperes("k0")])
    rest = ohm[1:]
    found = np.abs(respond(current, [[0.0, *rest], [more, *rest], [2 * more, *rest]]))
    assert np.all(found[1:] <= found[:-1] * (1 + 1e-9) + 1e-15)


@given(networks())
def test_what_the_sources_drive_adds_up(network: tuple[tuple[Element, ...], list[float]]) -> None:
    parts, ohm = network
    circuit = Circuit((*source_at("a"), VoltageSource("f", "y"), Resistor("y", "c", 30.0), *parts))
    one, other, both = (
        respond(transfers(circuit, FREQUENCIES, drive, [Volts("b")])[0], [ohm])
        for drive in ({"e": 1.0}, {"f": 2j}, {"e": 1.0, "f": 2j})
    )
    np.testing.assert_allclose(one + other, both, rtol=1e-8, atol=1e-13)
