"""Nodes that hang in the air, shorted sources, contacts side by side: what is told, what is refused and in which words."""

import numpy as np
import pytest

from ohmsworth.consequence.circuit import (
    Amperes,
    Capacitor,
    Circuit,
    Contact,
    CurrentSource,
    Element,
    Inductor,
    Line,
    Resistor,
    Transformer,
    VoltageSource,
    Volts,
    cable_of,
    magnitude_bands,
    opened,
    plain_resistance,
    polynomials_of,
    respond,
    transfers,
    value_along,
)
from ohmsworth.consequence.circuit.ratio import ratio_of
from ohmsworth.errors import ArgumentFault

SOURCE = VoltageSource("in", "s")
HERTZ = np.array([0.0, 1e3, 1e5])
DRAWS = np.random.default_rng(5).uniform(-6, 9, (40, 9))


def side_by_side(count: int, load: float) -> Circuit:
    """Several contacts between a source of 150 Ω and a load with a capacitor, and one in series with all of them."""
    pins = [Contact(f"pin {k}", "a", "b") for k in range(count)]
    rest = (
        Resistor("s", "a", 150.0),
        *pins,
        Contact("last", "b", "c"),
        Resistor("c", "0", load),
        Capacitor("c", "0", 1e-9),
    )
    return Circuit((SOURCE, *rest))  # fmt: skip


@pytest.mark.parametrize("count", [2, 3, 5, 7])
@pytest.mark.parametrize("load", [8.0, 1500.0, 1e7])
def test_contacts_side_by_side_share_their_current(count: int, load: float) -> None:
    """Against the divider of the sum of their conductances."""
    (volts,) = transfers(side_by_side(count, load), HERTZ, {"in": 1.0}, [Volts("c")])
    ohm = 10 ** DRAWS[:, : count + 1]
    together = 1 / (1 / ohm[:, :count]).sum(axis=1) + ohm[:, count] + 150.0
    behind = 1 / (1 / load + 2j * np.pi * HERTZ * 1e-9)
    wanted = behind / (together[:, None] + behind)
    # What is left of six or fewer is a ratio of forms; of more, a difference of the ideal and what they take.
    noise = 0 if count < 6 else 1e-15
    np.testing.assert_allclose(respond(volts, ohm), wanted, rtol=2e-9, atol=noise)
    bands = magnitude_bands(volts, ohm, [0.0, 0.5, 1.0])
    np.testing.assert_allclose(bands, np.quantile(np.abs(wanted), [0, 0.5, 1], axis=0), rtol=2e-9, atol=noise)


def test_all_ideal_is_ideal_and_one_ideal_is_enough() -> None:
    (volts,) = transfers(side_by_side(3, 1500.0), HERTZ, {"in": 1.0}, [Volts("c")])
    for ohm in ([0, 0, 0, 0], [5, 0, 7, 0], [0, 1e9, 1e9, 0], [1e9, 1e9, 0, 0]):
        np.testing.assert_allclose(respond(volts, [ohm])[0], volts.ideal, rtol=1e-11)


def test_a_ring_of_three_contacts() -> None:
    """Between three nodes that each have a load: by hand after turning the ring into a star."""
    ring = (Contact("ab", "a", "b"), Contact("bc", "b", "c"), Contact("ca", "c", "a"))
    loads = (Resistor("s", "a", 10.0), Resistor("b", "0", 20.0), Resistor("c", "0", 30.0))
    (volts,) = transfers(Circuit((SOURCE, *ring, *loads)), [0.0], {"in": 1.0}, [Volts("b")])
    ab, bc, ca = 0.3, 0.7, 2.0
    whole = ab + bc + ca
    to_a, to_b, to_c = ab * ca / whole, ab * bc / whole, bc * ca / whole
    star = 1 / (1 / (to_b + 20.0) + 1 / (to_c + 30.0))
    wanted = star / (10.0 + to_a + star) * 20.0 / (to_b + 20.0)
    np.testing.assert_allclose(respond(volts, [[ab, bc, ca]]), [[wanted]], rtol=1e-12)


def test_one_resistance_for_both_one_open_and_ratios() -> None:
    """Two pins of R are R/2 in all; with one open the other carries all; a ratio has the same loops."""
    c, b = transfers(side_by_side(2, 1500.0), [0.0], {"in": 1.0}, [Volts("c"), Volts("a")])
    r = np.array([0.0, 1e-3, 1.0, 1e6])
    found = value_along(polynomials_of(c, np.array([1.0, 1.0, 0.0])), r)[:, 0]
    np.testing.assert_allclose(found, 1500 / (1650 + r / 2), rtol=1e-11)
    alone = value_along(polynomials_of(c, np.array([1.0, 0.0, 0.0])), r)[:, 0]
    np.testing.assert_allclose(alone, 1500 / 1650, rtol=1e-11)
    for pin in ("pin 0", "pin 1"):
        left = respond(opened(c, pin), np.stack([r, 0 * r], 1))[:, 0]
        np.testing.assert_allclose(left, 1500 / (1650 + r), rtol=1e-11)
    share = respond(ratio_of(c, b), np.stack([r, r, 2 * r], 1))[:, 0]
    np.testing.assert_allclose(share, 1500 / (1500 + 2.5 * r), rtol=1e-11)


def test_current_of_pins_that_are_not_ideal() -> None:
    pins = (Contact("one", "s", "a", ohm=1e-6), Contact("two", "s", "a", ohm=1e-6))
    (amperes,) = transfers(
        Circuit((SOURCE, *pins, Resistor("a", "0", 8.0))), [0.0], {"in": 8.0}, [Amperes("one")]
    )
    found = respond(amperes, [[0, 0], [3e-3, 1e-3]])[:, 0]
    np.testing.assert_allclose(found, [0.5, 0.25], rtol=2e-3)


PAIR = cable_of([plain_resistance(0.1)] * 2, [3e-7, 3e-7], [[0, 1e-10], [1e-10, 0]])


@pytest.mark.parametrize(
    ("parts", "words"),
    [
        ((Resistor("s", "0", 5.0), Resistor("q", "p", 3.3), Resistor("q", "p", 0.7), Contact("k", "p", "r")), "q, p, r"),
        ((Resistor("s", "t", 5.0), Transformer(("t", "0"), ("x", "y"), 1.7), Resistor("x", "y", 7.3)), ": x, y"),
        ((Resistor("s", "0", 5.0), CurrentSource("i", "x"), Line(("x", "y"), ("u", "v"), PAIR, 5.0)), ": x, y, u, v"),
        ((Contact("k", "s", "0"),), "contact 'k', which short-circuits a source"),
        ((Contact("k", "s", "a"), Contact("m", "s", "a"), Contact("n", "a", "b"), Resistor("b", "0", 0.0)), "contact 'n'"),
        ((Resistor("s", "0", 0.0),), "a resistor of 0 from s to 0, which short"),
        ((VoltageSource("other", "s"), Resistor("s", "0", 1.0)), "source 'other' across other sources"),
        ((Resistor("s", "m", 1.0), Inductor("m", "0", 1.0), Inductor("m", "0", 2.0)), "at 0 Hz, coils do not"),
    ],
)  # fmt: skip
def test_what_has_no_solution_is_refused_by_name(parts: tuple[Element, ...], words: str) -> None:
    with pytest.raises(ArgumentFault, match=words):
        transfers(Circuit((SOURCE, *parts)), [0.0, 50.0], {"in": 1.0}, [Volts("s")])


def test_nodes_that_hang_in_the_air_are_refused_whatever_rounding_makes_of_them() -> None:
    """A winding without a way to the ground: the equations have no solution, but in floating point many have one."""
    for ohm in np.random.default_rng(3).uniform(0.1, 1e4, (50, 5)):
        winding = Transformer(("p", "0"), ("x", "y"), ohm[0] / ohm[1])
        parts = (Resistor("s", "p", ohm[2]), winding, Resistor("x", "m", ohm[3]), Resistor("m", "y", ohm[4]))
        with pytest.raises(ArgumentFault, match="nothing joins to '0': x, y, m"):
            transfers(Circuit((SOURCE, *parts)), [50.0], {"in": 1.0}, [Volts("x", "y")])


def test_capacitors_hold_a_node_but_at_0_hz() -> None:
    circuit = Circuit((SOURCE, Capacitor("s", "x", 1e-9), Capacitor("x", "0", 3e-9)))
    (volts,) = transfers(circuit, [50.0], {"in": 1.0}, [Volts("x")])
    np.testing.assert_allclose(volts.ideal, [0.25], rtol=1e-12)
    with pytest.raises(ArgumentFault, match="'0' at 0 Hz: x"):
        transfers(circuit, [0.0, 50.0], {"in": 1.0}, [Volts("x")])


def test_the_current_of_one_of_ideal_pins_is_not_settled() -> None:
    with pytest.raises(ArgumentFault, match="through 'pin 1', beside which other contacts are ideal"):
        transfers(side_by_side(2, 8.0), [0.0], {"in": 1.0}, [Amperes("pin 1")])
    (whole,) = transfers(side_by_side(2, 8.0), [0.0], {"in": 1.0}, [Amperes("last")])
    np.testing.assert_allclose(whole.ideal, [1 / 158], rtol=1e-12)
