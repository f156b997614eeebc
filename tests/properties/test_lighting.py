"""What must hold on every lighting control line."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from tests.properties.any_use import a_threshold_inverts_its_effect, every_effect_is_finite

from ohmsworth.consequence import Use, effects, make_use

RESISTANCE = np.logspace(-6, 6, 25)


@st.composite
def lines(draw: st.DrawFn) -> Use:
    """A lighting control line with values that a workshop may meet."""
    capacitance = draw(st.floats(35e-12, 70e-12))
    values: dict[str, float | str] = {
        "conductor": draw(st.sampled_from(["0.22 mm²", "24 AWG", "0.5 mm²"])),
        "length": draw(st.floats(0, 400)),
        "core_core": 0.4 * capacitance,
        "core_screen": 1.2 * capacitance,
        "inductance": draw(st.floats(95, 125)) ** 2 * capacitance,
        "driver_resistance": draw(st.floats(10, 120)),
        "rise_time": draw(st.floats(100e-9, 1e-6)),
        "receivers": draw(st.integers(1, 32)),
        "unit_load": draw(st.sampled_from(["1", "1/2", "1/4", "1/8"])),
        "receivers_stand": draw(st.sampled_from(["far end", "along"])),
        "terminated": draw(st.sampled_from(["far end", "both ends", "none"])),
        "joints": draw(st.integers(1, 64)),
        "window": draw(st.sampled_from([0.0, 0.15, 0.4])),
    }
    return make_use("lighting control", values=values)


@given(lines())
def test_without_resistance_the_line_is_ideal(use: Use) -> None:
    for effect in effects(use, np.array([0.0, 1e-9])):
        assert effect.value[0] == pytest.approx(effect.ideal, abs=1e-9)
        assert effect.value[1] == pytest.approx(effect.ideal, abs=1e-5)


@given(lines())
def test_everything_is_finite_and_of_the_same_shape(use: Use) -> None:
    every_effect_is_finite(use)


@given(lines())
def test_a_steady_level_only_falls(use: Use) -> None:
    for effect in effects(use, RESISTANCE):
        if effect.key == "steady_level":
            assert np.all(np.diff(effect.value) <= 1e-12)
            assert effect.value[-1] < 0.05 * effect.ideal
        if effect.key == "common_shift":
            assert np.all(np.diff(effect.value) > 0)


@given(lines())
def test_a_pattern_takes_something_from_the_steady_level(use: Use) -> None:
    """The steady level is one of the patterns: bits of one kind for ever; the signal itself is told to 0.0001."""
    found = {(e.key, e.position): e.value for e in effects(use, RESISTANCE)}
    for (key, position), worst in found.items():
        if key == "worst_level" and ("steady_level", position) in found:
            assert np.all(worst <= found["steady_level", position] + 2e-3)


@given(lines())
def test_one_conductor_is_worth_half_of_both(use: Use) -> None:
    def found(position: str, ohm: np.ndarray) -> dict[str, np.ndarray]:
        return {e.key: e.value for e in effects(use, ohm) if e.position.startswith(position)}

    # With all loads at the far end it does not matter to a steady level where in the loop a contact is.
    assume(use.settings["receivers_stand"] == "far end" and use.settings["terminated"] != "both ends")
    one, both = found("every joint of one data", RESISTANCE), found("every joint of both", RESISTANCE / 2)
    np.testing.assert_allclose(one["steady_level"], both["steady_level"], rtol=1e-9, atol=1e-12)


@given(lines(), st.floats(1.1, 3))
def test_more_volts_are_as_much_more_of_everything(use: Use, factor: float) -> None:
    louder = make_use("lighting control", values={**use.settings, "driver_volts": 1.5 * factor})
    for one, other in zip(effects(use, RESISTANCE), effects(louder, RESISTANCE), strict=True):
        times = 1.0 if one.key == "common_shift" else factor
        np.testing.assert_allclose(other.value, one.value * times, rtol=1e-9, atol=1e-12)


@given(lines())
def test_a_threshold_inverts_its_effect(use: Use) -> None:
    a_threshold_inverts_its_effect(use)
