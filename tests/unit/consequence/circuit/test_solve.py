"""Circuits solved as their contacts see them: small ones by hand, and what is refused."""

import numpy as np
import pytest

from ohmsworth.consequence.circuit import (
    Amperes,
    Block,
    Capacitor,
    Circuit,
    Contact,
    CurrentSource,
    Element,
    Impedance,
    Inductor,
    Line,
    Resistor,
    Transformer,
    VoltageSource,
    Volts,
    cable_of,
    forms_of,
    magnitude_bands,
    magnitudes,
    plain_resistance,
    respond,
    transfers,
    weights_of,
)
from ohmsworth.consequence.circuit.forms import MOST_CONTACTS
from ohmsworth.errors import ArgumentFault, UnknownName

DIVIDER = Circuit(
    (VoltageSource("in", "a"), Resistor("a", "b", 50.0), Contact("one", "b", "c"), Resistor("c", "0", 100.0))
)


def test_a_divider() -> None:
    volts, amperes, drawn = transfers(
        DIVIDER, [0.0, 1e3], {"in": 3.0}, [Volts("c"), Amperes("one"), Amperes("in")]
    )
    ohm = np.array([[0.0], [150.0]])
    np.testing.assert_allclose(respond(volts, ohm), [[2, 2], [1, 1]], rtol=1e-14)
    np.testing.assert_allclose(respond(amperes, ohm), [[0.02, 0.02], [0.01, 0.01]], rtol=1e-14)
    np.testing.assert_allclose(respond(drawn, ohm), [[-0.02, -0.02], [-0.01, -0.01]], rtol=1e-14)


def test_an_open_contact_keeps_its_digits() -> None:
    (volts,) = transfers(DIVIDER, [0.0], {"in": 1.0}, [Volts("c")])
    np.testing.assert_allclose(respond(volts, [[1e9]]), [[100 / (1e9 + 150)]], rtol=1e-13)


def test_a_contact_in_series_does_not_show_in_the_numerator() -> None:
    (volts,) = transfers(DIVIDER, [50.0], {"in": 1.0}, [Volts("c")])
    assert np.all(forms_of(volts).numerator[:, 1:] == 0)


def test_a_second_order_filter_and_its_resonance() -> None:
    """R, L in series into C: H = 1/(1 − ω²LC + jωRC); at 0 Hz it passes all, and the coil is a wire."""
    circuit = Circuit(
        (
            VoltageSource("in", "a"),
            Contact("r", "a", "b"),
            Inductor("b", "c", 1e-3),
            Capacitor("c", "0", 1e-6),
        )
    )
    f = np.array([0.0, 1e3, 5032.9212104487, 2e4])
    (volts,) = transfers(circuit, f, {"in": 1.0}, [Volts("c")])
    w = 2 * np.pi * f
    np.testing.assert_allclose(respond(volts, [[7.0]])[0], 1 / (1 - w**2 * 1e-9 + 7j * w * 1e-6), rtol=1e-12)


def test_current_sources_transformers_and_measured_parts() -> None:
    circuit = Circuit(
        (
            CurrentSource("drive", "a"),
            Transformer(("a", "0"), ("b", "c"), 4.0),
            Impedance("b", "d", lambda f: 3.0 + 2e-3j * f),
            Contact("k", "d", "e"),
            Resistor("e", "c", 0.0),
            Resistor("c", "0", 1e6),
        )
    )
    (volts,) = transfers(circuit, [0.0, 1e3], {"drive": 1.0}, [Volts("a")])
    np.testing.assert_allclose(respond(volts, [[2.0]])[0], 16 * np.array([5, 5 + 2j]), rtol=1e-12)


def test_a_block_is_its_chain_matrix() -> None:
    """A pad of 10 Ω in series and 20 Ω across, given as a matrix, floats and passes what it should."""
    pad = np.array([[1.5, 10.0], [0.05, 1.0]])
    circuit = Circuit(
        (
            VoltageSource("in", "a", "s"),
            Resistor("s", "0", 5.0),
            Contact("k", "a", "b"),
            Block(("b", "s"), ("c", "d"), lambda f: np.broadcast_to(pad, (len(f), 2, 2))),
            Resistor("c", "d", 20.0),
            Resistor("d", "0", 7.0),
        )
    )
    out, back = transfers(circuit, [1.0], {"in": 1.0}, [Volts("c", "d"), Volts("s")])
    np.testing.assert_allclose(respond(out, [[0.0], [5.0]])[:, 0], [10 / 20, 10 / 25], rtol=1e-13)
    assert abs(back.ideal[0]) < 1e-15


def test_more_contacts_than_forms_hold() -> None:
    """Ten contacts in a ladder with shunts: one by one, against resistors in their places."""
    count = MOST_CONTACTS + 4
    ohm = np.linspace(0, 9, count)

    def ladder(filled: bool) -> Circuit:
        parts: list[Element] = [VoltageSource("in", "n0")]
        for k in range(count):
            ends = (f"n{k}", f"n{k + 1}")
            parts.append(Resistor(*ends, ohm[k]) if filled else Contact(f"c{k}", *ends))
            parts += [Resistor(f"n{k + 1}", "0", 30.0), Capacitor(f"n{k + 1}", "0", 1e-6)]
        return Circuit(tuple(parts))

    f = np.logspace(1, 5, 7)
    (open_,) = transfers(ladder(False), f, {"in": 1.0}, [Volts(f"n{count}")])
    (filled,) = transfers(ladder(True), f, {"in": 1.0}, [Volts(f"n{count}")])
    draws = np.tile(ohm, (3, 1))
    # Ten sections take five decades off at the highest frequency, and a digit with them.
    np.testing.assert_allclose(respond(open_, draws)[1], filled.ideal, rtol=1e-11)
    np.testing.assert_allclose(magnitude_bands(open_, draws, [0.5])[0], np.abs(filled.ideal), rtol=1e-11)


@pytest.mark.parametrize("count", [1, 2, 3, 8])
def test_bands_are_quantiles_of_the_magnitude(count: int) -> None:
    parts: list[Element] = [VoltageSource("in", "n0"), Resistor(f"n{count}", "0", 3.0)]
    for k in range(count):
        parts += [Contact(f"c{k}", f"n{k}", f"n{k + 1}"), Inductor(f"n{k + 1}", "0", 1e-4)]
    f = np.logspace(2, 5, 40)
    (volts,) = transfers(Circuit(tuple(parts)), f, {"in": 1.0}, [Volts(f"n{count}")])
    draws = np.random.default_rng(count).lognormal(0, 1, (1001, count))
    size = np.abs(respond(volts, draws))
    wanted = [0.025, 0.3, 0.5, 0.975, 1.0]
    np.testing.assert_allclose(
        magnitude_bands(volts, draws, wanted), np.quantile(size, wanted, axis=0), rtol=1e-11
    )
    blocks = list(magnitudes(volts, draws))
    assert len(blocks) > 1
    np.testing.assert_allclose(np.concatenate([b for _, b in blocks]).T, size**2, rtol=1e-11)


def test_bands_of_what_no_contact_changes() -> None:
    circuit = Circuit(
        (VoltageSource("in", "a"), Contact("k", "a", "b"), Resistor("b", "0", 1.0), Resistor("a", "0", 1.0))
    )
    (volts,) = transfers(circuit, [1.0], {"in": 2.0}, [Volts("a")])
    np.testing.assert_allclose(magnitude_bands(volts, [[0.0], [5.0]], [0.0, 0.5]), [[2.0], [2.0]], rtol=1e-14)


def test_without_a_contact_there_is_one_answer() -> None:
    circuit = Circuit((VoltageSource("in", "a"), Resistor("a", "0", 1.0)))
    (volts,) = transfers(circuit, [1.0], {"in": 2.0}, [Volts("a")])
    np.testing.assert_allclose(respond(volts, np.zeros((3, 0))), [[2.0]] * 3)


@pytest.mark.parametrize(
    ("parts", "words"),
    [
        ((VoltageSource("in", "a"), Capacitor("a", "b", 1e-9), Resistor("a", "0", 1.0)), "nothing joins to"),
        ((VoltageSource("in", "a"), VoltageSource("in", "a"), Resistor("a", "0", 1.0)), "name of its own"),
        ((VoltageSource("in", "a", "b"), Resistor("a", "b", 1.0)), "node '0'"),
        ((VoltageSource("in", "a"), Contact("j", "a", "0"), Resistor("a", "0", 1.0)), "short"),
        ((VoltageSource("in", "a"), Resistor("a", "0", -1.0)), "0 or more"),
        ((VoltageSource("in", "a"), Resistor("a", "0", float("nan"))), "0 or more"),
        ((VoltageSource("in", "a"), Transformer(("a", "0"), ("b", "0"), 0.0)), "ratio"),
        ((VoltageSource("in", "a"), Impedance("a", "0", lambda f: np.array([1.0, 2.0, 3.0]))), "one finite impedance"),
    ],
)  # fmt: skip
def test_what_is_no_circuit_is_refused(parts: tuple[Element, ...], words: str) -> None:
    with pytest.raises(ArgumentFault, match=words):
        transfers(Circuit(parts), [0.0, 50.0], {"in": 1.0}, [Volts("a")])


def test_a_line_needs_a_node_for_every_conductor() -> None:
    cable = cable_of((plain_resistance(1), plain_resistance(1)), (0, 0), [[0, 0], [0, 0]])
    with pytest.raises(ArgumentFault, match="2 nodes"):
        Circuit((Line(("a",), ("b",), cable, 1.0), Resistor("a", "0", 1.0)))


def test_names_that_do_not_exist_are_refused() -> None:
    for drive, asked in (
        ({"out": 1.0}, Volts("a")),
        ({"in": 1.0}, Volts("z")),
        ({"in": 1.0}, Amperes("two")),
    ):
        with pytest.raises(UnknownName):
            transfers(DIVIDER, [1.0], drive, [asked])
    with pytest.raises(UnknownName):
        weights_of(DIVIDER.contacts(), {"two": 1.0})


def test_what_cannot_be_asked_is_refused() -> None:
    (volts,) = transfers(DIVIDER, [1.0], {"in": 1.0}, [Volts("c")])
    for ohm in ([1.0], [[1.0, 2.0]], [[-1.0]], [[float("nan")]]):
        with pytest.raises(ArgumentFault):
            respond(volts, ohm)
    with pytest.raises(ArgumentFault):
        magnitude_bands(volts, [[1.0]], [1.5])
    for frequency in ([-1.0], [[1.0]], [float("inf")]):
        with pytest.raises(ArgumentFault):
            transfers(DIVIDER, frequency, {"in": 1.0}, [Volts("c")])
