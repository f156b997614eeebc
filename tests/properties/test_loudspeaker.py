"""What must hold for every loudspeaker line."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ohmsworth.consequence import Use, effects, make_use, thresholds
from ohmsworth.consequence.circuit import respond
from ohmsworth.consequence.kinds import kind_of

RESISTANCE = np.logspace(-6, 6, 61)
ohms = st.floats(0, 1e3)


@st.composite
def lines(draw: st.DrawFn, **fixed: float | str) -> Use:
    """A line that a workshop may meet."""
    nominal = draw(st.sampled_from([2.0, 4.0, 8.0, 16.0]))
    values: dict[str, float | str] = {
        "damping_factor": draw(st.integers(10, 5000)),
        "power": draw(st.floats(1, 2e3)),
        "load": draw(st.sampled_from(["loudspeaker", "resistance"])),
        "nominal_impedance": nominal,
        "coil_resistance": nominal * draw(st.floats(0.6, 1)),
        "coil_inductance": draw(st.floats(0, 2e-3)),
        "resonance_frequency": draw(st.floats(20, 200)),
        "resonance_resistance": draw(st.floats(0, 100)),
        "resonance_width": draw(st.floats(3, 50)),
        "contacts_near": draw(st.integers(0, 4)),
        "contacts_far": draw(st.integers(1, 4)),
        "length": draw(st.floats(0, 200)),
        "conductor": draw(st.sampled_from(["0.75 mm²", "2.5 mm²", "12 AWG"])),
        "temperature": draw(st.floats(250, 340)),
        "plating": draw(st.sampled_from(["gold", "silver", "tin", "nickel", "copper"])),
    }
    return make_use("loudspeaker", values=values | fixed)


@given(lines())
def test_without_resistance_the_line_is_ideal(use: Use) -> None:
    for effect in effects(use, np.array([0.0, 1e-9])):
        assert effect.value[0] == pytest.approx(effect.ideal, rel=1e-9, abs=1e-9)
        assert effect.value[1] == pytest.approx(effect.ideal, rel=1e-4, abs=1e-3)


@given(lines())
@settings(max_examples=50)
def test_more_resistance_is_never_better(use: Use) -> None:
    # Ripple grows until a contact is as large as the load, and one that takes most of the voltage cuts off its own heat.
    load = float(use.settings["coil_resistance"])
    small = load / 10 > RESISTANCE
    for effect in effects(use, RESISTANCE):
        if effect.key == "ripple_whole":
            continue  # the inductance of a cable tilts the response too, and contacts may even that out
        value = effect.value[small] if effect.key in ("contact_heat", "ripple") else effect.value
        step, slack = np.diff(value), 1e-9 * np.abs(value[1:]) + 1e-9
        assert np.all(step >= -slack if effect.worse == "higher" else step <= slack), effect.key


@given(lines())
@settings(max_examples=50)
def test_a_threshold_is_where_the_effect_reaches_it(use: Use) -> None:
    rules = [rule for rule in kind_of(use.kind).rules(use) if rule.threshold is not None]
    for rule, threshold in zip(rules, thresholds(use), strict=True):
        assert rule.threshold is not None
        if threshold.resistance is not None:
            assert float(rule.compute(np.asarray(threshold.resistance))) == pytest.approx(
                rule.threshold, rel=1e-6
            )


@given(lines(), ohms, ohms)
def test_it_is_all_one_in_which_conductor_a_contact_is(use: Use, near: float, far: float) -> None:
    for curve in kind_of(use.kind).curves(use):
        transfer = curve.solve(np.array([20.0, 1e3, 20e3]))
        assert transfer.contacts == ("plus near", "minus near", "plus far", "minus far")
        told = respond(transfer, [[near, 0.0, far, 0.0], [0.0, near, 0.0, far], [near, 0.0, 0.0, far]])
        np.testing.assert_allclose(told[1:], np.broadcast_to(told[0], (2, 3)), rtol=1e-9)


@given(lines(length=0.0), st.floats(0.1, 10), ohms)
def test_all_impedances_scale_together(use: Use, by: float, ohm: float) -> None:
    """Everything in ohm and henry times a factor, at the same power: levels, damping and heat stay."""
    scaled = (
        "damping_impedance",
        "nominal_impedance",
        "coil_resistance",
        "coil_inductance",
        "resonance_resistance",
    )
    larger = make_use(
        "loudspeaker", values={**use.settings, **{key: float(use.settings[key]) * by for key in scaled}}
    )
    for one, other in zip(effects(use, ohm), effects(larger, ohm * by), strict=True):
        if one.unit not in ("V", "K"):
            # A ripple is the top of a spline through levels: of one of a millionth of a dB the rounding is a tenth.
            found = 2e-6 if one.key == "ripple" else 1e-7
            assert float(one.value) == pytest.approx(float(other.value), rel=1e-7, abs=found), one.key


@given(lines(length=0.0), ohms)
def test_no_watt_is_lost_or_won(use: Use, ohm: float) -> None:
    """Without cable: the watts that one contact takes, load and amplifier have, are those that the source gives."""
    heat = next(e for e in effects(use, ohm) if e.key == "contact_heat")
    nominal = float(use.settings["nominal_impedance"])
    zo = float(use.settings["damping_impedance"]) / float(use.settings["damping_factor"])
    source = np.sqrt(float(use.settings["power"]) * nominal) * (1 + zo / nominal)
    current = source / (zo + nominal + ohm)
    assert float(heat.value) + current**2 * (zo + nominal) == pytest.approx(source * current, rel=1e-9)
