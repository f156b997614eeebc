"""What must hold for every instrument on its cable."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.properties.any_use import every_effect_is_finite

from ohmsworth.consequence import Use, effects, make_use, thresholds
from ohmsworth.consequence.circuit import Amperes, respond, transfers
from ohmsworth.consequence.uses.instrument_circuit import back_transfer, instrument_circuit, string_transfer

FREQUENCY = np.array([50.0, 1e3, 5e3, 20e3])
ohms = st.floats(0, 1e5)
picofarads = st.integers(0, 300).map(lambda pf: pf * 1e-12)
four = st.tuples(ohms, ohms, ohms, ohms)


@st.composite
def uses(draw: st.DrawFn) -> Use:
    """An instrument with values that a workshop may meet."""
    values: dict[str, float | str] = {
        "pickup_resistance": draw(st.floats(100, 20e3)),
        "pickup_inductance": draw(st.floats(0.1, 10)),
        "pickup_capacitance": draw(picofarads),
        "pickup_loss": draw(st.floats(1e5, 1e8)),
        "volume_resistance": draw(st.floats(1e5, 1e6)),
        "volume": draw(st.floats(0.01, 1)),
        "tone_resistance": draw(st.floats(1e5, 1e6)),
        "tone": draw(st.floats(0, 1)),
        "tone_capacitance": draw(st.integers(0, 100)) * 1e-9,
        "input_resistance": draw(st.floats(1e5, 1e7)),
        "input_capacitance": draw(picofarads),
        "length": draw(st.floats(0, 20)),
        "body_mains": draw(st.integers(0, 10)) * 1e-12,
        "body_earth": draw(picofarads),
        "contacts_near": draw(st.integers(0, 3)),
        "contacts_far": draw(st.integers(1, 3)),
        "temperature": draw(st.floats(250, 320)),
    }
    return make_use("instrument", values=values)


@given(uses())
def test_without_resistance_the_circuit_is_ideal(use: Use) -> None:
    for effect in effects(use, np.array([0.0, 1e-9])):
        assert effect.value[0] == pytest.approx(effect.ideal, abs=1e-9)
        assert effect.value[1] == pytest.approx(effect.ideal, abs=1e-3)


@given(uses())
def test_every_effect_is_finite_up_to_an_open_contact(use: Use) -> None:
    every_effect_is_finite(use)


@given(uses())
def test_a_worse_sleeve_hums_more(use: Use) -> None:
    """As long as it is no more than the player's own capacitance lets through."""
    hum = next(e.value for e in effects(use, np.logspace(-6, 5, 56)) if e.key == "hum")
    assert np.all(np.diff(hum) >= -1e-9)


@given(uses(), four)
def test_the_input_takes_at_most_what_the_winding_can_give(use: Use, ohm: tuple[float, ...]) -> None:
    volts = respond(string_transfer(instrument_circuit(use), FREQUENCY), [ohm])[0]
    taken = np.abs(volts) ** 2 / float(use.settings["input_resistance"])
    assert np.all(taken <= 1 / (4 * float(use.settings["pickup_resistance"])) * (1 + 1e-9))


@given(uses(), four)
def test_seen_from_the_input_it_gives_no_power(use: Use, ohm: tuple[float, ...]) -> None:
    seen = respond(back_transfer(instrument_circuit(use), FREQUENCY), [ohm])[0]
    assert np.all(seen.real > 0)
    assert np.all(seen.real <= float(use.settings["input_resistance"]) * (1 + 1e-9))


@given(uses(), four)
def test_string_and_input_can_be_exchanged(use: Use, ohm: tuple[float, ...]) -> None:
    """Volts at the input for a volt of the string are the amperes in the string for an ampere into the input."""
    circuit = instrument_circuit(use)
    there = respond(string_transfer(circuit, FREQUENCY), [ohm])
    back = respond(transfers(circuit, FREQUENCY, {"back": 1.0}, [Amperes("string")])[0], [ohm])
    np.testing.assert_allclose(there, back, rtol=1e-6, atol=1e-12)


@given(uses())
def test_a_threshold_inverts_its_effect(use: Use) -> None:
    """Just beyond it the effect is reached, just before it not: a resonance may also vanish at once."""
    for threshold in thresholds(use):
        if threshold.resistance is None:
            continue
        around = threshold.resistance * np.array([1 - 1e-6, 1 + 1e-6])
        effect = next(
            e for e in effects(use, around) if (e.key, e.position) == (threshold.effect, threshold.position)
        )
        assert effect.threshold is not None
        before, after = (effect.value - effect.threshold) * (1 if effect.worse == "higher" else -1)
        assert before <= 0 <= after, threshold.effect
