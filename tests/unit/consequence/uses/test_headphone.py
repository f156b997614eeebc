"""A headphone against dividers by hand, and against node equations of its own."""

import numpy as np
import pytest
from tests.unit.consequence.uses.coils import ear_impedance

from ohmsworth.consequence import Use, effects, make_use, response, thresholds
from ohmsworth.consequence.circuit import respond
from ohmsworth.consequence.uses.headphone import CAUTIONS
from ohmsworth.consequence.uses.headphone_circuit import (
    crosstalk_transfer,
    headphone_circuit,
    level_transfer,
)
from ohmsworth.errors import ArgumentFault
from ohmsworth.materials import conductor_from_text, resistance_per_metre, wire_impedance

FLAT = {"resonance_resistance": 0.0, "length": 0.0, "own_crosstalk": 200.0}
FREQUENCY = np.array([20.0, 90.0, 1e3, 20e3])


def headphone(**values: float | str) -> Use:
    return make_use("headphone", values=values)


def value(use: Use, key: str, ohm: float, position: str = "") -> float:
    return next(float(e.value) for e in effects(use, ohm) if e.key == key and position in e.position)


def test_level_of_a_plain_divider() -> None:
    """2 Ω in series with 1 Ω and 32 Ω."""
    use = headphone(**FLAT)
    wanted = 20 * np.log10(33 / 35)
    assert value(use, "level", 2.0) == pytest.approx(wanted, abs=1e-9)
    assert value(use, "balance", 2.0) == pytest.approx(wanted, abs=1e-9)


def test_the_common_return_counts_twice_for_what_both_channels_share() -> None:
    assert value(headphone(**FLAT), "middle", 2.0) == pytest.approx(20 * np.log10(33 / 37), abs=1e-9)


def test_what_differs_between_the_channels_does_not_pass_the_return() -> None:
    """Its current goes out by one channel and back by the other."""
    circuit = headphone_circuit(headphone(**FLAT))
    both = level_transfer(circuit, FREQUENCY)
    alone = crosstalk_transfer(circuit, FREQUENCY)
    ohm = np.array([[0.0, 0.0, 1e6]])
    np.testing.assert_allclose(respond(alone, ohm), -1, rtol=1e-4)
    np.testing.assert_allclose(respond(both, ohm), 0, atol=1e-4)


@pytest.mark.parametrize("ohm", [0.0, 0.05, 2.0])
@pytest.mark.parametrize(("shared", "own"), [(0.0, 2.0), (1.5, 0.5)])
def test_crosstalk_by_node_equations(ohm: float, shared: float, own: float) -> None:
    """Wires as impedances, without their capacitance: the voltage of the point where the returns meet."""
    use = headphone(shared_length=shared, length=own, capacitance=0.0, contacts_far=1.0)
    wire = wire_impedance(resistance_per_metre(conductor_from_text("26 AWG"), 293.15), FREQUENCY)
    metre = wire + 2j * np.pi * FREQUENCY * 0.3e-6
    ear = ear_impedance(use, FREQUENCY)
    common = shared * metre + 2 * ohm
    channel = 1.0 + shared * metre + 2 * own * metre + ear
    # Node m where the returns meet: (1 − m)/channel = m/common + m/channel, right driven with 1 V.
    m = (1 / channel) / (2 / channel + 1 / common) if np.any(common) else 0 * channel
    wanted = -m / (1 - m)
    transfer = crosstalk_transfer(headphone_circuit(use), FREQUENCY)
    found = respond(transfer, [[0, 0, ohm, 0, 0, ohm]])[0]
    np.testing.assert_allclose(found, wanted, rtol=1e-6, atol=1e-12)


def test_a_return_of_its_own_for_each_ear_keeps_them_apart() -> None:
    """A shared lead passes 40 dB by itself; the same length with four conductors leaves only the plug."""
    three = headphone(shared_length=3.0, length=0.0)
    four = headphone(shared_length=0.0, length=3.0)
    assert value(three, "crosstalk", 0.0) > -40
    assert value(four, "crosstalk", 0.0) == pytest.approx(-80, abs=1e-6)
    found = {t.effect: t for t in thresholds(three)}
    assert "already passed" in found["crosstalk"].note


def test_damping_of_plain_resistances() -> None:
    use = headphone(**FLAT)
    assert value(use, "damping", 0.0) == pytest.approx(32)
    assert value(use, "damping", 1.0, "return ideal") == pytest.approx(32 / 2)
    # The other channel lies beside the common return: 1 Ω beside 34 Ω.
    assert value(use, "damping", 1.0, "and of the common") == pytest.approx(32 / (2 + 34 / 35))


def test_the_ear_has_its_resonance() -> None:
    use = headphone()
    assert ear_impedance(use, np.array([0.0]))[0] == pytest.approx(32)
    assert ear_impedance(use, np.array([90.0]))[0] == pytest.approx(48)
    assert abs(ear_impedance(use, np.array([1e3]))[0]) == pytest.approx(32, rel=0.01)
    # B hertz apart, the rise is down by 3 dB: at f² ∓ B f − fs² = 0.
    for sign in (-1, 1):
        edge = (sign * 90 + np.hypot(90, 2 * 90)) / 2
        assert abs(ear_impedance(use, np.array([edge]))[0] - 32) == pytest.approx(16 / np.sqrt(2))


def test_a_flat_ear_keeps_its_bass() -> None:
    use = headphone(**FLAT)
    assert value(use, "bass", 100.0) == pytest.approx(0, abs=1e-6)
    found = {t.effect: t for t in thresholds(use)}["bass"]
    assert found.resistance is None
    assert "not reached" in found.note


def test_curves_pass_through_the_effects() -> None:
    use = headphone()
    curves = response(use, [0.0, 0.1, 3.0], [1e3])
    for ohm, crosstalk, damping in zip((0.0, 0.1, 3.0), curves["crosstalk"], curves["damping"], strict=True):
        assert crosstalk[0] == pytest.approx(value(use, "crosstalk", ohm))
        assert damping[0] == pytest.approx(value(use, "damping", ohm, "and of the common"))


def test_contacts_that_are_not_there_change_nothing() -> None:
    """An extension with ideal contacts is a longer cable."""
    plain, extended = (headphone(contacts_far=n) for n in (0.0, 1.0))
    for one, other in zip(effects(plain, 0.0), effects(extended, 0.0), strict=True):
        assert one.ideal == pytest.approx(other.ideal, abs=1e-9)
    assert value(extended, "middle", 1.0) == pytest.approx(value(plain, "middle", 2.0), abs=1e-4)


def test_hearing_is_guarded() -> None:
    assert any("hearing" in caution for caution in CAUTIONS)


@pytest.mark.parametrize(
    ("key", "wrong"),
    [("output_impedance", 0.0), ("ear_impedance", 0.5), ("length", -1.0), ("conductor", "x")],
)
def test_values_out_of_range_are_refused(key: str, wrong: float | str) -> None:
    with pytest.raises(ArgumentFault, match=key):
        headphone(**{key: wrong})


def test_a_headphone_needs_a_contact() -> None:
    with pytest.raises(ArgumentFault, match="contact"):
        headphone(contacts_near=0, contacts_far=0)
