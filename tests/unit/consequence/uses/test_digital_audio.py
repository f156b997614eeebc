"""Digital audio against scikit-rf, dividers by hand, and the same pair with its screen drawn."""

import math

import numpy as np
import pytest
import skrf

from ohmsworth.consequence import Use, effects, make_use, response, thresholds
from ohmsworth.consequence.circuit import (
    Circuit,
    Contact,
    Line,
    Resistor,
    VoltageSource,
    Volts,
    cable_of,
    plain_resistance,
    respond,
    transfers,
    wave_constants,
)
from ohmsworth.consequence.kinds import kind_of
from ohmsworth.consequence.uses.cables import core_resistance, pair_alone
from ohmsworth.consequence.uses.digital_audio_circuit import digital_audio_circuit
from ohmsworth.errors import ArgumentFault
from ohmsworth.materials import wire_impedance
from ohmsworth.sources import SOURCES

BOTH = "every contact of both legs"
ONE = "every contact of one leg, the other leg ideal"
FREQUENCY = np.array([0.1e6, 1e6, 3.072e6, 6.144e6, 20e6])
#: 20 log10 of 2 V over 0.2 V: what a matched line without loss leaves.
FULL = 20.0


def by_key(use: Use, ohm: float) -> dict[tuple[str, str], float]:
    return {(e.key, e.position): float(e.value) for e in effects(use, np.asarray(ohm))}


def test_a_cascade_in_scikit_rf() -> None:
    use = make_use("digital audio", values={"length": 60.0, "transformer": "both ends", "contacts_far": 2})
    gamma, z0 = wave_constants(pair_alone(use), FREQUENCY)
    span = skrf.Frequency.from_f(FREQUENCY, unit="hz")
    port = skrf.media.DefinedGammaZ0(span, z0=110.0, gamma=gamma)
    line = skrf.media.DefinedGammaZ0(span, z0_port=110.0, z0=z0, gamma=gamma)
    for ohm in (0.0, 0.05, 4.0, 150.0):
        winding = port.shunt_inductor(2e-3)
        whole = winding ** port.resistor(2 * ohm) ** line.line(60.0, "m") ** port.resistor(4 * ohm) ** winding
        curves = response(use, [ohm], FREQUENCY)
        np.testing.assert_allclose(
            10 ** (-curves["return_loss"][0] / 20), np.abs(whole.s[:, 0, 0]), rtol=0, atol=1e-9
        )
        np.testing.assert_allclose(
            10 ** ((curves["margin"][0] - FULL) / 20), np.abs(whole.s[:, 1, 0]), rtol=0, atol=1e-9
        )


def test_contacts_alone() -> None:
    """No cable, no transformer: r in the loop of 220 Ω."""
    use = make_use("digital audio", values={"length": 0.0, "transformer": "none"})
    for ohm in (0.01, 1.0, 30.0):
        r = 4 * ohm
        found = by_key(use, ohm)
        margin = FULL + 20 * math.log10(220 / (220 + r))
        assert found["margin", BOTH] == pytest.approx(margin, abs=1e-9)
        assert found["margin_top", BOTH] == pytest.approx(margin, abs=1e-9)
        assert found["return_loss", BOTH] == pytest.approx(-20 * math.log10(r / (r + 220)), abs=1e-5)
        assert found["eye", BOTH] == pytest.approx(2 * 220 / (220 + r), rel=1e-3)
        assert found["jitter", BOTH] == pytest.approx(0, abs=1e-10)
        assert found["margin", ONE] == pytest.approx(FULL + 20 * math.log10(220 / (220 + r / 2)), abs=1e-9)


def test_thresholds_by_hand() -> None:
    """6 dB above 0.2 V is a loop of 220 Ω × 10^(14/20); the eye closes at ten times less than 2 V: 2200 Ω."""
    use = make_use("digital audio", values={"length": 0.0, "transformer": "none"})
    found = {(t.effect, t.position): t.resistance for t in thresholds(use)}
    assert found["margin", BOTH] == pytest.approx(220 * (10**0.7 - 1) / 4, rel=1e-9)
    assert found["margin", ONE] == pytest.approx(220 * (10**0.7 - 1) / 2, rel=1e-9)
    assert found["eye", BOTH] == pytest.approx(220 * 9 / 4, rel=1e-3)
    back = 10 ** (-19 / 20)
    assert found["return_loss", BOTH] == pytest.approx(220 * back / (1 - back) / 4, rel=1e-6)
    assert found["jitter", BOTH] is None


def test_long_cable_closes_the_eye_by_itself() -> None:
    """The same 2 V over ever more cable: a smaller eye and wider edges, and a margin that a contact finishes."""
    eyes, spreads = [], []
    for length in (10.0, 100.0, 300.0, 600.0):
        found = by_key(make_use("digital audio", values={"length": length}), 0.0)
        eyes.append(found["eye", BOTH])
        spreads.append(found["jitter", BOTH])
        # An eye cannot be wider than what steady pulses leave, loosely: their fundamental is 4/π of them.
        assert found["eye", BOTH] < 0.2 * 10 ** (found["margin", BOTH] / 20) * 4 / math.pi
    assert eyes == sorted(eyes, reverse=True)
    assert spreads == sorted(spreads)
    assert 1.8 < eyes[0] < 2
    assert eyes[2] < 1.5


def test_other_rates_move_the_frequencies() -> None:
    use = make_use("digital audio", values={"sample_rate": 192e3})
    words = " ".join(rule.words for rule in kind_of("digital audio").rules(use))
    assert "12.288 MHz" in words
    assert "24.576 MHz" in words
    slow, fast = (
        by_key(make_use("digital audio", values={"sample_rate": f, "length": 200.0}), 0.0)
        for f in (48e3, 192e3)
    )
    assert fast["eye", BOTH] < slow["eye", BOTH]


def with_screen(use: Use) -> Circuit:
    """The same line with the screen as a third conductor, driven from both legs."""
    ohm, length = core_resistance(use), float(use.settings["length"])

    def wire(frequency):
        return wire_impedance(ohm, frequency)

    own = float(use.settings["inductance"]) / 2
    cc, cs = float(use.settings["core_core"]), float(use.settings["core_screen"])
    cable = cable_of(
        (wire, wire, plain_resistance(0.02)), (own, own, 0.0), [[0, cc, cs], [cc, 0, cs], [cs, cs, 0]], 1e-3
    )
    half = float(use.settings["source_impedance"]) / 2
    return Circuit(
        (
            VoltageSource("up", "drive plus"),
            VoltageSource("down", "drive minus"),
            Resistor("drive plus", "output plus", half),
            Resistor("drive minus", "output minus", half),
            Contact("plus near", "output plus", "cable plus"),
            Contact("minus near", "output minus", "cable minus"),
            Line(("cable plus", "cable minus", "0"), ("end plus", "end minus", "0"), cable, length),
            Contact("plus far", "end plus", "input plus"),
            Contact("minus far", "end minus", "input minus"),
            Resistor("input plus", "input minus", 110.0),
            # A receiver's common-mode impedance, which holds its middle.
            Resistor("input plus", "0", 1e4),
            Resistor("input minus", "0", 1e4),
        )
    )


def test_the_screen_may_be_left_out() -> None:
    """With both legs alike it carries nothing; with one leg worse by 10 Ω it changes the level by less than 0.5 %."""
    use = make_use("digital audio", values={"transformer": "none", "load_impedance": 1 / (1 / 110 + 1 / 2e4)})
    frequency = np.array([0.1e6, 1e6, 3.072e6, 6.144e6])
    drawn = transfers(
        with_screen(use), frequency, {"up": 0.5, "down": -0.5}, [Volts("input plus", "input minus")]
    )[0]
    plain = transfers(
        digital_audio_circuit(use), frequency, {"signal": 1.0}, [Volts("input plus", "input minus")]
    )[0]
    assert drawn.contacts == plain.contacts
    alike = np.array([[2.0, 2.0, 5.0, 5.0]])
    np.testing.assert_allclose(respond(drawn, alike), respond(plain, alike), rtol=1e-9)
    one = np.array([[10.0, 0.0, 10.0, 0.0]])
    assert np.abs(respond(drawn, one) / respond(plain, one) - 1).max() < 5e-3


@pytest.mark.parametrize(
    ("key", "values"),
    [
        ("contacts_far", {"contacts_near": 0, "contacts_far": 0}),
        ("rise_time", {"rise_time": 100e-9, "sample_rate": 96e3}),
        ("rise_time", {"rise_time": 1e-9}),
        ("conductor", {"conductor": "100 mm²"}),
        ("core_core", {"core_core": 0.0, "core_screen": 0.0}),
        ("length", {"length": 2000.0, "loss_tangent": 0.9}),
        ("transformer", {"transformer": "somewhere"}),
    ],
)
def test_settings_that_do_not_go_together_are_refused(key: str, values: dict[str, float | str]) -> None:
    with pytest.raises(ArgumentFault, match=key):
        make_use("digital audio", values=values)


def test_curves_meet_the_effects() -> None:
    use, ohm = make_use("digital audio"), np.array([0.0, 0.1, 10.0])
    curves = response(use, ohm, [3.072e6, 6.144e6])
    found = {(e.key, e.position): e.value for e in effects(use, ohm)}
    np.testing.assert_allclose(curves["margin"][:, 0], found["margin", BOTH], rtol=1e-9)
    np.testing.assert_allclose(curves["margin"][:, 1], found["margin_top", BOTH], rtol=1e-9)
    assert np.all(found["return_loss", BOTH] <= curves["return_loss"].min(1) + 1e-9)
    assert all(rule.source in SOURCES for rule in kind_of("digital audio").rules(use))
