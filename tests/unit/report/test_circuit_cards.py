"""Circuits as cards: each part what it is, cables in sections, the whole solved by another solver."""

from __future__ import annotations

import math

import numpy as np
import pytest
from tests.unit.report.nodal import Circuit as Text

from ohmsworth.consequence.circuit import (
    Block,
    CableConstants,
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
    plain_resistance,
    respond,
    transfers,
)
from ohmsworth.errors import ArgumentFault
from ohmsworth.report.circuit_cards import Cards, cards_of
from ohmsworth.report.netlist import Card, Coupling, Drive, Part, netlist

EMF = VoltageSource("emf", "in")


def cards(*elements: Element, at: float = 1e3, highest: float = 20e3) -> Cards:
    return cards_of(Circuit((EMF, *elements)), {"joint": 0.5}, {"emf": 2.0}, at, highest)


def only(*elements: Element) -> Card:
    """The card of the only part beside the source."""
    (_, card) = cards(*elements).cards
    return card


@pytest.mark.parametrize(
    ("element", "card"),
    [
        (Resistor("in", "0", 4.7), Part("R", "2", "in", "0", 4.7)),
        (Inductor("in", "0", 1e-3), Part("L", "2", "in", "0", 1e-3)),
        (Capacitor("in", "0", 1e-9), Part("C", "2", "in", "0", 1e-9)),
        (Contact("joint", "in", "0"), Part("R", "contact joint", "in", "0", 0.5)),
        (Contact("joint", "in", "0", ohm=0.1, count=3), Part("R", "contact joint", "in", "0", 1.6)),
        (Contact("other", "in", "0"), Part("R", "contact other", "in", "0", 0.0)),
        (VoltageSource("hum", "in", "0"), Drive("V", "hum", "in", "0", 0.0)),
        (CurrentSource("back", "in", "0"), Drive("I", "back", "0", "in", 0.0)),
    ],
)
def test_a_part_is_a_card(element: Element, card: Card) -> None:
    assert only(element) == card


def test_a_source_is_driven_by_name() -> None:
    assert cards(Resistor("in", "0", 1.0)).cards[0] == Drive("V", "emf", "in", "0", 2.0)


@pytest.mark.parametrize(
    "element",
    [
        Impedance("in", "0", lambda f: np.ones(f.shape, complex)),
        Block(("in", "0"), ("out", "0"), lambda f: np.broadcast_to(np.eye(2, dtype=complex), (len(f), 2, 2))),
        Transformer(("in", "0"), ("out", "0"), 2.0),
    ],
)
def test_what_no_plain_card_can_hold_is_refused_by_name(element: Element) -> None:
    with pytest.raises(
        ArgumentFault, match=f"circuit: got '{type(element).__name__}', wanted parts that plain"
    ):
        cards(element)


# ------------------------------------------------------------ cables

#: Two cores in a screen: cores share nothing but a little field, the screen is around them.
SCREENED = CableConstants(
    (plain_resistance(0.08), plain_resistance(0.08), plain_resistance(0.02)),
    np.array([[0.7e-6, 0.3e-6, 0.2e-6], [0.3e-6, 0.7e-6, 0.2e-6], [0.2e-6, 0.2e-6, 0.2e-6]]),
    np.array([[0.0, 50e-12, 90e-12], [50e-12, 0.0, 110e-12], [90e-12, 110e-12, 20e-12]]),
    loss_tangent=0.02,
)
NEAR, FAR = ("in", "b", "s"), ("x", "y", "z")


def screened(length: float) -> tuple[Element, ...]:
    return (
        Resistor("b", "0", 100.0),
        Contact("joint", "s", "0"),
        Line(NEAR, FAR, SCREENED, length),
        Resistor("x", "y", 1e3),
        Resistor("z", "0", 5.0),
    )


@pytest.mark.parametrize(("length", "sections"), [(5.0, 1), (500.0, 5)])
def test_a_cable_of_three_conductors_is_what_it_is(length: float, sections: int) -> None:
    """All its conductors, solved by another solver where its sections are many to a wavelength."""
    at, highest = 2e3, 40e3
    found = cards(*screened(length), at=at, highest=highest)
    text = Text(netlist("cable", found.cards))
    assert sum(isinstance(c, Part) and c.kind == "L" for c in found.cards) == 3 * sections
    circuit = Circuit((EMF, *screened(length)))
    for node in ("b", "s", "x", "y", "z"):
        (transfer,) = transfers(circuit, [at], {"emf": 2.0}, [Volts(node)])
        expected = complex(respond(transfer, [[0.5]])[0, 0])
        assert text.solve(at)[node] == pytest.approx(expected, rel=2e-4, abs=1e-6)


def test_sections_hold_all_of_the_cable_and_half_at_either_end() -> None:
    length = 500.0
    parts = [c for c in cards(*screened(length), highest=100e3).cards if isinstance(c, Part)]
    series = [
        c.value for c in parts if c.kind == "R" and c.name.startswith("line 4") and "leak" not in c.name
    ]
    assert sum(series) == pytest.approx((0.08 + 0.08 + 0.02) * length)
    between = [c for c in parts if c.kind == "C" and c.name.endswith(" 1 0")]
    assert sum(c.value for c in between) == pytest.approx(50e-12 * length)
    assert between[0].value == pytest.approx(between[-1].value)
    assert between[1].value == pytest.approx(2 * between[0].value)
    around = [c for c in parts if c.kind == "C" and c.name.endswith(" 2 2")]
    assert {c.second for c in around} == {"0"}
    assert sum(c.value for c in around) == pytest.approx(20e-12 * length)


def test_the_loss_of_the_insulation_is_a_resistor_beside_its_capacitance() -> None:
    at = 3e3
    parts = [c for c in cards(*screened(5.0), at=at).cards if isinstance(c, Part)]
    values = {c.name: c.value for c in parts}
    for name in ("line 4 0 1 0", "line 4 1 2 0", "line 4 0 2 2"):
        assert 1 / values[f"{name} leak"] == pytest.approx(2 * math.pi * at * 0.02 * values[name], rel=1e-9)


def test_coils_that_share_a_field_are_coupled() -> None:
    found = cards(*screened(5.0)).cards
    couplings = {c.name: c.coefficient for c in found if isinstance(c, Coupling)}
    assert couplings == pytest.approx(
        {
            "line 4 1 1 0": 0.3 / 0.7,
            "line 4 1 2 0": 0.2 / math.sqrt(0.14),
            "line 4 1 2 1": 0.2 / math.sqrt(0.14),
        }
    )


def test_no_coupling_is_tighter_than_simulators_bear() -> None:
    """A screen without field of its own shares all that it has."""
    cable = cable_of([plain_resistance(0.1)] * 2, (0.0, 0.0), np.array([[0, 1e-10], [1e-10, 0]]), common=1e-6)
    line = Line(("in", "s"), ("x", "z"), cable, 2.0)
    found = cards(Resistor("s", "0", 1.0), line, Resistor("x", "z", 600.0), Resistor("z", "0", 1.0)).cards
    (coupling,) = (c for c in found if isinstance(c, Coupling))
    assert coupling.coefficient == 0.9999999
    netlist("tight", found)


def test_a_conductor_without_inductance_has_no_coil() -> None:
    cable = cable_of([plain_resistance(0.1)] * 2, (1e-6, 0.0), np.array([[0, 1e-10], [1e-10, 0]]))
    found = cards(Line(("in", "0"), ("x", "z"), cable, 2.0), Resistor("x", "z", 600.0)).cards
    assert [c.name for c in found if isinstance(c, Part) and c.kind == "L"] == ["line 2 1 0"]
    assert not [c for c in found if isinstance(c, Coupling)]


def test_a_remark_names_the_cable_its_sections_and_what_is_taken_at_one_frequency() -> None:
    one, several = (cards(*screened(length), at=1e3, highest=20e3).remarks for length in (5.0, 1000.0))
    assert len(one) == len(several) == 1
    assert one[0].startswith("line 4: 5 m in 1 section of at most 1/20 wavelength up to 20000 Hz; ")
    assert "sections" in several[0]
    assert "as at 1000 Hz" in one[0]


def test_sections_are_twenty_to_a_wavelength_of_the_slowest_mode() -> None:
    highest, length = 1e6, 300.0
    coils = [
        c for c in cards(*screened(length), highest=highest).cards if isinstance(c, Part) and c.kind == "L"
    ]
    y = np.diag(SCREENED.capacitance.sum(1)) - SCREENED.capacitance + np.diag(np.diag(SCREENED.capacitance))
    slowest = 1 / math.sqrt(float(np.linalg.eigvals(SCREENED.inductance @ y).real.max()))
    assert len(coils) / 3 == pytest.approx(20 * length * highest / slowest, abs=1)


def test_a_cable_of_too_many_wavelengths_is_refused() -> None:
    with pytest.raises(ArgumentFault, match=r"^highest: .* at most 100 wavelengths"):
        cards(*screened(1e4), highest=1e8)
