import numpy as np
import pytest

from ohmsworth.errors import ArgumentFault, QuantityFault, UnknownName
from ohmsworth.materials import (
    Conductor,
    awg_diameter,
    conductor_from_text,
    conductor_of_area,
    equivalent_length,
    in_parallel,
    maximum_resistance,
    resistance_per_metre,
    resistance_ratio,
    skin_depth,
    stranded,
    temperature_factor,
    twist_factor,
    with_lay,
)


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("24 AWG", "24 AWG"),
        ("AWG 24", "24 AWG"),
        ("awg24", "24 AWG"),
        ("AWG #24", "24 AWG"),
        ("4/0 AWG", "4/0 AWG"),
        ("AWG 0000", "4/0 AWG"),
        ("1/0 AWG", "0 AWG"),
        ("0 AWG", "0 AWG"),
        ("0.22 mm²", "0.22 mm²"),
        ("0,5 mm2", "0.5 mm²"),
        ("2.5\u00a0mm²", "2.5 mm²"),
        ("28 x 0.10 mm", "28 × 0.1 mm"),
        ("28×0,10mm", "28 × 0.1 mm"),
        ("28/0.10 mm", "28 × 0.1 mm"),
        ("7 X 160 µm", "7 × 0.16 mm"),
        ("1 x 0.511 mm", "1 × 0.511 mm"),
        ("2 wires of 0.20 mm2", "2 wires of 0.2 mm²"),
        ("2 Wires of 19 x 0.12 mm", "2 wires of 19 × 0.12 mm"),
        ("24 AWG + 2 %", "24 AWG + 2 % lay"),
        ("2 wires of 24 AWG + 2,5 % lay", "2 wires of 24 AWG + 2.5 % lay"),
        ("0.22 mm² + 0 % lay", "0.22 mm²"),
    ],
)
def test_the_ways_people_write_a_conductor(text: str, name: str) -> None:
    conductor = conductor_from_text(text)
    assert conductor.name == name
    assert conductor_from_text(name) == conductor


@pytest.mark.parametrize(
    ("text", "error"),
    [
        ("", UnknownName),
        ("copper", UnknownName),
        ("57 AWG", QuantityFault),
        ("9/0 AWG", QuantityFault),
        ("-3 AWG", QuantityFault),
        ("24.5 AWG", QuantityFault),
        ("24 AWG AWG", QuantityFault),
        ("0 mm²", QuantityFault),
        ("-0.5 mm²", QuantityFault),
        ("5000 mm²", QuantityFault),
        ("0.22", QuantityFault),
        ("0.22 mm", QuantityFault),
        ("2 x 2.5 mm²", QuantityFault),  # the cable, not its conductor
        ("2 x 2.5 mm", QuantityFault),
        ("3 x 0.75 mm", QuantityFault),
        ("2 x 24 AWG", QuantityFault),
        ("7 x 1.5 mm", QuantityFault),
        ("7 x 0.001 mm", QuantityFault),
        ("0 x 0.1 mm", QuantityFault),
        ("99999 x 0.1 mm", QuantityFault),
        ("28 x 0.10", QuantityFault),
        ("28 x 2 x 0.10 mm", QuantityFault),
        ("1 wires of 24 AWG", QuantityFault),
        ("2 wires of copper", UnknownName),
        ("2 wires of 2 wires of 24 AWG", QuantityFault),
        ("24 AWG + 50 %", QuantityFault),
        ("24 AWG + 1,234 %", QuantityFault),
        ("24 AWG + 2", QuantityFault),
    ],
)
def test_what_is_not_a_conductor_is_refused(text: str, error: type[Exception]) -> None:
    with pytest.raises(error):
        conductor_from_text(text)


def test_areas_are_nominal_copper() -> None:
    assert conductor_from_text("0.5 mm²").resistance_per_metre == pytest.approx(1 / 58e6 / 0.5e-6)


def test_a_size_that_is_not_listed_has_no_maximum() -> None:
    with pytest.raises(ArgumentFault, match=r"0\.75"):
        maximum_resistance(0.22e-6)
    with pytest.raises(ArgumentFault, match="flexible"):
        maximum_resistance(1e-6, conductor_class=4)
    with pytest.raises(ArgumentFault, match="plain"):
        maximum_resistance(25e-6, conductor_class=1, tinned=True)


def test_a_refused_cable_is_told_how_to_write_its_conductor() -> None:
    with pytest.raises(QuantityFault, match=r"write 2\.5 mm².*2 wires of"):
        conductor_from_text("2 x 2.5 mm²")


def test_strands_have_the_copper_of_each() -> None:
    """28 × 0.10 mm is sold as 0.22 mm², 7 × 0.20 mm as 0.22 mm², 30 × 0.25 mm as 1.5 mm²."""
    for text, area in (("28 x 0.10 mm", 0.22), ("7 x 0.20 mm", 0.22), ("30 x 0.25 mm", 1.5)):
        conductor = conductor_from_text(text)
        assert conductor.area * 1e6 == pytest.approx(area, rel=0.02)
        assert conductor.resistance_per_metre == pytest.approx(1 / 58e6 / conductor.area)
    assert stranded(7, 0.2e-3).diameter == pytest.approx(3 * 0.2e-3, rel=0.02)  # a hexagon
    assert stranded(19, 0.2e-3).diameter == pytest.approx(5 * 0.2e-3, rel=0.02)
    assert stranded(1, 0.2e-3).diameter == 0.2e-3


def test_wires_in_parallel_share_the_current() -> None:
    one = conductor_from_text("0.20 mm²")
    two = in_parallel(one, 2)
    assert two.area == 2 * one.area
    assert two.resistance_per_metre == one.resistance_per_metre / 2
    assert two.wires == 2


def test_lay_makes_a_wire_longer_and_no_thicker() -> None:
    straight = conductor_from_text("24 AWG")
    laid = with_lay(with_lay(straight, 0.02), 0.01)
    assert laid.resistance_per_metre == pytest.approx(1.0302 * straight.resistance_per_metre)
    assert laid.lay == pytest.approx(0.0302)
    assert (laid.area, laid.diameter) == (straight.area, straight.diameter)
    assert laid.name == "24 AWG + 3.02 % lay"
    assert with_lay(straight, 0.0) == straight


def test_twist_factor_is_the_length_of_a_helix() -> None:
    turn = np.linspace(0, 2 * np.pi, 20_001)
    pitch, diameter = 30e-3, 1.4e-3
    points = np.array([diameter / 2 * np.cos(turn), diameter / 2 * np.sin(turn), pitch * turn / (2 * np.pi)])
    length = np.linalg.norm(np.diff(points, axis=1), axis=0).sum()
    assert twist_factor(pitch, diameter) == pytest.approx(length / pitch, rel=1e-8)


def test_equivalent_length_of_an_array() -> None:
    conductor = conductor_from_text("0.22 mm²")
    metre = resistance_per_metre(conductor, 313.15)
    lengths = equivalent_length(np.array([[0.0, metre], [2 * metre, -metre]]), conductor, 313.15)
    np.testing.assert_allclose(lengths, [[0, 1], [2, -1]], rtol=1e-12)
    assert isinstance(equivalent_length(0.003, conductor, 293.15), float)


def test_out_of_range_is_refused() -> None:
    conductor = conductor_of_area(1e-6, "1 mm²")
    for call in (
        lambda: awg_diameter(57),
        lambda: conductor_of_area(1e-12, "too thin"),
        lambda: temperature_factor(20.0),  # degrees Celsius by mistake
        lambda: temperature_factor(float("nan")),
        lambda: equivalent_length(float("nan"), conductor, 293.15),
        lambda: Conductor("none", 1e-6, 0.0),
        lambda: stranded(0, 1e-4),
        lambda: stranded(7, 2e-3),
        lambda: in_parallel(conductor, 1),
        lambda: in_parallel(in_parallel(conductor, 2), 2),
        lambda: with_lay(conductor, 2.0),  # per cent by mistake
        lambda: with_lay(conductor, float("nan")),
        lambda: twist_factor(0.0, 1e-3),
        lambda: twist_factor(0.03, -1e-3),
        lambda: skin_depth(0.0),
        lambda: skin_depth(50.0, resistivity=-1.0),
        lambda: resistance_ratio(-1.0),
    ):
        with pytest.raises(ArgumentFault):
            call()


def test_resistance_ratio_limits() -> None:
    """1 for a thin wire; for a thick one the current flows in a skin: a/2δ + 1/4."""
    assert resistance_ratio(0.0) == 1
    assert resistance_ratio(0.0101) == pytest.approx(1, abs=1e-9)
    assert resistance_ratio(500.0) == pytest.approx(250.25, rel=1e-5)
