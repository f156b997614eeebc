"""What must hold for every headphone."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.properties.any_use import a_threshold_inverts_its_effect, every_effect_is_finite

from ohmsworth.consequence import Use, effects, make_use
from ohmsworth.consequence.circuit import Amperes, respond, transfers
from ohmsworth.consequence.uses.headphone_circuit import (
    balance_transfer,
    crosstalk_transfer,
    headphone_circuit,
    level_transfer,
)

FREQUENCY = np.array([20.0, 90.0, 1e3, 20e3])
ohms = st.floats(0, 1e3)
six = st.tuples(ohms, ohms, ohms, ohms, ohms, ohms)
#: Left and right exchanged.
SWAPPED = [1, 0, 2, 4, 3, 5]


@st.composite
def uses(draw: st.DrawFn) -> Use:
    """A headphone with values that a workshop may meet, contacts at both places."""
    values: dict[str, float | str] = {
        "output_impedance": draw(st.floats(1e-3, 120)),
        "ear_impedance": draw(st.floats(8, 600)),
        "resonance_frequency": draw(st.floats(20, 300)),
        "resonance_resistance": draw(st.floats(0, 600)),
        "resonance_width": draw(st.floats(10, 300)),
        "shared_length": draw(st.integers(0, 500)) / 100,
        "length": draw(st.integers(0, 500)) / 100,
        "contacts_near": draw(st.integers(1, 3)),
        "contacts_far": draw(st.integers(1, 3)),
        "temperature": draw(st.floats(250, 320)),
    }
    return make_use("headphone", values=values)


@given(uses())
def test_without_resistance_the_circuit_is_ideal(use: Use) -> None:
    for effect in effects(use, np.array([0.0, 1e-12])):
        assert effect.value[0] == pytest.approx(effect.ideal, rel=1e-6, abs=1e-9)
        assert effect.value[1] == pytest.approx(effect.ideal, rel=1e-3, abs=1e-3)


@given(uses())
def test_every_effect_is_finite_up_to_an_open_contact(use: Use) -> None:
    every_effect_is_finite(use)


@given(uses())
def test_a_worse_contact_is_never_better(use: Use) -> None:
    for effect in effects(use, np.logspace(-6, 5, 56)):
        step = np.diff(effect.value)
        assert np.all(step >= -1e-6 if effect.worse == "higher" else step <= 1e-6), effect.key


@given(uses(), six)
def test_left_and_right_are_alike(use: Use, ohm: tuple[float, ...]) -> None:
    """Exchanging the contacts of both channels turns the balance round."""
    swapped = [ohm[i] for i in SWAPPED]
    one, other = respond(balance_transfer(headphone_circuit(use), FREQUENCY), [ohm, swapped])
    np.testing.assert_allclose(one * other, 1, rtol=1e-6)


@given(uses(), six)
def test_crosstalk_is_the_same_both_ways(use: Use, ohm: tuple[float, ...]) -> None:
    """The current that one channel drives in the other's amplifier is the one that the other drives in its own."""
    circuit = headphone_circuit(use)
    there = transfers(circuit, FREQUENCY, {"left": 1.0}, [Amperes("right")])[0]
    back = transfers(circuit, FREQUENCY, {"right": 1.0}, [Amperes("left")])[0]
    np.testing.assert_allclose(respond(there, [ohm]), respond(back, [ohm]), rtol=1e-6, atol=1e-12)


@given(uses(), six)
def test_an_undriven_ear_is_never_louder(use: Use, ohm: tuple[float, ...]) -> None:
    """With like channels; the ear's own current cannot lift the other above it."""
    like = [ohm[0], ohm[0], ohm[2], ohm[3], ohm[3], ohm[5]]
    found = respond(crosstalk_transfer(headphone_circuit(use), FREQUENCY), [like])
    assert np.all(np.abs(found) <= 1 + 1e-6)


@given(uses(), six)
def test_an_ear_takes_at_most_what_its_amplifiers_can_give(use: Use, ohm: tuple[float, ...]) -> None:
    """Both channels alike and with like contacts: each amplifier feeds its own ear."""
    like = [ohm[0], ohm[0], ohm[2], ohm[3], ohm[3], ohm[5]]
    volts = respond(level_transfer(headphone_circuit(use), FREQUENCY), [like])[0]
    assert np.all(np.abs(volts) <= 1 + 1e-4)


@given(uses())
def test_a_threshold_inverts_its_effect(use: Use) -> None:
    a_threshold_inverts_its_effect(use)
