"""An instrument against a ladder computed by hand, and Nyquist's theorem by quadrature."""

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import minimize_scalar

from ohmsworth.consequence import Use, effects, make_use, response, thermal_noise, thresholds
from ohmsworth.consequence.circuit import respond
from ohmsworth.consequence.uses.instrument import CAUTIONS
from ohmsworth.consequence.uses.instrument_circuit import instrument_circuit, string_transfer
from ohmsworth.errors import ArgumentFault

FREQUENCY = np.array([20.0, 1e3, 3e3, 5e3, 20e3])
#: All of a cable's capacitance in a tenth of a metre, so that the rest of it is nothing, and a player in the air.
SHORT = {
    "length": 0.1,
    "capacitance": 6e-9,
    "inductance": 0.0,
    "screen_resistance": 0.0,
    "body_mains": 0.0,
    "body_earth": 0.0,
}


def instrument(**values: float | str) -> Use:
    return make_use("instrument", values=values)


def value(use: Use, key: str, ohm: float, position: str = "") -> float:
    return next(float(e.value) for e in effects(use, ohm) if e.key == key and position in e.position)


def ladder(frequency: np.ndarray, ohm: float, volume: float = 1.0, tone: float = 1.0) -> np.ndarray:
    """Volts at the input by dividers, from the input backwards: `ohm` at every contact."""
    s = 2j * np.pi * frequency
    y = 1e-6 + s * 100e-12
    far = 1 / (1 + 2 * ohm * y)
    y = y * far + s * 600e-12
    near = 1 / (1 + 2 * ohm * y)
    y = y * near + 1 / (volume * 250e3)
    top = 1 / (1 + (1 - volume) * 250e3 * y)
    y = y * top + s * 120e-12 + 1e-6 + 1 / (tone * 250e3 + 1 / (s * 22e-9))
    return far * near * top / (1 + (6e3 + 2.4 * s) * y)


@pytest.mark.parametrize("ohm", [0.0, 10.0, 5e3])
@pytest.mark.parametrize(("volume", "tone"), [(1.0, 1.0), (0.3, 1.0), (1.0, 0.0)])
def test_signal_as_a_ladder_by_hand(ohm: float, volume: float, tone: float) -> None:
    circuit = instrument_circuit(instrument(**SHORT, volume=volume, tone=tone))
    found = respond(string_transfer(circuit, FREQUENCY), np.full((1, 4), ohm))[0]
    np.testing.assert_allclose(found, ladder(FREQUENCY, ohm, volume, tone), rtol=1e-6)


def test_level_and_brightness_are_those_of_the_ladder() -> None:
    decibel = 20 * np.log10(np.abs(ladder(FREQUENCY, 5e3) / ladder(FREQUENCY, 0.0)))
    use = instrument(**SHORT)
    assert value(use, "level", 5e3, "hot and return") == pytest.approx(decibel[1], abs=1e-5)
    assert value(use, "treble", 5e3) == pytest.approx(decibel[3] - decibel[1], abs=1e-5)


@pytest.mark.parametrize("ohm", [1e3, 5e3, 20e3])
def test_the_resonance_is_that_of_the_ladder(ohm: float) -> None:
    """By minimising on the ladder itself, without places or a spline."""

    def top(r: float) -> tuple[float, float]:
        found = minimize_scalar(
            lambda log: -abs(complex(ladder(np.array([np.exp(log)]), r)[0])),
            bounds=(np.log(1e3), np.log(10e3)),
            method="bounded",
            options={"xatol": 1e-9},
        )
        low = abs(complex(ladder(np.array([100.0]), r)[0]))
        return float(np.exp(found.x)), float(20 * np.log10(-found.fun / low))

    use = instrument(**SHORT)
    (f0, h0), (f1, h1) = top(0.0), top(ohm)
    assert value(use, "resonance_shift", ohm) == pytest.approx(100 * abs(f1 / f0 - 1), abs=0.05)
    assert value(use, "resonance_height", ohm) == pytest.approx(h1 - h0, abs=1e-3)


def test_hum_is_what_flows_from_the_air_through_the_sleeve() -> None:
    """230 V through 3 pF give 0.217 µA; that over two contacts and 0.12 Ω of screen, against 0.1 V."""
    current = 230 * 2 * np.pi * 50 * 3e-12
    assert current == pytest.approx(0.217e-6, abs=0.5e-9)
    hum = 20 * np.log10(current * (2 * 100 + 0.12) / 0.1 + 1e-5)
    assert value(instrument(), "hum", 100.0) == pytest.approx(hum, abs=0.1)


def test_an_open_sleeve_is_limited_by_the_players_own_capacitance() -> None:
    """At most the share of 230 V that 3 pF and 303 pF leave, 2.3 V."""
    assert value(instrument(), "hum", 1e9) < 20 * np.log10(230 * 3 / 303 / 0.1)


def test_noise_of_resistors_alone() -> None:
    """Nothing but resistors: the noise of all of them side by side, with contacts in series with a part."""
    use = instrument(
        **{**SHORT, "capacitance": 0.0, "length": 0.0},
        pickup_capacitance=0.0,
        input_capacitance=0.0,
        pickup_inductance=1e-3,
        tone_capacitance=0.0,
        input_noise=0.0,
    )
    source = 1 / (1 / 6e3 + 1 / 1e6 + 1 / 250e3)
    for ohm in (0.0, 1e3):
        whole = 1 / (1 / (source + 4 * ohm) + 1e-6)
        wanted = float(thermal_noise(whole, 293.15, 20e3))
        assert value(use, "thermal_noise", ohm) == pytest.approx(wanted, rel=1e-4)


@pytest.mark.parametrize("ohm", [10.0, 3e3])
def test_thermal_noise_by_adding_up_every_resistor(ohm: float) -> None:
    """Each resistor's own noise through its own way to the input, instead of the impedance seen from there."""
    use = instrument(**SHORT, bandwidth=10e3)

    def density(frequency: float) -> float:
        s = 2j * np.pi * frequency
        load = 1e-6 + s * 100e-12
        winding = 6e3 + 2.4 * s
        tone = 250e3 + 1 / (s * 22e-9)
        shunt = 1 / 250e3 + 1e-6 + s * 120e-12 + 1 / tone + 1 / winding
        # Nodes: pickup, cable, input.
        near = far = 1 / (2 * ohm)
        matrix = np.array(
            [
                [shunt + near, -near, 0],
                [-near, near + far + s * 600e-12, -far],
                [0, -far, far + load],
            ]
        )
        reach = np.linalg.inv(matrix)[2]
        at_pickup = 6e3 / abs(winding) ** 2 + 250e3 / abs(tone) ** 2 + 1 / 250e3 + 1e-6
        in_contacts = abs(reach[0] - reach[1]) ** 2 * near + abs(reach[1] - reach[2]) ** 2 * far
        return float(abs(reach[0]) ** 2 * at_pickup + in_contacts + abs(reach[2]) ** 2 * 1e-6)

    ohms = quad(density, 1e-3, 10e3, epsrel=1e-8, limit=500, points=[100, 1e3, 3e3])[0] / 10e3
    assert value(use, "thermal_noise", ohm) == pytest.approx(
        float(thermal_noise(ohms, 293.15, 10e3)), rel=1e-3
    )


def test_milliohms_mean_nothing_to_a_pickup() -> None:
    """Every threshold lies above 100 Ω: what matters here is a contact that opens, not one that is worse."""
    found = [t.resistance for t in thresholds(instrument())]
    assert len(found) == 8
    assert min(r for r in found if r is not None) > 100


def test_a_shorter_cable_makes_brighter() -> None:
    long, short = (response(instrument(length=m), 0.0, [1e3, 5e3])["response"][0] for m in (6.0, 1.0))
    assert short[1] - short[0] > long[1] - long[0] + 3


def test_without_a_resonance_none_can_move() -> None:
    """The volume control turned down damps it away."""
    found = {t.effect: t for t in thresholds(instrument(volume=0.5))}
    assert found["resonance_shift"].resistance is None
    assert "not reached" in found["resonance_shift"].note


def test_protective_earth_is_defended() -> None:
    assert any("protective earth" in caution for caution in CAUTIONS)


@pytest.mark.parametrize(
    ("key", "wrong"),
    [("volume", 0.0), ("volume", 1.1), ("tone", -0.1), ("pickup_inductance", 0.0), ("conductor", "")],
)
def test_values_out_of_range_are_refused(key: str, wrong: float | str) -> None:
    with pytest.raises(ArgumentFault, match=key):
        instrument(**{key: wrong})


def test_an_instrument_needs_a_contact() -> None:
    with pytest.raises(ArgumentFault, match="contact"):
        instrument(contacts_near=0, contacts_far=0)
