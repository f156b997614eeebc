"""What must hold in every unbalanced line."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.properties.any_use import a_threshold_inverts_its_effect, every_effect_is_finite

from ohmsworth.consequence import Use, effects, make_use
from ohmsworth.consequence.circuit import Amperes, respond, transfers
from ohmsworth.consequence.uses.unbalanced_line import earth_transfer, signal_transfer, unbalanced_circuit

RESISTANCE = np.logspace(-6, 6, 61)
FREQUENCY = np.array([50.0, 1e3, 10e3, 100e3])
ohms = st.floats(0, 1e4)
four = st.tuples(ohms, ohms, ohms, ohms)


@st.composite
def uses(draw: st.DrawFn) -> Use:
    """An unbalanced line with values that a workshop may meet."""
    values: dict[str, float | str] = {
        "output_impedance": draw(st.floats(1, 1e4)),
        "input_resistance": draw(st.floats(600, 1e6)),
        "input_capacitance": draw(st.floats(0, 1e-9)),
        "length": draw(st.floats(0, 100)),
        "capacitance": draw(st.floats(0, 400e-12)),
        "screen_resistance": draw(st.floats(1e-3, 0.1)),
        "earth_difference": draw(st.floats(1e-5, 10)),
        "earth_resistance": draw(st.floats(1e-2, 1e6)),
        "earth_inductance": draw(st.floats(0, 1e-3)),
        "common_inductance": draw(st.floats(0, 3e-6)),
        "contacts_near": draw(st.integers(0, 4)),
        "contacts_far": draw(st.integers(1, 4)),
        "temperature": draw(st.floats(250, 320)),
    }
    return make_use("unbalanced line", values=values)


@given(uses())
def test_without_resistance_the_circuit_is_ideal(use: Use) -> None:
    for effect in effects(use, np.array([0.0, 1e-15])):
        assert effect.value[0] == pytest.approx(effect.ideal, abs=1e-9)
        assert effect.value[1] == pytest.approx(effect.ideal, abs=1e-3)


@given(uses())
def test_every_effect_is_finite_up_to_an_open_contact(use: Use) -> None:
    every_effect_is_finite(use)


@given(uses())
def test_a_worse_contact_is_never_better(use: Use) -> None:
    """Without capacitance, which can ring with the earth's inductance and lift a level a little."""
    plain = make_use(use.kind, values={**use.settings, "capacitance": 0.0, "input_capacitance": 0.0})
    for effect in effects(plain, RESISTANCE):
        if effect.key != "treble":
            step = np.diff(effect.value)
            assert np.all(step >= -1e-6 if effect.worse == "higher" else step <= 1e-6), effect.key


@given(uses(), four)
def test_the_input_takes_at_most_what_the_source_can_give(use: Use, ohm: tuple[float, ...]) -> None:
    volts = respond(signal_transfer(unbalanced_circuit(use), FREQUENCY), [ohm])[0]
    taken = np.abs(volts) ** 2 / float(use.settings["input_resistance"])
    assert np.all(taken <= 1 / (4 * float(use.settings["output_impedance"])) * (1 + 1e-9))


@given(uses(), four)
def test_sources_and_places_can_be_exchanged(use: Use, ohm: tuple[float, ...]) -> None:
    """What 1 V between the earths drives through the source, 1 V in the source drives through the earth."""
    circuit = unbalanced_circuit(use)
    one = transfers(circuit, FREQUENCY, {"earth difference": 1.0}, [Amperes("signal")])[0]
    other = transfers(circuit, FREQUENCY, {"signal": 1.0}, [Amperes("earth difference")])[0]
    there, back = respond(one, [ohm]), respond(other, [ohm])
    np.testing.assert_allclose(there, back, rtol=1e-6, atol=1e-13)


@given(uses(), ohms)
def test_a_contact_may_stand_at_either_end_of_a_line_of_no_length(use: Use, ohm: float) -> None:
    circuit = unbalanced_circuit(make_use(use.kind, values={**use.settings, "length": 0.0}))
    transfer = earth_transfer(circuit, FREQUENCY)
    near, far = respond(transfer, [[0, ohm, 0, 0], [0, 0, 0, ohm]])
    np.testing.assert_allclose(near, far, rtol=1e-6, atol=1e-12)


@given(uses())
def test_a_threshold_inverts_its_effect(use: Use) -> None:
    a_threshold_inverts_its_effect(use)
