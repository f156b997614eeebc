import numpy as np
import pytest

from ohmsworth.errors import ArgumentFault, QuantityFault, UnknownName
from ohmsworth.materials import (
    Conductor,
    awg_diameter,
    conductor_from_text,
    conductor_of_area,
    equivalent_length,
    maximum_class5,
    resistance_per_metre,
    resistance_ratio,
    skin_depth,
    temperature_factor,
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
    ],
)
def test_the_ways_people_write_a_conductor(text: str, name: str) -> None:
    assert conductor_from_text(text).name == name


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
    ],
)
def test_what_is_not_a_conductor_is_refused(text: str, error: type[Exception]) -> None:
    with pytest.raises(error):
        conductor_from_text(text)


def test_areas_are_nominal_copper() -> None:
    assert conductor_from_text("0.5 mm²").resistance_per_metre == pytest.approx(1 / 58e6 / 0.5e-6)


def test_a_size_that_is_not_listed_has_no_class5_maximum() -> None:
    with pytest.raises(ArgumentFault, match=r"0\.75"):
        maximum_class5(0.22e-6)


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
