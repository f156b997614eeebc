"""Lines that lose more than a chain matrix can hold: against a ladder of networks, joined at ports one after the other."""

import numpy as np
import numpy.typing as npt
import pytest

from ohmsworth.consequence.circuit import (
    CableConstants,
    Circuit,
    Contact,
    Line,
    Resistor,
    VoltageSource,
    Volts,
    cable_of,
    plain_resistance,
    respond,
    transfers,
)
from ohmsworth.consequence.circuit.cable import series_impedance, shunt_admittance
from ohmsworth.errors import ArgumentFault

Complex = npt.NDArray[np.complex128]
COAX = cable_of(
    [plain_resistance(30.0), plain_resistance(0.1)], [375e-9, 0], [[0, 67e-12], [67e-12, 0]], 0, 1e-6
)
THREE = cable_of(
    [plain_resistance(30.0), plain_resistance(30.0), plain_resistance(0.1)],
    [375e-9, 375e-9, 0],
    [[0, 20e-12, 67e-12], [20e-12, 0, 67e-12], [67e-12, 67e-12, 10e-12]],
)
HERTZ = 1e6


def seen_from(cable: CableConstants, length: float, end: Complex) -> Complex:
    """Impedance matrix of a length of cable that is ended with the matrix `end`, its inverse told: by halves of a thin slice.

    A slice is its series impedance between two halves of its shunt admittance; each step is an inverse of small matrices, and
    nothing grows.
    """
    z, y = (m(cable, np.array([HERTZ]))[0] for m in (series_impedance, shunt_admittance))
    slices = 40000
    admittance = end
    for _ in range(slices):
        admittance = admittance + y * length / slices / 2
        admittance = np.linalg.inv(np.linalg.inv(admittance) + z * length / slices)
        admittance = admittance + y * length / slices / 2
    return admittance


@pytest.mark.parametrize("length", [200.0, 600.0])
def test_what_is_near_does_not_feel_how_lossy_the_far_end_is(length: float) -> None:
    """Of 200 m 0.2 neper a metre leaves 16 digits nothing; the screen joins both ends all the same."""
    nodes = ("a", "b", "c"), ("u", "v", "w")
    ends = (Resistor("u", "w", 75.0), Resistor("v", "w", 100.0), Resistor("w", "0", 1.0))
    start = (
        VoltageSource("in", "s"),
        Resistor("s", "a", 75.0),
        Resistor("b", "0", 50.0),
        Contact("k", "c", "0"),
    )
    circuit = Circuit((*start, Line(*nodes, THREE, length), *ends))
    asked = [Volts(node) for node in nodes[0]]
    found = np.array([respond(t, [[0.5]])[0, 0] for t in transfers(circuit, [HERTZ], {"in": 1.0}, asked)])
    g = [1 / 75.0, 1 / 100.0]
    far = np.array([[g[0], 0, -g[0]], [0, g[1], -g[1]], [-g[0], -g[1], g[0] + g[1] + 1]], dtype=complex)
    near = seen_from(THREE, length, far) + np.diag([1 / 75.0, 1 / 50.0, 1 / 0.5])
    np.testing.assert_allclose(found, np.linalg.solve(near, [1 / 75.0, 0, 0]), rtol=1e-5)


def test_what_reaches_the_far_end_falls_by_a_factor_a_metre() -> None:
    """Between matched ends of a line without a common mode the voltage is e^(−γl) at any length."""
    alone = cable_of([plain_resistance(30.0), plain_resistance(0.0)], [375e-9, 0], [[0, 67e-12], [67e-12, 0]])
    z = 30.0 + 2j * np.pi * HERTZ * 375e-9
    y = 2j * np.pi * HERTZ * 67e-12
    ohm = float(np.abs(np.sqrt(z / y)))
    levels = []
    for length in (100.0, 200.0, 300.0):
        line = Line(("a", "0"), ("b", "c"), alone, length)
        circuit = Circuit((VoltageSource("in", "s"), Resistor("s", "a", ohm), line, Resistor("b", "c", ohm)))
        (volts,) = transfers(circuit, [HERTZ], {"in": 1.0}, [Volts("b", "c")])
        levels.append(volts.ideal[0])
    step = np.exp(-np.sqrt(z * y) * 100.0)
    np.testing.assert_allclose([levels[1] / levels[0], levels[2] / levels[1]], step, rtol=1e-6)


def test_a_line_that_passes_nothing_is_refused_in_words() -> None:
    circuit = Circuit(
        (VoltageSource("in", "a"), Line(("a", "0"), ("b", "c"), COAX, 5e3), Resistor("b", "c", 75.0))
    )
    with pytest.raises(ArgumentFault, match=r"length: got 5000\.0, wanted a shorter cable"):
        transfers(circuit, [HERTZ], {"in": 1.0}, [Volts("b", "c")])
