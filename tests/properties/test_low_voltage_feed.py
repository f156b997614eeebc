"""What must hold for every low-voltage feed."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ohmsworth.consequence import Use, effects, make_use, thresholds
from ohmsworth.consequence.kinds import kind_of
from ohmsworth.consequence.uses.load_line import constant_power

RESISTANCE = np.logspace(-6, 6, 97)


@st.composite
def feeds(draw: st.DrawFn, **fixed: float | str) -> Use:
    """A feed that a workshop may meet."""
    voltage = draw(st.sampled_from([5.0, 9.0, 12.0, 24.0, 48.0]))
    values: dict[str, float | str] = {
        "voltage": voltage,
        "supply_resistance": draw(st.floats(0, 0.1)),
        "load": draw(st.sampled_from(["constant current", "constant power"])),
        "current": draw(st.floats(1e-3, 20)),
        "power": draw(st.floats(1e-2, 200)),
        "needed_volts": voltage * draw(st.floats(0.05, 0.99)),
        "contacts_near": draw(st.integers(0, 4)),
        "contacts_far": draw(st.integers(1, 4)),
        "length": draw(st.floats(0, 100)),
        "conductor": draw(st.sampled_from(["0.5 mm²", "1.5 mm²", "10 AWG"])),
        "temperature": draw(st.floats(250, 340)),
        "plating": draw(st.sampled_from(["gold", "silver", "tin", "nickel", "copper"])),
    }
    return make_use("low-voltage feed", values=values | fixed)


@given(feeds())
def test_without_resistance_the_feed_is_ideal(use: Use) -> None:
    for effect in effects(use, np.array([0.0, 1e-9])):
        assert effect.value[0] == pytest.approx(effect.ideal, abs=1e-9)
        if use.settings["load"] == "constant current":  # at its collapse the other one turns on nothing
            assert effect.value[1] == pytest.approx(effect.ideal, abs=1e-3)


@given(feeds())
def test_more_resistance_is_never_better(use: Use) -> None:
    for effect in effects(use, RESISTANCE):
        if effect.key == "contact_heat":
            continue  # below: a contact that takes most of the voltage runs cooler with more of it
        step, slack = np.diff(effect.value), 1e-9 * np.abs(effect.value[1:]) + 1e-9
        assert np.all(step >= -slack if effect.worse == "higher" else step <= slack), effect.key


@given(feeds())
def test_heat_rises_as_long_as_the_load_runs_and_is_never_more_than_the_supply_gives(use: Use) -> None:
    told = {(e.key, e.position): e.value for e in effects(use, RESISTANCE)}
    one = "one contact, all others ideal"
    heat, volts, across = (told[key, one] for key in ("contact_heat", "load_volts", "contact_voltage"))
    assert np.all(np.diff(heat[volts > 0]) > 0)
    assert np.all(across + volts <= float(use.settings["voltage"]) * (1 + 1e-9))
    # Volts times current of the contact: the same watts in another way.
    np.testing.assert_allclose(heat * RESISTANCE, across**2, rtol=1e-9)


@given(feeds())
def test_a_threshold_is_where_the_effect_reaches_it(use: Use) -> None:
    rules = [rule for rule in kind_of(use.kind).rules(use) if rule.threshold is not None]
    for rule, threshold in zip(rules, thresholds(use), strict=True):
        assert rule.threshold is not None
        if threshold.resistance is None:
            continue
        before, after = (
            float(rule.compute(np.asarray(threshold.resistance * by))) for by in (1 - 1e-9, 1 + 1e-9)
        )
        low, high = sorted((before, after))
        # At the collapse the volts fall from one side of the threshold to the other at once.
        assert low * (1 - 1e-6) <= rule.threshold <= high * (1 + 1e-6)


@given(feeds(length=0.0, supply_resistance=0.0, load="constant power"), st.floats(0.5, 20), st.floats(0, 1))
def test_volts_scale_with_the_root_of_the_ohms(use: Use, by: float, ohm: float) -> None:
    """Volts times b and ohm times b²: the same shares of the voltage."""
    voltage, watts = float(use.settings["voltage"]), float(use.settings["power"])
    one, other = constant_power(voltage, watts, ohm)[0], constant_power(by * voltage, watts, by**2 * ohm)[0]
    collapse = voltage**2 / (4 * watts)
    if abs(ohm / collapse - 1) > 1e-9:
        assert float(other) == pytest.approx(by * float(one), rel=1e-6)
