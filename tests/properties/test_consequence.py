"""What must hold in every circuit and for every conductor."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from tests.properties.any_use import a_threshold_inverts_its_effect

from ohmsworth.consequence import Use, effects, make_use
from ohmsworth.consequence.circuit import respond
from ohmsworth.consequence.uses.balanced import balanced_circuit, hum_transfer, signal_transfer
from ohmsworth.materials import (
    Conductor,
    conductor_from_text,
    equivalent_length,
    resistance_per_metre,
    spot_temperature,
    spot_voltage,
)

RESISTANCE = np.logspace(-6, 6, 61)
FREQUENCIES = np.array([50.0, 1e3, 10e3, 20e3])
BALANCED = ("dynamic microphone", "phantom microphone", "balanced line")
ohms = st.floats(0, 1e4)
conductors = st.sampled_from(["24 AWG", "4/0 AWG", "0.22 mm²", "2.5 mm²"]).map(conductor_from_text)
temperatures = st.floats(230, 420)


@st.composite
def uses(draw: st.DrawFn) -> Use:
    """A balanced use of any kind with values that a workshop may meet."""
    common = draw(st.floats(600, 1e6))
    values: dict[str, float | str] = {
        "source_impedance": draw(st.floats(1, 2e3)),
        "source_common": draw(st.sampled_from([0.0, 100.0, 1e5])),
        "load_common": common,
        "load_impedance": common * draw(st.floats(0.1, 2)),
        "length": draw(st.floats(0, 300)),
        "core_core": draw(st.floats(0, 200e-12)),
        "core_screen": draw(st.floats(0, 400e-12)),
        "loss_tangent": draw(st.floats(0, 0.1)),
        "contacts_near": draw(st.integers(0, 4)),
        "contacts_far": draw(st.integers(1, 4)),
        "temperature": draw(st.floats(250, 320)),
        "receiver_rejection": draw(st.floats(65, 120)),
    }
    return make_use(draw(st.sampled_from(BALANCED)), values=values)


def drawn(use: Use, plus: float, minus: float, screen: float) -> list[list[float]]:
    """Ohm of the contacts of `use`, in the order of its circuit."""
    circuit = balanced_circuit(use)
    each = {"plus": plus, "minus": minus, "screen": screen}
    return [[each[name.split()[0]] * n for name, n in zip(circuit.contacts(), circuit.counts(), strict=True)]]


@given(uses())
def test_without_resistance_the_circuit_is_ideal(use: Use) -> None:
    for effect in effects(use, np.array([0.0, 1e-9])):
        assert effect.value[0] == pytest.approx(effect.ideal, abs=1e-9)
        assert effect.value[1] == pytest.approx(effect.ideal, abs=1e-3)


def nearly_open(use: Use) -> float:
    """Ohm of each contact from which a leg is no longer small against what loads it, at 10 kHz.

    Beyond it the other leg feeds an all but open one through load and cable, and rejection can turn.
    """
    value = {key: v for key, v in use.settings.items() if not isinstance(v, str)}
    farad = value["length"] * (value["core_screen"] + 2 * value["core_core"])
    cable = 1 / (2 * np.pi * 10e3 * max(farad, 1e-15))
    contacts = value["contacts_near"] + value["contacts_far"]
    return 0.1 * min(value["load_impedance"], value["load_common"], cable) / contacts


@given(uses())
def test_more_resistance_is_never_better(use: Use) -> None:
    for effect in effects(use, RESISTANCE):
        # Resistance also evens out the treble that inductance and skin effect of a cable take: no one way.
        if effect.key == "treble":
            continue
        step = np.diff(effect.value)
        if effect.key.startswith("rejection") or effect.position.startswith("every contact of one leg"):
            step = step[RESISTANCE[1:] < nearly_open(use)]
        assert np.all(step >= -1e-7 if effect.worse == "higher" else step <= 1e-7), effect.key


@given(uses(), ohms, ohms, ohms)
def test_swapping_the_legs_keeps_the_rejection(use: Use, one: float, other: float, screen: float) -> None:
    circuit = balanced_circuit(use)
    straight, swapped = drawn(use, one, other, screen), drawn(use, other, one, screen)
    hum, signal = hum_transfer(circuit, FREQUENCIES), signal_transfer(circuit, FREQUENCIES)
    np.testing.assert_allclose(respond(hum, swapped), -respond(hum, straight), rtol=1e-6, atol=1e-12)
    np.testing.assert_allclose(respond(signal, swapped), respond(signal, straight), rtol=1e-9)


@given(uses(), ohms, ohms)
def test_like_legs_convert_nothing(use: Use, leg: float, screen: float) -> None:
    hum = hum_transfer(balanced_circuit(use), FREQUENCIES)
    assert np.all(np.abs(respond(hum, drawn(use, leg, leg, screen))) < 1e-11)


@given(uses())
def test_a_threshold_inverts_its_effect(use: Use) -> None:
    a_threshold_inverts_its_effect(use)


@given(uses(), st.floats(1.5, 10))
def test_impedances_scale_together(use: Use, factor: float) -> None:
    """All impedances times k, cable included, leave every ratio as it was."""
    bare = make_use(use.kind, values={**use.settings, "length": 0.0})
    keys = ("source_impedance", "source_common", "load_impedance", "load_common")
    larger = {key: float(use.settings[key]) * factor for key in keys}
    scaled = make_use(use.kind, values={**bare.settings, **larger})
    for transfer, tolerance in ((signal_transfer, 1e-9), (hum_transfer, 1e-6)):
        one = respond(transfer(balanced_circuit(bare), FREQUENCIES), drawn(bare, 1.0, 0.0, 0.0))
        many = respond(transfer(balanced_circuit(scaled), FREQUENCIES), drawn(scaled, factor, 0.0, 0.0))
        np.testing.assert_allclose(many, one, rtol=tolerance)


@given(conductors, temperatures, st.floats(-1e3, 1e3), st.floats(-1e3, 1e3))
def test_equivalent_length_is_linear(
    conductor: Conductor, temperature: float, one: float, other: float
) -> None:
    whole = equivalent_length(one + other, conductor, temperature)
    parts = [equivalent_length(ohm, conductor, temperature) for ohm in (one, other)]
    assert whole == pytest.approx(sum(parts), rel=1e-9, abs=1e-6)


@given(conductors, temperatures, temperatures)
def test_a_warmer_wire_resists_more(conductor: Conductor, one: float, other: float) -> None:
    """By 0.393 % of its resistance at 20 °C a kelvin, which shortens the equivalent length."""
    cold, warm = sorted((one, other))
    assume(warm - cold > 1e-3)
    at_cold, at_warm = (resistance_per_metre(conductor, t) for t in (cold, warm))
    at_20 = resistance_per_metre(conductor, 293.15)
    assert (at_warm - at_cold) / (warm - cold) / at_20 == pytest.approx(0.00393, rel=1e-6)
    lengths = [equivalent_length(1.0, conductor, t) for t in (cold, warm)]
    assert lengths[0] > lengths[1]


@given(st.floats(1e-3, 0.65), st.floats(200, 450))
def test_spot_temperature_inverts(voltage: float, ambient: float) -> None:
    hottest = float(spot_temperature(voltage, ambient))
    assert hottest > ambient
    assert float(spot_voltage(hottest, ambient)) == pytest.approx(voltage, rel=1e-6)
