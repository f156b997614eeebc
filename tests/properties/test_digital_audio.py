"""What must hold on every digital audio line."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.properties.any_use import every_effect_is_finite

from ohmsworth.consequence import Use, effects, make_use, response, thresholds

RESISTANCE = np.logspace(-6, 6, 25)
FREQUENCY = np.array([0.1e6, 1e6, 3.072e6, 6.144e6, 20e6])


@st.composite
def lines(draw: st.DrawFn) -> Use:
    """A digital audio line with values that a workshop may meet."""
    capacitance = draw(st.floats(35e-12, 60e-12))
    values: dict[str, float | str] = {
        "conductor": draw(st.sampled_from(["0.14 mm²", "24 AWG", "0.5 mm²"])),
        "length": draw(st.floats(0, 200)),
        "core_core": 0.4 * capacitance,
        "core_screen": 1.2 * capacitance,
        "inductance": draw(st.floats(95, 125)) ** 2 * capacitance,
        "sample_rate": draw(st.sampled_from([44.1e3, 48e3, 96e3])),
        "rise_time": draw(st.floats(10e-9, 40e-9)),
        "transformer": draw(st.sampled_from(["none", "receiver", "both ends"])),
        "contacts_near": draw(st.integers(0, 3)),
        "contacts_far": draw(st.integers(1, 3)),
    }
    return make_use("digital audio", values=values)


@given(lines())
def test_without_resistance_the_line_is_ideal(use: Use) -> None:
    for effect in effects(use, np.array([0.0, 1e-9])):
        assert effect.value[0] == pytest.approx(effect.ideal, abs=1e-9)
        if effect.ideal < 120:
            assert effect.value[1] == pytest.approx(effect.ideal, abs=1e-3)


@given(lines())
def test_everything_is_finite_and_of_the_same_shape(use: Use) -> None:
    every_effect_is_finite(use)


@given(lines(), st.floats(0, 1e4))
def test_no_power_is_made(use: Use, ohm: float) -> None:
    curves = response(use, [ohm], FREQUENCY)
    back = 10 ** (-curves["return_loss"] / 10)
    through = 10 ** ((curves["margin"] - 20) / 10)
    assert np.all(back + through <= 1 + 1e-9)


@given(lines())
def test_more_in_one_leg_is_half_of_it_in_both(use: Use) -> None:
    def found(position: str, ohm: np.ndarray) -> dict[str, np.ndarray]:
        return {e.key: e.value for e in effects(use, ohm) if e.position.startswith(position)}

    one, both = found("every contact of one leg", RESISTANCE), found("every contact of both", RESISTANCE / 2)
    for key in ("margin", "eye", "return_loss"):
        np.testing.assert_allclose(one[key], both[key], rtol=1e-6, atol=1e-6)


@given(lines())
def test_the_eye_only_closes(use: Use) -> None:
    """On a matched line; until contacts are no longer small against it, so that what comes back counts."""
    small = RESISTANCE[RESISTANCE < 3]
    for effect in effects(use, small):
        if effect.key in ("eye", "margin"):
            assert np.all(np.diff(effect.value) <= 2e-4), effect.key


@given(lines(), st.floats(1.5, 4))
def test_more_volts_are_as_much_more_of_everything(use: Use, factor: float) -> None:
    louder = make_use("digital audio", values={**use.settings, "source_volts": 2.0 * factor})
    for one, other in zip(effects(use, RESISTANCE), effects(louder, RESISTANCE), strict=True):
        if one.key == "eye":
            np.testing.assert_allclose(other.value, one.value * factor, rtol=1e-9, atol=1e-12)
        elif one.unit == "dB" and one.key.startswith("margin"):
            np.testing.assert_allclose(other.value, one.value + 20 * np.log10(factor), rtol=1e-9, atol=1e-9)
        else:
            np.testing.assert_allclose(other.value, one.value, rtol=1e-9, atol=1e-12)


@given(lines())
def test_a_threshold_inverts_its_effect(use: Use) -> None:
    for threshold in thresholds(use):
        if threshold.resistance is None:
            continue
        near = np.array([1 - 1e-6, 1.0, 1 + 1e-6]) * threshold.resistance
        effect = next(
            e for e in effects(use, near) if (e.key, e.position) == (threshold.effect, threshold.position)
        )
        assert effect.threshold is not None
        if effect.key == "jitter":
            # Where a pulse no longer crosses zero its edges are lost at a stroke: a jump, which is found to be there.
            assert effect.value[0] < effect.threshold * (1 + 1e-6)
            assert effect.value[2] > effect.threshold * (1 - 1e-6)
        else:
            assert effect.value[1] == pytest.approx(effect.threshold, rel=1e-6, abs=1e-9)
