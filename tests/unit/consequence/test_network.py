"""The chain matrices against a nodal solution of the same circuit cut into small sections."""

import numpy as np
import pytest

from ohmsworth.consequence.balanced import BalancedCircuit, gains
from ohmsworth.consequence.line import Line, line_chain
from ohmsworth.errors import ArgumentFault

LINE = Line(
    length=50.0,
    core_resistance=0.08,
    core_radius=1e-6,  # thin: no skin effect, which the sections leave out
    screen_resistance=0.02,
    loop_inductance=0.7e-6,
    core_core=100e-12,
    core_screen=200e-12,
)
CIRCUIT = BalancedCircuit(150.0, 30.0, LINE, 1500.0, 6800.0, 2, 1)
CONTACTS = (5.0, 1.0, 3.0)  # ohm each in leg +, leg −, screen
SECTIONS = 100


class Nodes:
    """Admittances between nodes; node 0 is the screen at the load."""

    def __init__(self, count: int) -> None:
        self.y = np.zeros((count, count), dtype=complex)
        self.into = np.zeros(count, dtype=complex)

    def join(self, one: int, other: int, admittance: complex) -> None:
        for a, b in ((one, other), (other, one)):
            self.y[a, a] += admittance
            self.y[a, b] -= admittance

    def voltages(self) -> np.ndarray:
        return np.concatenate(([0], np.linalg.solve(self.y[1:, 1:], self.into[1:])))


def nodal_voltage_at_load(frequency: float, plus: float, minus: float) -> complex:
    """Differential voltage at the load, by admittances; legs driven by `plus` and `minus` volts."""

    # A place holds three nodes: leg +, leg −, screen. Place 0 is the load, 1 to SECTIONS + 1 the cable.
    def node(place: int, conductor: int) -> int:
        return {(0, 2): 0}.get((place, conductor), 1 + 3 * place + conductor)

    places = SECTIONS + 3
    middle = 1 + 3 * places
    net = Nodes(middle + 1)
    net.join(0, 3, 1.0)  # the unused number of the screen at the load
    step = LINE.length / SECTIONS
    omega = 2j * np.pi * frequency
    leg = LINE.core_resistance * step + omega * LINE.loop_inductance / 2 * step
    for place in range(1, SECTIONS + 1):
        near, far = place + 1, place
        for conductor, impedance in ((0, leg), (1, leg), (2, LINE.screen_resistance * step)):
            net.join(node(near, conductor), node(far, conductor), 1 / impedance)
        for end in (near, far):
            net.join(node(end, 0), node(end, 1), omega * LINE.core_core * step / 2)
            for conductor in (0, 1):
                net.join(node(end, conductor), node(end, 2), omega * LINE.core_screen * step / 2)
    source = places - 1
    for conductor, ohm in enumerate(CONTACTS):
        net.join(node(0, conductor), node(1, conductor), 1 / (CIRCUIT.contacts_far * ohm))
        net.join(node(source, conductor), node(source - 1, conductor), 1 / (CIRCUIT.contacts_near * ohm))
    for conductor in (0, 1):
        net.join(node(0, conductor), node(0, 2), 1 / CIRCUIT.load_common)
    net.join(node(0, 0), node(0, 1), 1 / CIRCUIT.load_impedance - 1 / (2 * CIRCUIT.load_common))
    # Each leg's source: volts behind half the source impedance, as a current into that admittance.
    half = 2 / CIRCUIT.source_impedance
    for conductor, emf in ((0, plus), (1, minus)):
        net.join(node(source, conductor), middle, half)
        net.into[node(source, conductor)] += emf * half
        net.into[middle] -= emf * half
    net.join(middle, node(source, 2), 1 / CIRCUIT.source_common)
    found = net.voltages()
    return complex(found[node(0, 0)] - found[node(0, 1)])


@pytest.mark.parametrize("frequency", [50.0, 1e3, 10e3, 100e3])
def test_chain_agrees_with_nodes(frequency: float) -> None:
    found = gains(CIRCUIT, line_chain(LINE, [frequency]), *CONTACTS)
    assert complex(found.differential[0]) == pytest.approx(
        nodal_voltage_at_load(frequency, 0.5, -0.5), rel=1e-4
    )
    assert complex(found.conversion[0]) == pytest.approx(nodal_voltage_at_load(frequency, 1, 1), rel=1e-4)


def test_shapes() -> None:
    chain = line_chain(LINE, np.logspace(1, 5, 7))
    assert chain.shape == (7, 4, 4)
    assert gains(CIRCUIT, chain, np.ones((2, 3)), 0.0).conversion.shape == (2, 3, 7)


def test_a_cable_without_length_is_nothing() -> None:
    none = Line(0.0, 0.08, 1e-4, 0.02, 0.7e-6, 100e-12, 200e-12)
    np.testing.assert_array_equal(line_chain(none, [1e3])[0], np.eye(4))


def test_two_halves_make_a_whole() -> None:
    half = Line(25.0, 0.08, 1e-6, 0.02, 0.7e-6, 100e-12, 200e-12)
    chain = line_chain(half, [20e3])
    np.testing.assert_allclose(chain @ chain, line_chain(LINE, [20e3]), rtol=1e-9, atol=1e-15)


def test_out_of_range_is_refused() -> None:
    for frequency in (0.0, -50.0, 1e6, float("nan")):
        with pytest.raises(ArgumentFault):
            line_chain(LINE, [frequency])
    endless = Line(1e5, 100.0, 1e-6, 0.0, 0.0, 1e-6, 1e-6)
    with pytest.raises(ArgumentFault, match="shorter"):
        line_chain(endless, [20e3])
