import math

import pytest

from ohmsworth.errors import ArgumentFault, UnknownName
from ohmsworth.materials import METALS, spot_state, spot_state_of_current


@pytest.mark.parametrize(
    ("name", "voltage", "state"),
    [
        ("silver", 0.0, "cold"),
        ("silver", 0.0899, "cold"),
        ("silver", -0.09, "softens"),
        ("silver", 0.372, "may melt"),
        ("silver", 0.38, "melts"),
        ("gold", 0.42, "may melt"),
        ("tin", 0.128, "softens"),
        ("tin", 0.2, "melts"),
        ("nickel", 0.2, "cold"),
        ("nickel", 0.6, "may melt"),
        ("nickel", 0.65, "melts"),
        ("copper", 2.0, "melts"),
    ],
)
def test_states(name: str, voltage: float, state: str) -> None:
    assert spot_state(name, voltage).state == state


def test_margin_is_what_is_left_until_it_softens() -> None:
    assert spot_state("gold", 0.02).margin == pytest.approx(0.06)
    assert spot_state("gold", 0.10).margin == pytest.approx(-0.02)


def test_only_nickel_is_told_to_disagree() -> None:
    told = {name for name in METALS if "disagree" in spot_state(name, 0.01).words}
    assert told == {"nickel"}
    assert "0.53 and 0.65 V" in spot_state("nickel", 0.01).words


def test_no_temperature_where_the_formula_is_not_to_be_trusted() -> None:
    assert spot_state("silver", 0.1).temperature == pytest.approx(293.15 + 141, abs=1)
    assert spot_state("silver", 0.5).temperature is None
    assert spot_state("nickel", 0.17).temperature == pytest.approx(618, abs=3)
    assert spot_state("nickel", 0.19).temperature is None
    assert spot_state("copper", 0.19).temperature == pytest.approx(675, abs=3)


def test_current_times_resistance() -> None:
    assert spot_state_of_current("tin", -10.0, 8e-3) == spot_state("tin", 0.08)


def test_out_of_range_is_refused() -> None:
    for call in (
        lambda: spot_state("gold", math.nan),
        lambda: spot_state("gold", 0.01, ambient=20.0),
        lambda: spot_state_of_current("gold", 1.0, 0.0),
        lambda: spot_state_of_current("gold", math.inf, 1.0),
    ):
        with pytest.raises(ArgumentFault):
            call()
    with pytest.raises(UnknownName):
        spot_state("brass", 0.01)
