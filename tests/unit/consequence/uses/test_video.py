"""Video against scikit-rf, against lines and dividers by hand, and against itself at other places."""

import math

import numpy as np
import pytest
import skrf
from scipy.special import ive

from ohmsworth.consequence import Use, effects, make_use, response, thresholds
from ohmsworth.consequence.circuit import wave_constants
from ohmsworth.consequence.kinds import kind_of
from ohmsworth.consequence.uses.cables import coaxial
from ohmsworth.errors import ArgumentFault
from ohmsworth.materials import COPPER_RESISTIVITY
from ohmsworth.sources import SOURCES

MU0 = 4e-7 * math.pi
FREQUENCY = np.array([1e6, 5e6, 33e6, 0.7425e9, 1.485e9, 2.97e9])


def by_key(use: Use, ohm: float) -> dict[tuple[str, str], float]:
    return {(e.key, e.position): float(e.value) for e in effects(use, np.asarray(ohm))}


BOTH = "every contact of centre and screen"
CENTRE = "every contact of the centre, the screen ideal"
SCREEN = "every contact of the screen, the centre ideal"


def test_a_cascade_in_scikit_rf() -> None:
    """Series resistors and a line by scattering parameters; the line's constants by Bessel functions of another kind."""
    values: dict[str, float | str] = {
        "conductor": "0.5 mm²",
        "length": 40.0,
        "contacts_near": 2,
        "contacts_far": 3,
        "screen_diameter": 3.6e-3,
        "screen_resistance": 0.012,
        "loss_tangent": 4e-4,
    }
    use = make_use("video", values=values)
    omega = 2 * math.pi * FREQUENCY
    root = np.sqrt(1j * omega * MU0 / COPPER_RESISTIVITY)
    # IACS copper of 0.5 mm²: z = (kρ/2πa) I0(ka)/I1(ka).
    radius = math.sqrt(0.5e-6 / math.pi)
    wire = root * COPPER_RESISTIVITY / (2 * math.pi * radius) * ive(0, root * radius) / ive(1, root * radius)
    thickness = COPPER_RESISTIVITY / (2 * math.pi * 1.8e-3 * 0.012)
    screen = root * COPPER_RESISTIVITY / (2 * math.pi * 1.8e-3) / np.tanh(root * thickness)
    z = wire + screen + 1j * omega * float(use.settings["inductance"])
    y = omega * float(use.settings["capacitance"]) * (1j + 4e-4)
    span = skrf.Frequency.from_f(FREQUENCY, unit="hz")
    port = skrf.media.DefinedGammaZ0(span, z0=75.0, gamma=np.sqrt(z * y))
    line = skrf.media.DefinedGammaZ0(span, z0_port=75.0, z0=np.sqrt(z / y), gamma=np.sqrt(z * y))
    for ohm in (0.0, 0.02, 3.0, 200.0):
        # Centre and screen: twice so many in the loop.
        whole = port.resistor(4 * ohm) ** line.line(40.0, "m") ** port.resistor(6 * ohm)
        curves = response(use, [ohm], FREQUENCY)
        np.testing.assert_allclose(
            10 ** (-curves["return_loss"][0] / 20), np.abs(whole.s[:, 0, 0]), rtol=0, atol=1e-9
        )
        np.testing.assert_allclose(
            10 ** (-curves["insertion_loss"][0] / 20), np.abs(whole.s[:, 1, 0]), rtol=0, atol=1e-9
        )


def test_contacts_alone() -> None:
    """No cable: r in the loop between 75 Ω and 75 Ω. S11 = r/(r + 150), S21 = 150/(r + 150)."""
    use = make_use("video", values={"length": 0.0})
    for ohm in (0.01, 1.0, 50.0):
        r = 4 * ohm
        found = by_key(use, ohm)
        back, through = r / (r + 150), 150 / (r + 150)
        assert found["return_loss", BOTH] == pytest.approx(-20 * math.log10(back), abs=1e-5)
        assert found["return_loss_high", BOTH] == pytest.approx(-20 * math.log10(back), abs=1e-5)
        assert found["added_loss", BOTH] == pytest.approx(-20 * math.log10(through), abs=1e-9)
        assert found["level", BOTH] == pytest.approx(20 * math.log10(through), abs=1e-9)
        half = (r / 2) / (r / 2 + 150)
        assert found["return_loss", CENTRE] == pytest.approx(-20 * math.log10(half), abs=1e-5)
        assert found["return_loss", SCREEN] == pytest.approx(-20 * math.log10(half), abs=1e-5)


def test_nothing_comes_back_from_nothing() -> None:
    """Equal ends and no cable: 200 dB is as much as is told, and no infinity."""
    found = by_key(make_use("video", values={"length": 0.0}), 0.0)
    assert found["return_loss", BOTH] == pytest.approx(200.0)
    assert found["added_loss", BOTH] == 0


def test_the_return_loss_curve_passes_below_no_worst() -> None:
    """At 10000 frequencies none is worse than the worst told, but by what lies between its points."""
    dense = np.concatenate((np.linspace(5e6, 1e8, 6000), np.linspace(1e8, 1.485e9, 4000)))
    for length, ohm in ((0.5, 2.0), (30.0, 2.0), (30.0, 20.0), (300.0, 5.0)):
        use = make_use("video", values={"length": length})
        worst = response(use, [ohm], dense)["return_loss"].min()
        told = by_key(use, ohm)["return_loss", BOTH]
        assert worst - 1e-9 <= told <= worst + 0.15


def test_reach_is_the_length_at_which_the_circuit_loses_the_budget() -> None:
    """The formula leaves out what runs to and fro between the ends: 0.1 dB, which is half a metre."""
    for ohm in (0.0, 0.5, 3.0):
        use = make_use("video")
        found = by_key(use, ohm)
        length = found["reach", BOTH]
        longer = make_use("video", values={"length": length})
        loss = float(response(longer, [ohm], [0.7425e9])["insertion_loss"][0, 0])
        assert loss == pytest.approx(20.0, abs=0.1)
        assert found["reach_lost", BOTH] == pytest.approx(by_key(use, 0.0)["reach", BOTH] - length)


def test_reach_of_a_good_cable() -> None:
    """Matched ends: the budget over the loss of a metre."""
    use = make_use("video")
    gamma, z0 = wave_constants(coaxial(use), 0.7425e9)
    assert abs(z0[0]) == pytest.approx(75.0, rel=0.005)
    expected = 20 / (20 * math.log10(math.e) * gamma.real[0])
    assert by_key(use, 0.0)["reach", BOTH] == pytest.approx(expected, rel=1e-4)
    assert by_key(use, 1e6)["reach", BOTH] == 0


def test_hum_of_a_screen() -> None:
    """5 mV over 1 Ω of earth wiring; screen 0.2 Ω and two contacts of 0.4 Ω: the half of 5 mV, half of it at the input."""
    use = make_use("video", values={"length": 20.0, "screen_resistance": 0.01})
    expected = 5e-3 * 1.0 / 2.0 / 2 * 2 * math.sqrt(2)
    assert by_key(use, 0.4)["hum", SCREEN] == pytest.approx(expected, rel=1e-12)


def test_thresholds_of_the_default_line() -> None:
    found = {(t.effect, t.position): t.resistance for t in thresholds(make_use("video"))}
    assert all(resistance is not None for resistance in found.values())
    # What a metre of reach is worth: as many decibels as a metre of cable loses.
    use = make_use("video")
    gamma, _ = wave_constants(coaxial(use), 0.7425e9)
    metre = 20 * math.log10(math.e) * gamma.real[0]
    assert found["reach_lost", BOTH] == pytest.approx(75 * (10 ** (metre / 40) - 1), rel=2e-3)
    assert found["return_loss", CENTRE] == pytest.approx(2 * found["return_loss", BOTH], rel=1e-9)


def test_a_cable_of_50_ohm_is_told_to_be_wrong_itself() -> None:
    use = make_use("video", values={"inductance": 0.25e-6, "capacitance": 100e-12})
    found = next(t for t in thresholds(use) if t.effect == "return_loss")
    assert found.resistance is None
    assert "already passed" in found.note


def test_curves_meet_the_effects() -> None:
    use, ohm = make_use("video"), np.array([0.0, 0.1, 10.0])
    curves = response(use, ohm, [5e6, 0.7425e9])
    found = {(e.key, e.position): e.value for e in effects(use, ohm)}
    np.testing.assert_allclose(curves["added_loss"][:, 1], found["added_loss", BOTH], rtol=1e-9, atol=1e-12)
    np.testing.assert_allclose(-curves["added_loss"][:, 0], found["level", BOTH], rtol=1e-9, atol=1e-12)
    assert np.all(found["return_loss", BOTH] <= curves["return_loss"].min(1) + 0.15)
    rise = curves["insertion_loss"] - curves["insertion_loss"][:1]
    np.testing.assert_allclose(rise, curves["added_loss"], rtol=1e-9, atol=1e-9)


@pytest.mark.parametrize(
    ("key", "values"),
    [
        ("contacts_far", {"contacts_near": 0, "contacts_far": 0}),
        ("band_middle", {"band_middle": 4e6}),
        ("band_middle", {"band_high": 1e9}),
        ("conductor", {"conductor": "10 mm²"}),
        ("length", {"length": 1000.0, "loss_tangent": 0.9}),
        ("capacitance", {"capacitance": 0.0}),
        ("clock", {"clock": 20e9}),
    ],
)
def test_settings_that_do_not_go_together_are_refused(key: str, values: dict[str, float | str]) -> None:
    with pytest.raises(ArgumentFault, match=key):
        make_use("video", values=values)


def test_what_is_told() -> None:
    kind = kind_of("video")
    assert len(kind.cautions) == 2
    assert all(rule.source in SOURCES for rule in kind.rules(make_use("video")))
    words = [t.words for t in thresholds(make_use("video", values={"clock": 270e6}))]
    assert any("135 MHz" in told for told in words)
    with pytest.raises(ArgumentFault):
        response(make_use("video"), [0.0], [7e9])


def test_a_cable_that_is_too_long_by_itself_is_told_so() -> None:
    """300 m lose three times what an input makes up for: no contact is needed for that. By hand, Re γ l in decibels."""
    long = make_use("video", values={"length": 300.0})
    gamma, _ = wave_constants(coaxial(long), 0.7425e9)
    alone = 300.0 * 20 / math.log(10) * float(gamma.real[0])
    assert by_key(long, 0.0)["loss", BOTH] == pytest.approx(alone, abs=0.02)
    (threshold,) = (t for t in thresholds(long) if t.effect == "loss")
    assert threshold.resistance is None
    assert "already passed with ideal contacts" in threshold.note
    (fits,) = (t for t in thresholds(make_use("video")) if t.effect == "loss")
    assert fits.resistance is not None
    assert by_key(make_use("video"), fits.resistance)["loss", BOTH] == pytest.approx(20.0, abs=1e-6)
