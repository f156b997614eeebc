"""What must hold on every video line."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.properties.any_use import a_threshold_inverts_its_effect, every_effect_is_finite

from ohmsworth.consequence import Use, effects, make_use, response
from ohmsworth.consequence.circuit import Volts, transfers
from ohmsworth.consequence.uses.video_circuit import video_circuit

RESISTANCE = np.logspace(-6, 6, 37)
FREQUENCY = np.array([1e6, 5e6, 0.2e9, 1.485e9, 2.97e9])


@st.composite
def lines(draw: st.DrawFn) -> Use:
    """A video line with values that a workshop may meet."""
    capacitance = draw(st.floats(40e-12, 80e-12))
    values: dict[str, float | str] = {
        "conductor": draw(st.sampled_from(["0.1 mm²", "26 AWG", "20 AWG", "1 mm²"])),
        "length": draw(st.floats(0, 200)),
        "capacitance": capacitance,
        "inductance": draw(st.floats(70, 80)) ** 2 * capacitance,
        "loss_tangent": draw(st.floats(0, 1e-3)),
        "screen_diameter": draw(st.sampled_from([0.0, 2e-3, 6e-3])),
        "contacts_near": draw(st.integers(0, 3)),
        "contacts_far": draw(st.integers(1, 3)),
        "temperature": draw(st.floats(250, 320)),
        "clock": draw(st.sampled_from([270e6, 1.485e9, 2.97e9])),
    }
    return make_use("video", values=values)


@given(lines())
def test_without_resistance_the_line_is_ideal(use: Use) -> None:
    for effect in effects(use, np.array([0.0, 1e-9])):
        assert effect.value[0] == pytest.approx(effect.ideal, abs=1e-9)
        # A perfect match, told as 200 dB, is the only thing that a nanoohm takes something from.
        if effect.ideal < 120:
            assert effect.value[1] == pytest.approx(effect.ideal, abs=1e-3)


@given(lines())
def test_everything_is_finite_and_of_the_same_shape(use: Use) -> None:
    every_effect_is_finite(use)


@given(lines())
def test_more_resistance_loses_more(use: Use) -> None:
    for effect in effects(use, RESISTANCE):
        # An echo can be weaker for a while in a cable that is not of 75 Ω, or lift the level at one frequency.
        if effect.key in ("reach", "reach_lost", "hum"):
            step = np.diff(effect.value)
            assert np.all(step >= -1e-9 if effect.worse == "higher" else step <= 1e-9), effect.key


@given(lines(), st.floats(0, 1e4))
def test_no_power_is_made(use: Use, ohm: float) -> None:
    """What comes back and what arrives is together at most what was sent."""
    curves = response(use, [ohm], FREQUENCY)
    back = 10 ** (-curves["return_loss"] / 10)
    through = 10 ** (-curves["insertion_loss"] / 10)
    assert np.all(back + through <= 1 + 1e-9)


@given(lines(), st.floats(0, 1e3))
def test_the_line_is_the_same_from_the_other_end(use: Use, ohm: float) -> None:
    """Equal ends of 75 Ω: contacts of both ends exchanged leave the transfer as it was."""
    turned = make_use(
        "video",
        values={
            **use.settings,
            "contacts_near": use.settings["contacts_far"],
            "contacts_far": use.settings["contacts_near"],
        },
    )
    one, other = (response(u, [ohm], FREQUENCY)["insertion_loss"] for u in (use, turned))
    np.testing.assert_allclose(one, other, rtol=1e-6, atol=1e-9)


@given(lines())
def test_centre_and_screen_carry_one_current(use: Use) -> None:
    found = {(e.key, e.position): e.value for e in effects(use, RESISTANCE)}
    centre, screen = (
        found["return_loss", f"every contact of the {which} ideal"]
        for which in ("centre, the screen", "screen, the centre")
    )
    np.testing.assert_allclose(centre, screen, rtol=1e-9, atol=1e-9)
    # Half the resistance in both is the same loop.
    both = {(e.key, e.position): e.value for e in effects(use, RESISTANCE / 2)}
    np.testing.assert_allclose(
        both["return_loss", "every contact of centre and screen"], centre, rtol=1e-7, atol=1e-7
    )


@given(lines())
def test_a_threshold_inverts_its_effect(use: Use) -> None:
    a_threshold_inverts_its_effect(use)


@given(lines(), st.floats(1.5, 10))
def test_impedances_scale_together(use: Use, factor: float) -> None:
    """Contacts alone, all of them and both ends times k: every ratio stays."""
    short = make_use("video", values={**use.settings, "length": 0.0})
    larger = make_use(
        "video",
        values={
            **short.settings,
            "source_impedance": 75.0 * factor,
            "load_impedance": 75.0 * factor,
        },
    )
    for key in ("added_loss", "return_loss"):
        one, other = (
            next(e.value for e in effects(u, ohm) if e.key == key)
            for u, ohm in ((short, RESISTANCE[12:]), (larger, RESISTANCE[12:] * factor))
        )
        np.testing.assert_allclose(one, other, rtol=1e-6, atol=1e-9)


def test_volts_at_the_input_of_a_dead_short_line() -> None:
    """At 0 Hz the circuit is a divider, exactly."""
    use = make_use("video")
    found = transfers(video_circuit(use), 0.0, {"signal": 1.0}, [Volts("input centre", "input screen")])[0]
    assert found.ideal.imag[0] == 0
    assert found.ideal.real[0] == pytest.approx(75 / (150 + 30 * (9e-3 + 0.03331)), rel=1e-3)
