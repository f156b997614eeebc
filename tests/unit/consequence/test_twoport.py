"""Two-ports against scikit-rf, an independent computation, and against circuits worked out by hand."""

import numpy as np
import pytest
import skrf

from ohmsworth.consequence.losses import insertion_loss, largest_gain, passive, reciprocal, return_loss
from ohmsworth.consequence.scattering import (
    at_frequency,
    chain_from_scattering,
    impedance_of,
    scattering_from_chain,
)
from ohmsworth.consequence.twoport import (
    OnePort,
    TwoPort,
    cascade,
    chain_from_admittance,
    chain_from_impedance,
    series,
    shunt,
)
from ohmsworth.errors import ArgumentFault

FREQUENCY = np.linspace(1e5, 1e8, 41)
OMEGA = 2j * np.pi * FREQUENCY
REFERENCES = [50.0, 75.0, (50.0, 75.0), (600.0, 4.0)]


def filtered() -> TwoPort:
    """A lossy ladder, not symmetrical: series R and L, shunt R and C, and a second coil."""
    return cascade(
        series(FREQUENCY, 3 + OMEGA * 0.4e-6),
        shunt(FREQUENCY, 1e-3 + OMEGA * 90e-12),
        series(FREQUENCY, 0.5 + OMEGA * 0.2e-6),
    )


def amplifying() -> TwoPort:
    """A two-port that passes more forward than backward, and more than it gets."""
    scattering = np.array([[0.1 + 0.1j, 0.02], [3 - 1j, -0.2j]])
    chain = chain_from_scattering(np.tile(scattering, (len(FREQUENCY), 1, 1)), 50.0)
    return TwoPort(FREQUENCY, chain)


@pytest.mark.parametrize("reference", REFERENCES)
@pytest.mark.parametrize("two_port", [filtered(), amplifying()], ids=["ladder", "amplifier"])
def test_scattering_is_that_of_scikit_rf(two_port: TwoPort, reference: object) -> None:
    found = scattering_from_chain(two_port.chain, reference)
    wanted = skrf.network.a2s(two_port.chain, np.broadcast_to(reference, (len(FREQUENCY), 2)).astype(complex))
    np.testing.assert_allclose(found, wanted, rtol=1e-12, atol=1e-14)
    back = skrf.network.s2a(wanted, np.broadcast_to(reference, (len(FREQUENCY), 2)).astype(complex))
    np.testing.assert_allclose(chain_from_scattering(wanted, reference), back, rtol=1e-12, atol=1e-14)


def test_impedance_and_admittance_are_those_of_scikit_rf() -> None:
    two_port = filtered()
    other = skrf.Network(f=FREQUENCY, f_unit="hz", s=scattering_from_chain(two_port.chain, 50.0), z0=50)
    np.testing.assert_allclose(chain_from_impedance(other.z), two_port.chain, rtol=1e-9)
    np.testing.assert_allclose(chain_from_admittance(other.y), two_port.chain, rtol=1e-9)
    np.testing.assert_allclose(
        chain_from_admittance(np.linalg.inv(other.z)), chain_from_impedance(other.z), rtol=1e-12
    )


def test_a_cascade_is_that_of_scikit_rf() -> None:
    parts = (filtered(), amplifying(), series(FREQUENCY, 0.003))
    whole = cascade(*parts)
    networks = [
        skrf.Network(f=FREQUENCY, f_unit="hz", s=scattering_from_chain(part.chain, 50.0), z0=50)
        for part in parts
    ]
    wanted = networks[0] ** networks[1] ** networks[2]
    np.testing.assert_allclose(scattering_from_chain(whole.chain, 50.0), wanted.s, rtol=1e-12, atol=1e-14)


def test_a_lossy_line_is_that_of_scikit_rf() -> None:
    # A line of 75 ohm, 0.2 dB and 30 degrees, written for 50 ohm: its chain by cosh and sinh, its S by scikit-rf.
    media = skrf.media.DefinedGammaZ0(
        skrf.Frequency(1, 10, 10, unit="mhz"), gamma=0.005 + 1j * np.linspace(0.02, 0.2, 10), z0=75 + 0j
    )
    line = media.line(3.0, "m", z0=75.0)
    line.renormalize(50.0)
    angle = media.gamma * 3.0
    row = (
        np.stack((np.cosh(angle), 75 * np.sinh(angle)), -1),
        np.stack((np.sinh(angle) / 75, np.cosh(angle)), -1),
    )
    np.testing.assert_allclose(scattering_from_chain(np.stack(row, -2), 50.0), line.s, rtol=1e-12, atol=1e-14)


def test_losses_between_unlike_resistances() -> None:
    # 25 ohm into 100 ohm over 10 ohm in line, by hand: 3/5.4 volt of 4/5 volt per volt; Zin = 110 ohm.
    two_port = series([1e3], 10.0)
    assert insertion_loss(two_port, 25.0, 100.0)[0] == pytest.approx(20 * np.log10(135 / 125), rel=1e-12)
    assert return_loss(two_port, 25.0, 100.0)[0] == pytest.approx(20 * np.log10(135 / 85), rel=1e-12)
    other = skrf.Network(
        f=[1e3], f_unit="hz", s=scattering_from_chain(two_port.chain, (25.0, 100.0)), z0=[25, 100]
    )
    assert return_loss(two_port, 25.0, 100.0)[0] == pytest.approx(-other.s_db[0, 0, 0], rel=1e-12)


def test_with_like_resistances_the_insertion_loss_is_s21() -> None:
    s21 = scattering_from_chain(filtered().chain, 75.0)[:, 1, 0]
    np.testing.assert_allclose(
        insertion_loss(filtered(), 75.0, 75.0), -20 * np.log10(np.abs(s21)), rtol=1e-12
    )


def test_a_filter_between_unlike_resistances_can_gain_on_a_straight_joint() -> None:
    # An L section that matches 50 ohm to 200 ohm at one frequency: 4·50·200/(250)² of the power is reached without it.
    frequency = np.array([1e6])
    quality = np.sqrt(200 / 50 - 1)
    match = cascade(series(frequency, 1j * 50 * quality), shunt(frequency, 1j * quality / 200))
    assert insertion_loss(match, 50.0, 200.0)[0] == pytest.approx(
        10 * np.log10(4 * 50 * 200 / 250**2), rel=1e-9
    )
    assert return_loss(match, 50.0, 200.0)[0] > 200


def test_nothing_in_line_loses_nothing() -> None:
    nothing = series(FREQUENCY, 0.0)
    assert np.all(insertion_loss(nothing, 600.0, 600.0) == 0)
    assert np.all(np.isinf(return_loss(nothing, 600.0, 600.0)))


def test_an_amplifier_is_neither_reciprocal_nor_passive() -> None:
    assert reciprocal(filtered())
    assert passive(filtered())
    assert not reciprocal(amplifying())
    assert not passive(amplifying())
    assert np.all(largest_gain(amplifying()) > 3)
    assert not passive(series(FREQUENCY, -1.0))
    assert np.all(np.isinf(largest_gain(TwoPort(FREQUENCY, np.zeros((41, 2, 2), complex)))))


def test_a_long_lossy_line_is_reciprocal_in_spite_of_its_large_products() -> None:
    angle = np.array([30 + 3j])  # 260 dB
    chain = np.array([[np.cosh(angle), 50 * np.sinh(angle)], [np.sinh(angle) / 50, np.cosh(angle)]])
    assert reciprocal(TwoPort(np.array([1e6]), np.moveaxis(chain, -1, 0)))


def test_known_frequencies_are_given_back() -> None:
    found = at_frequency(filtered(), FREQUENCY[3:9:2])
    np.testing.assert_allclose(found.chain, filtered().chain[3:9:2], rtol=1e-12)


def turning(step: float) -> TwoPort:
    """A line without loss of 50 ohm that turns S21 by `step` from one frequency to the next."""
    angle = 1j * step * np.arange(1, 20)
    chain = np.array([[np.cosh(angle), 50 * np.sinh(angle)], [np.sinh(angle) / 50, np.cosh(angle)]])
    return TwoPort(np.arange(1.0, 20.0) * 1e6, np.moveaxis(chain, -1, 0))


def test_between_frequencies_a_line_is_right_to_the_stated_error() -> None:
    step = np.radians(10)
    found = at_frequency(turning(step), [7.5e6])
    s21 = scattering_from_chain(found.chain, 50.0)[0, 1, 0]
    error = abs(s21 - np.exp(-7.5j * step))
    assert error == pytest.approx(1 - np.cos(step / 2), rel=1e-6)
    assert error < 0.01


def test_steps_that_are_too_long_are_refused_where_they_are_asked_for() -> None:
    coarse = turning(np.radians(20))
    with pytest.raises(ArgumentFault, match="between 7e\\+06 and 8e\\+06 Hz"):
        at_frequency(coarse, [7.5e6])
    assert at_frequency(coarse, [7.5e6], tolerance=0.02).frequency == [7.5e6]
    assert at_frequency(coarse, [7e6]).frequency == [7e6]


def test_two_frequencies_bear_no_line_between_them_unless_alike() -> None:
    two = TwoPort(np.array([1e6, 2e6]), turning(np.radians(5)).chain[:2])
    with pytest.raises(ArgumentFault, match="measure finer steps"):
        at_frequency(two, [1.5e6])
    assert at_frequency(series([1e6, 2e6], 3.0), [1.5e6]).chain[0, 0, 1] == pytest.approx(3.0)


@pytest.mark.parametrize("frequency", [[0.0], [1e8 + 1], [1e5, 2e8], [float("nan")]])
def test_nothing_is_told_outside_the_known_frequencies(frequency: list[float]) -> None:
    with pytest.raises(ArgumentFault, match="between which the two-port is known"):
        at_frequency(filtered(), frequency)


def test_a_one_port_is_an_impedance() -> None:
    reflection = (30 + 40j - 75) / (30 + 40j + 75)
    one_port = OnePort(np.array([1e6]), np.array([reflection]), 75.0)
    np.testing.assert_allclose(impedance_of(one_port), [30 + 40j], rtol=1e-14)
    with pytest.raises(ArgumentFault, match="not infinite"):
        impedance_of(OnePort(np.array([1e6]), np.array([1 + 0j]), 75.0))


@pytest.mark.parametrize(
    ("frequency", "chain"),
    [
        ([], np.zeros((0, 2, 2))),
        ([2.0, 1.0], np.zeros((2, 2, 2))),
        ([1.0, 1.0], np.zeros((2, 2, 2))),
        ([-1.0], np.zeros((1, 2, 2))),
        ([np.nan], np.zeros((1, 2, 2))),
        ([1.0], np.zeros((2, 2, 2))),
        ([1.0], np.full((1, 2, 2), np.inf)),
    ],
)
def test_what_is_no_two_port_is_refused(frequency: list[float], chain: np.ndarray) -> None:
    with pytest.raises(ArgumentFault):
        TwoPort(np.array(frequency), chain.astype(complex))


@pytest.mark.parametrize(
    "reference", [0.0, -50.0, np.nan, np.inf, (50.0, 0.0), (1.0, 2.0, 3.0), 50 + 1j, "50"]
)
def test_a_reference_is_one_or_two_positive_numbers(reference: object) -> None:
    with pytest.raises(ArgumentFault, match="reference_resistance"):
        scattering_from_chain(np.eye(2), reference)


def test_a_cascade_of_other_frequencies_is_refused() -> None:
    with pytest.raises(ArgumentFault, match="others"):
        cascade(series([1.0], 1.0), series([2.0], 1.0))
    with pytest.raises(ArgumentFault, match="reference_resistance"):
        OnePort(np.array([1.0]), np.array([0j]), 0.0)
