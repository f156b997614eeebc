"""Touchstone files: read from and written to scikit-rf, and refused in words."""

from pathlib import Path

import numpy as np
import pytest
import skrf

from ohmsworth import wiring
from ohmsworth.adapters.files import read_touchstone, write_touchstone
from ohmsworth.consequence.scattering import scattering_from_chain
from ohmsworth.consequence.twoport import OnePort, TwoPort, cascade, series, shunt
from ohmsworth.errors import ArgumentFault, Fault, InputRefused
from ohmsworth.work.ports import LoadedNetwork

FREQUENCY = np.array([0.0, 1e3, 2.5e4, 1e6, 7.7e7])
OMEGA = 2j * np.pi * FREQUENCY
S = np.array([[0.1 + 0.2j, 0.3 - 0.4j], [0.5 + 0.25j, -0.6 + 0.7j]])


def lopsided() -> TwoPort:
    """A two-port with four unlike parameters against any reference."""
    return cascade(series(FREQUENCY, 3 + OMEGA * 4e-7), shunt(FREQUENCY, 2e-3 + OMEGA * 9e-11))


def read(folder: Path, text: str | bytes, name: str = "a.s2p") -> LoadedNetwork:
    path = folder / name
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return read_touchstone(path)


def scattering(loaded: LoadedNetwork) -> np.ndarray:
    assert isinstance(loaded.network, TwoPort)
    return scattering_from_chain(loaded.network.chain, loaded.reference_resistance)


def faults(folder: Path, text: str | bytes, name: str = "a.s2p") -> tuple[Fault, ...]:
    with pytest.raises(InputRefused) as refused:
        read(folder, text, name)
    for fault in refused.value.faults:
        assert all((fault.where, fault.found, fault.expected, fault.mend))
    return refused.value.faults


# ------------------------------------------------------------ with scikit-rf, both ways


@pytest.mark.parametrize("form", ["ri", "ma", "db"])
@pytest.mark.parametrize("unit", ["Hz", "kHz", "MHz", "GHz"])
@pytest.mark.parametrize("version", ["1.0", "2.0", "2.1"])
def test_what_scikit_rf_writes_is_read(tmp_path: Path, form: str, unit: str, version: str) -> None:
    frequency = skrf.Frequency.from_f([1e5, 2e6, 3e9], unit="hz")
    frequency.unit = unit
    drawn = np.random.default_rng(3).uniform(-0.7, 0.7, (2, 3, 2, 2))
    network = skrf.Network(frequency=frequency, s=drawn[0] + 1j * drawn[1], z0=75)
    text = network.write_touchstone("a.s2p", return_string=True, form=form, version=version)
    loaded = read(tmp_path, text)
    assert loaded.reference_resistance == (75.0, 75.0)
    np.testing.assert_allclose(loaded.network.frequency, network.f, rtol=1e-14)
    np.testing.assert_allclose(scattering(loaded), network.s, rtol=1e-11, atol=1e-14)


def test_one_port_of_scikit_rf(tmp_path: Path) -> None:
    network = skrf.Network(f=[1e6, 2e6], f_unit="hz", s=np.array([0.3 + 0.1j, 1.0]).reshape(2, 1, 1), z0=50)
    loaded = read(tmp_path, network.write_touchstone("a", return_string=True), "a.S1P")
    assert isinstance(loaded.network, OnePort)
    np.testing.assert_array_equal(loaded.network.reflection, [0.3 + 0.1j, 1.0])
    assert loaded.reference_resistance == (50.0,)


def test_unlike_references_of_scikit_rf(tmp_path: Path) -> None:
    network = skrf.Network(f=[1e6], f_unit="hz", s=S[None], z0=[50, 75])
    loaded = read(tmp_path, network.write_touchstone("a", return_string=True, version="2.0"))
    assert loaded.reference_resistance == (50.0, 75.0)
    assert isinstance(loaded.network, TwoPort)
    np.testing.assert_allclose(loaded.network.chain, network.a, rtol=1e-12)


@pytest.mark.parametrize("parameter", ["Y", "Z"])
def test_admittance_and_impedance_of_scikit_rf(tmp_path: Path, parameter: str) -> None:
    # Version 2 has them in siemens and ohm; in version 1 they agree with R 1 alone, see below for others.
    network = skrf.Network(f=[1e6, 2e6], f_unit="hz", s=np.stack((S, S.T)), z0=50)
    text = network.write_touchstone("a", return_string=True, parameter=parameter, version="2.0")
    np.testing.assert_allclose(read(tmp_path, text).network.chain, network.a, rtol=1e-11)
    network.renormalize(1)
    text = network.write_touchstone("a", return_string=True, parameter=parameter, r_ref=1)
    assert f" {parameter} RI R 1" in text
    np.testing.assert_allclose(read(tmp_path, text).network.chain, network.a, rtol=1e-11)


@pytest.mark.parametrize("reference", [50.0, 75.0, (50.0, 75.0)])
def test_what_is_written_scikit_rf_reads(tmp_path: Path, reference: float | tuple[float, float]) -> None:
    (tmp_path / "out.s2p").write_bytes(
        write_touchstone(lopsided(), reference, ("Ω and ! and\nanother line",))
    )
    found = skrf.Network(tmp_path / "out.s2p")
    np.testing.assert_array_equal(found.f, FREQUENCY)
    np.testing.assert_array_equal(found.z0, np.broadcast_to(reference, (5, 2)))
    np.testing.assert_array_equal(found.s, scattering_from_chain(lopsided().chain, reference))
    np.testing.assert_allclose(found.a[1:], lopsided().chain[1:], rtol=1e-10)


def test_a_written_one_port_scikit_rf_reads(tmp_path: Path) -> None:
    one_port = OnePort(np.array([1e3, 1e6]), np.array([1, 0.25 - 0.125j]), 600.0)
    (tmp_path / "out.s1p").write_bytes(write_touchstone(one_port))
    found = skrf.Network(tmp_path / "out.s1p")
    np.testing.assert_array_equal(found.s[:, 0, 0], one_port.reflection)
    assert np.all(found.z0 == 600)


# ------------------------------------------------------------ what a file may look like


def test_orders_of_the_numbers(tmp_path: Path) -> None:
    numbers = "1 .1 .2 .5 .25 .3 -.4 -.6 .7"  # 11, 21, 12, 22
    np.testing.assert_allclose(scattering(read(tmp_path, f"# GHz S RI R 50\n{numbers}\n"))[0], S)
    head = "[Version] 2.0\n# RI\n[Number of Ports] 2\n[Two-Port Data Order] {}\n[Number of Frequencies] 1\n"
    for order, wanted in (("21_12", S), ("12_21", S.T)):
        text = head.format(order) + f"[Network Data]\n{numbers}\n[End]\n"
        np.testing.assert_allclose(scattering(read(tmp_path, text, "a.ts"))[0], wanted)


@pytest.mark.parametrize("parameter", ["Y", "Z"])
def test_version_1_takes_admittance_and_impedance_by_the_reference(tmp_path: Path, parameter: str) -> None:
    # y = Y R and z = Z/R. The same two-port, with its numbers in siemens or ohm against R 1, is read alike.
    matrix = np.linalg.inv(np.eye(2) - S) @ (np.eye(2) + S)  # z, and ohm for 1 ohm
    matrix = np.linalg.inv(matrix) if parameter == "Y" else matrix
    absolute = matrix / 50 if parameter == "Y" else matrix * 50

    def text(m: np.ndarray, reference: int) -> str:
        parts = [part for entry in m.T.ravel() for part in (entry.real, entry.imag)]
        return f"# Hz {parameter} RI R {reference}\n1e6 {' '.join(map(str, parts))}\n"

    found = read(tmp_path, text(matrix, 50))
    np.testing.assert_allclose(scattering(found)[0], S, rtol=1e-12)
    np.testing.assert_allclose(
        found.network.chain, read(tmp_path, text(absolute, 1)).network.chain, rtol=1e-12
    )


@pytest.mark.parametrize(
    ("parameter", "value", "wanted"), [("Z", 2.0, 1 / 3), ("Y", 2.0, -1 / 3), ("S", 0.25, 0.25)]
)
def test_a_one_port_against_its_reference(
    tmp_path: Path, parameter: str, value: float, wanted: float
) -> None:
    loaded = read(tmp_path, f"# kHz {parameter} RI R 75\n3 {value} 0\n", "a.s1p")
    assert isinstance(loaded.network, OnePort)
    assert loaded.network.reflection[0] == pytest.approx(wanted, rel=1e-14)
    assert loaded.network.frequency[0] == 3e3
    text = (
        f"[Version] 2.1\n# {parameter} RI\n[Number of Ports] 1\n[Number of Frequencies] 1\n[Reference]\n75\n"
    )
    value = {"Z": value * 75, "Y": value / 75}.get(parameter, value)
    loaded = read(tmp_path, f"{text}[Network Data]\n3 {value} 0\n[End]", "a.ts")
    assert isinstance(loaded.network, OnePort)
    assert loaded.network.reflection[0] == pytest.approx(wanted, rel=1e-14)


#: A file of version 2 with all the rest of what it may hold.
SPACIOUS = """[VERSION]  2.0
#RI R 75
[number  of ports]2
[Two-Port Data Order] 21_12
[Number of Frequencies] 1
[Reference] 50
50
[Matrix Format] full
[Begin Information]
[Owner] me
1 2 3
[End Information]
[Network Data]
1 .1 .2 .5 .25
.3 -.4 -.6 .7
"""


@pytest.mark.parametrize(
    "text",
    [
        "# ghz s ri r 50\n1 .1 .2 .5 .25 .3 -.4 -.6 .7",
        "#RI\n1 .1 .2 .5 .25 .3 -.4 -.6 .7\n",
        "\n! remark\n\t# R 50 RI S\n\n  1\t.1 .2 .5 .25 .3 -.4 -.6 .7 ! behind\n\n",
        "# RI\n1 .1 .2 .5 .25\n.3 -.4 -.6 .7",
        "# RI\n1\n.1 .2\n.5 .25\n! between\n.3 -.4\n-.6 .7\n",
        "# MHz RI\n1.0E+3 1e-1 2E-1 +.5 25e-2 .3 -.4 -.6 .7\x1a",
        "# Hz RI R 50 50\r\n1e9 .1 .2 .5 .25 .3 -.4 -.6 .7\r\n",
        "# RI\r1 .1 .2 .5 .25 .3 -.4 -.6 .7\r",
        "\ufeff# RI\n1 .1 .2 .5 .25 .3 -.4 -.6 .7\n",
        "! 50 Ω, 20 °C\n# RI\n1 .1 .2 .5 .25 .3 -.4 -.6 .7\n",
        "! 20 \xb0C, \x85 \x81\n# RI\n1 .1 .2 .5 .25 .3 -.4 -.6 .7\n".encode("latin-1"),
        "# RI\n1 .1 .2 .5 .25 .3 -.4 -.6 .7\n".encode("utf-16"),
        SPACIOUS,
    ],
)
def test_ways_of_writing_the_same(tmp_path: Path, text: str | bytes) -> None:
    loaded = read(tmp_path, text)
    np.testing.assert_allclose(scattering(loaded), S[None], rtol=1e-13)
    assert loaded.network.frequency.tolist() == [1e9]
    assert loaded.reference_resistance == (50.0, 50.0)
    assert not loaded.notes


def test_without_an_option_line_the_defaults_hold_and_are_told(tmp_path: Path) -> None:
    loaded = read(tmp_path, "2 .5 90 .5 0 .5 -90 .5 180\n")
    np.testing.assert_allclose(scattering(loaded)[0], [[0.5j, -0.5j], [0.5, -0.5]], atol=1e-15)
    assert loaded.network.frequency.tolist() == [2e9]
    assert loaded.notes == (
        "no option line: taken as GHz, S parameters, magnitude and angle, against 50 ohm",
    )


def test_what_is_left_aside_is_told(tmp_path: Path) -> None:
    text = "! Port Impedance 75 0\n# RI\n# MHz S DB\n1 .1 .2 .5 .25 .3 -.4 -.6 .7\n.5 .7 .6 69 .3\n2 .7 .6 69 .3\n"
    loaded = read(tmp_path, text)
    np.testing.assert_allclose(scattering(loaded), S[None], rtol=1e-13)
    assert loaded.notes == (
        "line 1: a remark tells of a port impedance; the option line is what counts",
        "line 3: a second option line does not count",
        "2 lines of noise parameters are left aside",
    )


def test_noise_of_version_2_is_left_aside(tmp_path: Path) -> None:
    text = (
        "[Version] 2.0\n# RI\n[Number of Ports] 2\n[Two-Port Data Order] 21_12\n[Number of Frequencies] 1\n"
        "[Number of Noise Frequencies] 1\n[Network Data]\n1 .1 .2 .5 .25 .3 -.4 -.6 .7\n[Noise Data]\n4 .7 .6 69 19\n[End]"
    )
    loaded = read(tmp_path, text, "a.ts")
    np.testing.assert_allclose(scattering(loaded), S[None], rtol=1e-13)
    assert loaded.notes == ("1 lines of noise parameters are left aside",)


# ------------------------------------------------------------ what is refused

ROW = "1 .1 .2 .5 .25 .3 -.4 -.6 .7\n"
V2 = "[Version] 2.0\n# RI\n[Number of Ports] 2\n[Two-Port Data Order] 21_12\n[Number of Frequencies] 1\n[Network Data]\n"


@pytest.mark.parametrize(
    ("text", "line", "found"),
    [
        (f"# THz\n{ROW}", 1, "'thz'"),
        (f"# H\n{ROW}", 1, "H parameters"),
        (f"# MHz GHz\n{ROW}", 1, "MHZ and GHZ"),
        (f"# R 50 R 75\n{ROW}", 1, "R and R"),
        (f"# RI R\n{ROW}", 1, "R without a number"),
        (f"# R 0\n{ROW}", 1, "'0'"),
        (f"# R -50\n{ROW}", 1, "'-50'"),
        (f"# R 50 50 50\n{ROW}", 1, "3 reference resistances"),
        (f"# Z R 50 75\n{ROW}", 1, "Z with several references"),
        (f"{ROW}# RI\n", 2, "an option line behind numbers"),
        (f"#\n{ROW}{ROW}", 3, "the frequency 1 behind 1"),
        (f"#\n{ROW}0.5 0 0 1 0 1 0 0 0\n", 3, "the frequency 0.5 behind 1"),
        ("#\n-1 0 0 1 0 1 0 0 0\n", 2, "the frequency -1"),
        ("#\n1 0 0 1 0 1 0 0\n", 2, "8 numbers"),
        ("#\n1 0 0 1 0 1 0 0 0 0\n", 2, "10 numbers"),
        ("#\n1\n", 2, "1 number"),
        (f"#\n{ROW}1 .7 .6 69 .3\n3 0\n", 4, "2 numbers among noise parameters"),
        ("#\n1 0 0 1,5 0 1 0 0 0\n", 2, "'1,5'"),
        ("#\n1 0 0 inf 0 1 0 0 0\n", 2, "'inf'"),
        ("#\n1 0 0 1_0 0 1 0 0 0\n", 2, "'1_0'"),
        ("#\n1 0 0 −1 0 1 0 0 0\n", 2, "'−1'"),
        ("#\n1 0 0 1e999 0 1 0 0 0\n", 2, "'1e999'"),
        ("# DB\n1 0 0 1e5 0 1 0 0 0\n", 2, "a size beyond belief"),
        ("#\n1 0 0 0 0 1 0 0 0\n", 2, "next to nothing passing (S21)"),
        ("# Z RI\n1 0 0 0 0 1 0 0 0\n", 2, "next to nothing passing (Z21)"),
        ("#\n1 0 0 1\x00 0 1 0 0 0\n", 2, "a NUL byte"),
        (V2.replace("[Version] 2.0\n", "") + ROW, 2, "[number of ports]"),
        (V2.replace("2.0", "3.0") + ROW, 1, "'3.0'"),
        (V2.replace("[Version] 2.0\n# RI\n", "# RI\n[Version] 2.0\n") + ROW, 2, "[Version] further down"),
        (V2.replace("[Two-Port Data Order] 21_12\n", "") + ROW, 5, "no [two-port data order]"),
        (V2.replace("21_12", "21") + ROW, 4, "'21'"),
        (V2.replace("Frequencies] 1", "Frequencies] 2") + ROW, 5, "2 frequencies announced and 1 there"),
        (V2.replace("Frequencies] 1", "Frequencies] one") + ROW, 5, "'one'"),
        (V2.replace("Ports] 2", "Ports] 1") + "1 0 0", 3, "1 ports in a file named .s2p"),
        (V2.replace("[Network Data]\n", "") + ROW, 6, "'1 .1 .2 .5 .25 .3 -.4 -.6 .7'"),
        (V2.replace("[Network", "[Matrix Format] Lower\n[Network") + ROW, 6, "'Lower'"),
        (V2.replace("[Network", "[Mixed-Mode Order] D2,3 C2,3\n[Network") + ROW, 6, "'[Mixed-Mode Order]'"),
        (V2.replace("[Network", "[Number of Ports] 2\n[Network") + ROW, 6, "[number of ports] again"),
        (V2.replace("[Network", "[Reference] 50 75 60\n[Network") + ROW, 6, "3 reference resistances"),
        (V2.replace("[Network", "[Reference\n[Network") + ROW, 6, "'[Reference'"),
        (V2 + ROW + "[End]\n" + ROW + ROW, 9, "'1 .1 .2 .5 .25 .3 -.4 -.6 .7'"),
        (V2.replace("Data]\n", "Data] 5\n") + ROW, 6, "'5'"),
        ("", 1, "no numbers"),
    ],
)
def test_one_slip_is_one_fault_at_its_line(tmp_path: Path, text: str, line: int, found: str) -> None:
    assert [(fault.where, fault.found) for fault in faults(tmp_path, text)] == [
        (f"a.s2p, line {line}", found)
    ]


def test_every_fault_is_told_at_once_and_in_the_order_of_the_file(tmp_path: Path) -> None:
    text = "# RI R x XHz\n1 0 0 1\n2 0 0 1 0 1 0 0 0\n2 0 0 1 0 1 0 0 0\n3 0 0 ? 0 1 0 0 0\n"
    assert [fault.where for fault in faults(tmp_path, text)] == [
        f"a.s2p, line {line}" for line in (1, 1, 1, 2, 4, 5)
    ]


@pytest.mark.parametrize(
    ("name", "found"),
    [
        ("a.s3p", "a file of 3 ports"),
        ("a.s12p", "a file of 12 ports"),
        ("a.txt", "the ending '.txt'"),
        ("a", "no ending"),
        ("a.s0p", "a file of 0 ports"),
    ],
)
def test_the_ending_tells_the_ports(tmp_path: Path, name: str, found: str) -> None:
    assert [(fault.where, fault.found) for fault in faults(tmp_path, f"#\n{ROW}", name)] == [(name, found)]


def test_an_ending_taken_for_another_is_told(tmp_path: Path) -> None:
    assert "name it .s1p or .s2p" in faults(tmp_path, "# RI\n1 .5 0\n2 .5 0\n", "a.s2p")[0].mend
    assert "name it .s1p or .s2p" in faults(tmp_path, f"# RI\n{ROW}", "a.s1p")[0].mend


def test_more_than_two_ports_told_by_the_file(tmp_path: Path) -> None:
    text = V2.replace("Ports] 2", "Ports] 4").replace("[Two-Port Data Order] 21_12\n", "") + "1 2 3\n"
    assert [fault.found for fault in faults(tmp_path, text, "a.ts")] == ["a file of 4 ports"]


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    for path, found in (
        (tmp_path / "none.s2p", "no such file"),
        (tmp_path, "a folder"),
        (tmp_path / "a\0.s2p", "no such file"),
        (tmp_path / ("a" * 300 + ".s2p"), "File name too long"),
    ):
        with pytest.raises(InputRefused) as refused:
            read_touchstone(path)
        assert refused.value.faults[0].found == found
        assert "study" not in str(refused.value)


def test_what_s_cannot_tell_is_not_written() -> None:
    endless = TwoPort(np.array([1.0]), np.zeros((1, 2, 2), complex))
    with pytest.raises(ArgumentFault, match="S without bounds"):
        write_touchstone(endless)
    with pytest.raises(ArgumentFault, match="reference_resistance"):
        write_touchstone(lopsided(), 0.0)


def test_the_text_speaks_for_itself(tmp_path: Path) -> None:
    one = series([50.0], 100.0)
    text = write_touchstone(one, 50.0, ("Lead 3, 20 °C", "")).decode("ascii")
    assert text == (
        "! Lead 3, 20 ?C\n! \n"
        "! Two ports, port 1 towards the source: real and imaginary parts in the order below.\n"
        "! frequency in Hz  S11  S21  S12  S22\n"
        "# Hz S RI R 50.0\n"
        "50.0 0.5 0.0 0.5 0.0 0.5 0.0 0.5 0.0\n"
    )
    wiring.write_file(tmp_path / "deep/out.s2p", wiring.as_touchstone(one, (50.0, 75.0)))
    loaded = wiring.load_network(tmp_path / "deep/out.s2p")
    assert loaded.reference_resistance == (50.0, 75.0)
    assert not loaded.notes
