"""What the text of a netlist describes, found by reading it again and solving it densely."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.unit.report.nodal import Circuit

from ohmsworth.consequence.losses import insertion_loss
from ohmsworth.consequence.twoport import cascade, series, shunt
from ohmsworth.errors import ArgumentFault
from ohmsworth.report.lumped import LumpedLine, lumped_sections, number_of_sections
from ohmsworth.report.netlist import Card, Controlled, Coupling, Drive, Part, Sweep, netlist

FREQUENCIES = np.logspace(1, 7, 13)
EMF = Drive("V", "source", "emf", "0", 1.0)


def gains(cards: list[Card], node: str, frequencies: np.ndarray = FREQUENCIES) -> np.ndarray:
    circuit = Circuit(netlist("test", cards))
    return np.array([circuit.solve(f)[node] for f in frequencies])


# ------------------------------------------------------------ the circuit that the text describes


def test_two_poles_of_a_resonant_low_pass() -> None:
    """1/(1 + sRC + s²LC), worked out by hand."""
    r, coil, c = 47.0, 2.2e-3, 1e-9
    cards = [
        EMF,
        Part("R", "1", "emf", "a", r),
        Part("L", "1", "a", "out", coil),
        Part("C", "1", "out", "0", c),
    ]
    s = 2j * np.pi * FREQUENCIES
    np.testing.assert_allclose(gains(cards, "out"), 1 / (1 + s * r * c + s**2 * coil * c), rtol=1e-9)


def test_two_poles_apart_by_a_controlled_source() -> None:
    """3/((1 + sR1C1)(1 + sR2C2)): the second pole does not load the first."""
    cards = [
        EMF,
        Part("R", "1", "emf", "a", 1e3),
        Part("C", "1", "a", "0", 1e-8),
        Controlled("buffer", "b", "0", "a", "0", 3.0),
        Part("R", "2", "b", "out", 2e4),
        Part("C", "2", "out", "0", 1e-7),
    ]
    s = 2j * np.pi * FREQUENCIES
    np.testing.assert_allclose(gains(cards, "out"), 3 / (1 + s * 1e-5) / (1 + s * 2e-3), rtol=1e-9)


def test_a_transformer() -> None:
    """Two coupled coils by their impedance matrix: V2/E with the source resistance and the load, by hand."""
    rs, load, l1, l2, k = 150.0, 600.0, 0.5, 2.0, 0.97
    cards = [
        EMF,
        Part("R", "source", "emf", "primary", rs),
        Part("L", "first winding", "primary", "0", l1),
        Part("L", "second winding", "secondary", "0", l2),
        Coupling("core", "first winding", "second winding", k),
        Part("R", "load", "secondary", "0", load),
    ]
    s = 2j * np.pi * FREQUENCIES
    mutual = k * math.sqrt(l1 * l2)
    current = 1 / (rs + s * l1 - (s * mutual) ** 2 / (load + s * l2))
    np.testing.assert_allclose(
        gains(cards, "secondary"), s * mutual * current * load / (load + s * l2), rtol=1e-9
    )


def test_a_current_runs_inside_its_source_from_plus_to_minus() -> None:
    cards = [Drive("I", "noise", "0", "a", 2e-3, 90.0), Part("R", "1", "a", "0", 50.0)]
    np.testing.assert_allclose(gains(cards, "a"), 0.1j, atol=1e-16)


def test_a_contact_of_zero_ohm_is_exact_and_no_resistor() -> None:
    cards = [
        EMF, Part("R", "contact", "emf", "a", 0.0), Part("L", "none", "a", "b", 0.0), Part("R", "load", "b", "0", 1.0),
    ]  # fmt: skip
    text = netlist("test", cards)
    assert "VR_contact emf a dc 0\n" in text
    assert "VL_none a b dc 0\n" in text
    np.testing.assert_array_equal(gains(cards, "b"), 1)


ohms = st.floats(1e-3, 1e4)
rungs = st.lists(st.tuples(ohms, st.floats(1e-9, 1e-3), st.floats(1e-13, 1e-6), ohms), min_size=1, max_size=5)


@given(rungs, ohms, ohms)
def test_a_ladder_loses_what_its_chain_matrix_does(
    ladder: list[tuple[float, float, float, float]], source: float, load: float
) -> None:
    cards: list[Card] = [EMF, Part("R", "source", "emf", "0 in", source)]
    f = np.array([20.0, 1e3, 20e3])
    s = 2j * np.pi * f
    whole = series(f, 0.0)
    for i, (r, coil, c, across) in enumerate(ladder):
        node, after = f"{i} in", f"{i + 1} in"
        cards += [Part("R", f"{i}", node, f"{i} mid", r), Part("L", f"{i}", f"{i} mid", after, coil)]
        cards += [Part("C", f"{i}", after, "0", c), Part("R", f"across {i}", after, "0", across)]
        whole = cascade(whole, series(f, r + s * coil), shunt(f, s * c + 1 / across))
    last = f"n{len(ladder)}_in"
    cards.append(Part("R", "load", f"{len(ladder)} in", "0", load))
    straight = load / (source + load)
    loss = -20 * np.log10(np.abs(gains(cards, last, f)) / straight)
    np.testing.assert_allclose(loss, insertion_loss(whole, source, load), rtol=1e-6, atol=1e-9)


# ------------------------------------------------------------ a line in sections

LINES = {
    "video": {"series_r": 0.12, "series_l": 0.38e-6, "shunt_c": 67e-12, "shunt_g": 0.0},
    "telephone": {"series_r": 0.17, "series_l": 0.0, "shunt_c": 50e-12, "shunt_g": 1e-10},
    "lossless": {"series_r": 0.0, "series_l": 0.38e-6, "shunt_c": 67e-12, "shunt_g": 0.0},
    "leaky": {"series_r": 5.0, "series_l": 1e-6, "shunt_c": 100e-12, "shunt_g": 1e-4},
}


def chain(line: dict[str, float], length: float, frequency: float) -> np.ndarray:
    """cosh and sinh of the line itself."""
    omega = 2j * np.pi * frequency
    z, y = line["series_r"] + omega * line["series_l"], line["shunt_g"] + omega * line["shunt_c"]
    angle, impedance = np.sqrt(z * y) * length, np.sqrt(z / y)
    return np.array(
        [[np.cosh(angle), impedance * np.sinh(angle)], [np.sinh(angle) / impedance, np.cosh(angle)]]
    )


def measured(lumped: LumpedLine, frequency: float) -> np.ndarray:
    """Chain matrix of the sections, from what their text gives with two unlike loads."""
    near, far = [], []
    for load in (1.0, 1e3):
        cards = [
            EMF,
            Part("R", "probe", "emf", "near", 1.0),
            *lumped.cards,
            Part("R", "load", "far", "0", load),
        ]
        found = Circuit(netlist("test", cards)).solve(frequency)
        near.append([found["near"], found["emf"] - found["near"]])
        far.append([found["far"], found["far"] / load])
    return np.array(near).T @ np.linalg.inv(np.array(far).T)


@pytest.mark.parametrize("name", LINES)
@pytest.mark.parametrize("length", [0.5, 30.0, 400.0])
def test_the_sections_are_the_line_to_the_stated_error(name: str, length: float) -> None:
    line, highest = LINES[name], 1e6
    lumped = lumped_sections("line", "near", "far", **line, length=length, highest_frequency=highest)
    assert lumped.sections == number_of_sections(**line, length=length, highest_frequency=highest)
    assert lumped.propagation_error <= 0.00417
    assert lumped.impedance_error <= 0.01258
    for frequency in (1e6, 3e5):
        m = measured(lumped, frequency)
        true = chain(line, length, frequency)
        # Image parameters of what was measured: cosh of the whole line, and its characteristic impedance.
        impedance = np.sqrt(m[0, 1] / m[1, 0])
        assert (
            abs(impedance / np.sqrt(true[0, 1] / true[1, 0]) - 1)
            <= lumped.impedance_error * (1 + 1e-6) + 1e-6
        )
        omega = 2j * np.pi * frequency
        gamma = np.sqrt(
            (line["series_r"] + omega * line["series_l"]) * (line["shunt_g"] + omega * line["shunt_c"])
        )
        angle = gamma * length
        # e^(γ'l) turns and loses as e^(γl) does, but for the stated share of γl.
        grown = (m[0, 0] + m[0, 1] / impedance) / np.exp(angle)
        assert abs(np.log(grown)) <= abs(angle) * lumped.propagation_error * (1 + 1e-6) + 1e-5


def test_the_stated_errors_are_reached_by_a_line_without_loss() -> None:
    line, length = LINES["lossless"], 400.0
    lumped = lumped_sections("line", "near", "far", **line, length=length, highest_frequency=1e6)
    m = measured(lumped, 1e6)
    impedance = np.sqrt(m[0, 1] / m[1, 0])
    assert abs(impedance) / np.sqrt(0.38e-6 / 67e-12) - 1 == pytest.approx(lumped.impedance_error, rel=1e-3)
    turn = 2 * np.pi * 1e6 * np.sqrt(0.38e-6 * 67e-12) * length
    phase = np.angle((m[0, 0] + m[0, 1] / impedance) * np.exp(-1j * turn))
    assert phase / turn == pytest.approx(lumped.propagation_error, rel=1e-3)


def test_the_error_falls_with_the_square_of_frequency() -> None:
    line = LINES["video"]
    lumped = lumped_sections("line", "near", "far", **line, length=100.0, highest_frequency=4e6)
    error = [
        abs(np.linalg.norm((measured(lumped, f) - chain(line, 100.0, f)) * [[1, 1 / 75], [75, 1]]) / f)
        for f in (1e6, 2e6)
    ]
    assert error[1] / error[0] == pytest.approx(4, rel=0.15)  # of the phase, which grows with f itself


@pytest.mark.parametrize("name", LINES)
def test_twenty_sections_a_wavelength(name: str) -> None:
    line, highest, length = LINES[name], 2e6, 1000.0
    omega = 2j * np.pi * highest
    gamma = np.sqrt(
        (line["series_r"] + omega * line["series_l"]) * (line["shunt_g"] + omega * line["shunt_c"])
    )
    wavelengths = abs(gamma.imag) * length / (2 * np.pi)
    sections = number_of_sections(**line, length=length, highest_frequency=highest)
    assert sections >= 20 * wavelengths
    if name == "lossless":
        assert sections == math.ceil(20 * wavelengths)
    assert number_of_sections(**line, length=1e-3, highest_frequency=highest) == 1


def test_a_line_may_return_by_another_conductor() -> None:
    # Its far end, and the screen that it returns by, are both 10 ohm from where they began.
    line = lumped_sections(
        "line", "emf", "far", series_r=1.0, series_l=0, shunt_c=0, shunt_g=1e-12, length=10.0, highest_frequency=1e3,
        back="screen",
    )  # fmt: skip
    cards = [
        EMF,
        *line.cards,
        Part("R", "screen", "screen", "0", 10.0),
        Part("R", "load", "far", "screen", 20.0),
    ]
    found = Circuit(netlist("test", cards)).solve(1e3)
    assert found["far"] - found["screen"] == pytest.approx(0.5, rel=1e-9)


@pytest.mark.parametrize(
    ("change", "name"),
    [
        ({"series_r": -1.0}, "series_r"),
        ({"series_r": 0.0, "series_l": 0.0}, "series_r"),
        ({"shunt_c": math.nan}, "shunt_c"),
        ({"length": 0.0}, "length"),
        ({"length": 1e6}, "length"),
        ({"highest_frequency": math.inf}, "highest_frequency"),
    ],
)
def test_what_is_no_line_is_refused(change: dict[str, float], name: str) -> None:
    values = {**LINES["video"], "length": 10.0, "highest_frequency": 1e6, **change}
    with pytest.raises(ArgumentFault, match=f"^{name}"):
        number_of_sections(**values)


# ------------------------------------------------------------ the text


def test_the_text_of_a_small_circuit() -> None:
    line = lumped_sections(
        "lead",
        "hot",
        "out",
        series_r=0.1,
        series_l=0,
        shunt_c=1e-10,
        shunt_g=0,
        length=2.0,
        highest_frequency=20e3,
    )
    cards = [
        EMF,
        Part("R", "contact −", "emf", "hot", 3e-3),
        *line.cards,
        Part("R", "Load", "out", "0", 10e3),
    ]
    text = netlist("Lead 3, 20 °C", cards, Sweep(20, 20e3, 10), ("out",), (line.remark,))
    assert text == (
        "Lead 3, 20 deg C\n"
        "* a line in 1 section: up to 20000 Hz its phase and loss are right to 0.01 % and its characteristic impedance to "
        "0.01 %; resistance does not rise with frequency here\n"
        "* ohm, farad, henry, volt, ampere; node 0 is what voltages are told against\n"
        "V_source emf 0 dc 0 ac 1e+00 0e+00\n"
        "R_contact_minus emf hot 3e-03\n"
        "C_lead_0 hot 0 1e-10\n"
        "R_lead_1 hot out 2e-01\n"
        "C_lead_1 out 0 1e-10\n"
        "R_load out 0 1e+04\n"
        ".ac dec 10 2e+01 2e+04\n"
        ".print ac vm(out) vp(out)\n"
        ".end\n"
    )
    assert Circuit(text).sweep() == (10, 20.0, 20e3)


def test_unlike_names_stay_unlike_and_are_told() -> None:
    names = ["leg +", "leg −", "leg -", "LEG-", "leg_minus", "GND", "12", "Ω", "µ", "", "a" * 60, "a" * 61]
    cards: list[Card] = [EMF, Part("R", "0", "emf", names[0], 1.0)]
    cards += [Part("R", f"{i + 1}", a, b, 1.0) for i, (a, b) in enumerate(pairwise(names))]
    cards.append(Part("R", "end", names[-1], "0", 1.0))
    text = netlist("names", cards)
    circuit = Circuit(text)
    assert len(circuit.nodes) == len(names) + 1
    # Thirteen like resistors in a row: each node a step lower.
    found = circuit.solve(1e3)
    steps = sorted((abs(v) for v in found.values()), reverse=True)
    np.testing.assert_allclose(steps, np.linspace(1, 0, 14), atol=1e-12)
    told = [line for line in text.splitlines() if line.startswith(("* node n", "* node leg"))]
    assert told == [
        "* node leg_plus is leg +",
        "* node leg_minus is leg -",
        "* node leg_minus_2 is leg -",
        "* node leg_minus_3 is LEG-",
        "* node leg_minus_4 is leg_minus",
        "* node n12 is 12",
        "* node n is ohm",
        "* node n_2 is u",
        "* node n_3 is ",
    ]
    assert "* node gnd_2 is GND\n" in text


def test_a_title_of_several_lines_is_one() -> None:
    text = netlist("a\n.end\nΩ ☃", [EMF, Part("R", "1", "emf", "0", 1.0)], remarks=("one\n.ac\n*two",))
    assert text.splitlines()[:4] == ["a .end ohm ?", "* one", "* .ac", "* *two"]
    assert netlist(" ", [EMF, Part("R", "1", "emf", "0", 1.0)]).startswith("circuit\n")


LOAD = Part("R", "load", "emf", "0", 1.0)


@pytest.mark.parametrize(
    ("cards", "told"),
    [
        ([Part("R", "load", "a", "0", 1.0), LOAD], "R load twice"),
        ([Part("R", "x", "emf", "0", -1.0)], "-1.0 for R x"),
        ([Part("C", "x", "emf", "0", math.nan)], "nan for C x"),
        ([Drive("I", "x", "emf", "0", math.inf)], "for I x"),
        ([Drive("I", "x", "emf", "0", 1.0, math.nan)], "for I x"),
        ([Controlled("x", "a", "0", "emf", "0", math.nan)], "nan for E x"),
        ([Coupling("x", "p", "q", 0.5)], r"\('p', 'q'\) for K x"),
        ([Part("L", "p", "emf", "0", 1.0), Coupling("x", "p", "p", 0.5)], "for K x"),
        (
            [Part("L", "p", "emf", "a", 1.0), Part("L", "q", "a", "0", 0.0), Coupling("x", "p", "q", 1)],
            "for K x",
        ),
        ([Coupling("x", "p", "q", 1.1)], "1.1 for K x"),
        ([Part("C", "x", "emf", "a", 1.0)], "node a without one"),
        ([Controlled("x", "a", "0", "b", "0", 1.0)], "node b without one"),
        ([Drive("I", "x", "a", "b", 1.0)], "node a without one"),
        ([Part("L", "x", "emf", "0", 1.0)], "L x in a loop"),
        ([Part("R", "x", "emf", "0", 0.0)], "R x in a loop"),
        ([Drive("V", "x", "emf", "0", 1.0)], "V x in a loop"),
        ([Controlled("x", "a", "a", "emf", "0", 1.0)], "E x in a loop"),
    ],
)
def test_what_a_simulator_would_stop_at_is_refused_by_name(cards: list[Card], told: str) -> None:
    with pytest.raises(ArgumentFault, match=told):
        netlist("test", [EMF, LOAD, *cards])


def test_sweeps_and_watched_nodes_are_held_to_sense() -> None:
    for values in ((0.0, 1.0, 1), (2.0, 1.0, 1), (1.0, math.inf, 1), (1.0, 2.0, 0)):
        with pytest.raises(ArgumentFault):
            Sweep(*values)
    for node in ("nowhere", "0"):
        with pytest.raises(ArgumentFault, match="watched"):
            netlist("test", [EMF, LOAD], watched=(node,))
