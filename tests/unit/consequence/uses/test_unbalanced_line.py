"""An unbalanced line against closed forms and against chain matrices of another library."""

import numpy as np
import pytest
import skrf

from ohmsworth.consequence import Use, effects, make_use, response, thresholds
from ohmsworth.consequence.circuit import respond
from ohmsworth.consequence.uses.unbalanced_line import (
    CAUTIONS,
    earth_transfer,
    signal_transfer,
    unbalanced_circuit,
)
from ohmsworth.errors import ArgumentFault
from ohmsworth.materials import conductor_from_text, resistance_per_metre, wire_impedance

FREQUENCY = np.array([20.0, 50.0, 1e3, 10e3, 20e3, 100e3])


def line(**values: float | str) -> Use:
    return make_use("unbalanced line", values=values)


def value(use: Use, key: str, ohm: float, position: str = "") -> float:
    return next(float(e.value) for e in effects(use, ohm) if e.key == key and position in e.position)


@pytest.mark.parametrize("ohm", [0.0, 3e-3, 0.1, 10.0])
def test_hum_is_a_divider_of_the_way_through_the_screen(ohm: float) -> None:
    """U (Rs l + 2R) over that, the earth's way and the inductance of both: the core is coupled to the screen."""
    use = line(capacitance=0.0, input_capacitance=0.0, input_resistance=1e9, length=10.0)
    transfer = earth_transfer(unbalanced_circuit(use), FREQUENCY)
    drop = 0.02 * 10 + 2 * ohm
    wanted = drop / (drop + 0.2 + 2j * np.pi * FREQUENCY * (5e-6 + 10 * 1e-6))
    np.testing.assert_allclose(respond(transfer, [[0.0, ohm, 0.0, ohm]])[0], wanted, rtol=2e-5)


def test_hum_falls_above_the_corner_of_resistance_and_inductance() -> None:
    """By 3.01 dB at (Rs l + 2R + Re)/2πLl, and by 20 dB a decade beyond."""
    use = line(earth_resistance=1e-3, earth_inductance=0.0, length=100.0, capacitance=0.0, own_hum=200.0)
    corner = (0.02 * 100 + 1e-3) / (2 * np.pi * 100e-6)
    found = response(use, 0.0, [corner / 1e3, corner, corner * 5, corner * 50])["hum"][0]
    assert found[1] - found[0] == pytest.approx(-10 * np.log10(2), abs=0.01)
    assert found[3] - found[2] == pytest.approx(-20, abs=0.2)


def test_hum_is_told_against_the_nominal_level() -> None:
    """1 mV at no screen at all (open contacts) under 1 V; 100 dB below it adds a hundredth more."""
    use = line(nominal_level=1.0, output_impedance=1e-3, own_hum=100.0, input_capacitance=0.0, length=0.0)
    assert value(use, "hum", 1e9) == pytest.approx(20 * np.log10(1e-3 + 1e-5), abs=1e-3)
    assert value(use, "hum", 0.0) == pytest.approx(-100)


@pytest.mark.parametrize("ohm", [0.0, 5.0, 2e3])
def test_signal_as_chain_matrices_of_another_library(ohm: float) -> None:
    """Earths apart by 1 GΩ, so that all current returns by the screen: contacts, line and contacts as a chain."""
    use = line(earth_resistance=1e9, length=50.0, loss_tangent=0.02)
    wire = wire_impedance(resistance_per_metre(conductor_from_text("0.22 mm²"), 293.15), FREQUENCY)
    omega = 2 * np.pi * FREQUENCY
    medium = skrf.media.DistributedCircuit(
        skrf.Frequency.from_f(FREQUENCY, unit="hz"),
        R=wire.real + 0.02,
        L=0.6e-6 + wire.imag / omega,
        C=100e-12,
        G=omega * 0.02 * 100e-12,
    )
    contact = np.array([[1, 2 * ohm], [0, 1]], dtype=complex)
    chain = contact @ medium.line(50.0, "m").a @ contact
    load = 1 / 10e3 + 1j * omega * 100e-12
    source = chain[:, 0, 0] + chain[:, 0, 1] * load + 1e3 * (chain[:, 1, 0] + chain[:, 1, 1] * load)
    found = respond(signal_transfer(unbalanced_circuit(use), FREQUENCY), np.full((1, 4), ohm))[0]
    np.testing.assert_allclose(found, 1 / source, rtol=2e-5)


def test_level_of_a_plain_divider() -> None:
    use = line(length=0.0, input_capacitance=0.0)
    assert value(use, "level", 50.0, "hot contact") == pytest.approx(20 * np.log10(11e3 / 11.1e3), abs=1e-9)


def test_a_bad_screen_contact_costs_no_level_where_earth_carries_the_signal() -> None:
    """The signal returns by the earth conductors: 0.2 Ω at most are in series with it."""
    everything = effects(line(), 50.0)
    both = next(float(e.value) for e in everything if e.key == "level" and "hot and screen" in e.position)
    hot = next(float(e.value) for e in everything if e.key == "level" and "ideal" in e.position)
    assert both == pytest.approx(hot, abs=2e-4)


def test_noise_of_eight_contacts() -> None:
    """No cable: 4 × 250 Ω more on 1 kΩ, twice the noise power when nothing else is there."""
    use = line(length=0.0, source_noise=0.0)
    assert value(use, "noise", 250.0) == pytest.approx(10 * np.log10(2), abs=1e-9)


def test_milliohms_of_a_screen_contact_matter_and_those_of_a_hot_one_do_not() -> None:
    found = {(t.effect, t.position): t.resistance for t in thresholds(line())}
    screen = [
        r for (effect, _), r in found.items() if effect in ("hum", "hum_rise", "buzz") and r is not None
    ]
    others = [
        r for (effect, _), r in found.items() if effect in ("level", "treble", "noise") and r is not None
    ]
    assert len(screen) == 3
    assert len(others) == 4
    assert max(screen) < 0.1
    assert min(others) > 50


def test_the_rise_hardly_depends_on_how_far_the_earths_differ() -> None:
    rises = [value(line(earth_difference=volts), "hum_rise", 0.05) for volts in (1e-3, 0.1)]
    assert rises[0] == pytest.approx(rises[1], abs=0.6)


def test_a_circuit_that_hums_anyway_says_so() -> None:
    found = {t.effect: t for t in thresholds(line(earth_difference=0.1))}["hum"]
    assert found.resistance is None
    assert "already passed" in found.note


def test_the_mains_of_other_countries_is_said() -> None:
    assert any("60 Hz" in t.words for t in thresholds(line(mains_frequency=60.0)))


def test_protective_earth_is_defended() -> None:
    assert any("protective earth" in caution for caution in CAUTIONS)


@pytest.mark.parametrize(
    ("key", "wrong"),
    [
        ("earth_resistance", 0.0),
        ("nominal_level", 0.0),
        ("contacts_near", 0.5),
        ("conductor", "thin"),
        ("own_hum", 0.0),
    ],
)
def test_values_out_of_range_are_refused(key: str, wrong: float | str) -> None:
    with pytest.raises(ArgumentFault, match=key):
        line(**{key: wrong})


def test_a_line_needs_a_contact() -> None:
    with pytest.raises(ArgumentFault, match="contact"):
        line(contacts_near=0, contacts_far=0)
