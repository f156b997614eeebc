"""The promised uncertainty is the scatter of simulated takes."""

import numpy as np
import pytest

from ohmsworth.resistance.impedance.circuit import Circuit, Shunt
from ohmsworth.resistance.impedance.drive import one_period, peak
from ohmsworth.resistance.impedance.levels import level_of
from ohmsworth.resistance.impedance.predicted import (
    lasting_uncertainty,
    noise_density,
    random_uncertainty,
    seconds_of,
    times_needed,
)
from ohmsworth.resistance.impedance.wishes import Wishes, plan_for

CIRCUIT = Circuit(Shunt(0.1), 47.0, 1.4, 0.82)


def test_the_scatter_of_simulated_takes_is_as_promised() -> None:
    contact, noise = 0.08, 1e-7
    plan = plan_for(Wishes(CIRCUIT, contact, 0.01, tones=3, low=100.0, high=1000.0, seconds=2.0, rate=44_100))
    level = level_of(plan, CIRCUIT, contact)
    promised = random_uncertainty(plan, level, CIRCUIT, contact, noise, 2)
    draw = np.random.default_rng(20261201)
    current = one_period(plan) * level.current / peak(plan)
    sigma = noise * np.sqrt(plan.rate / 2)
    found = []
    for _ in range(300):
        ratio = np.ones(3, complex)
        for gains in ((1.03, 0.98), (0.98, 1.03)):  # the inputs exchanged: their gains cancel
            lines = [
                np.fft.rfft(
                    gain * (current * ohm + draw.normal(0, sigma / np.sqrt(plan.periods), plan.period))
                )[plan.cycles]
                for gain, ohm in zip(gains, (0.1, contact), strict=True)
            ]
            ratio *= lines[1] / lines[0]
        found.append((0.1 * np.sqrt(ratio)).real)
    assert np.mean(found, axis=0) == pytest.approx(contact, rel=1e-3)
    assert np.std(found, axis=0, ddof=1) == pytest.approx(
        promised, rel=0.15
    )  # three standard errors and more


def test_time_and_current_buy_what_they_should() -> None:
    short = Wishes(CIRCUIT, 0.01, 0.005, tones=3, seconds=10.0)
    long = Wishes(CIRCUIT, 0.01, 0.01, tones=3, seconds=40.0, turned=True)
    promised = []
    for wishes in (short, long):
        plan = plan_for(wishes)
        level = level_of(plan, CIRCUIT, 0.01)
        promised.append(random_uncertainty(plan, level, CIRCUIT, 0.01, wishes.noise, wishes.takes))
    assert promised[0] / promised[1] == pytest.approx(np.full(3, 2 * 2 * np.sqrt(2)))
    assert times_needed(promised[0], promised[0].max() / 3) == pytest.approx(9)


def test_in_turn_every_tone_has_its_share_of_the_time() -> None:
    plan = plan_for(Wishes(CIRCUIT, 0.01, 0.02, tones=5, seconds=50.0, way="in turn"))
    assert seconds_of(plan) == pytest.approx(10.0)


def test_a_stated_voltage_is_the_density_over_its_band() -> None:
    assert noise_density(2e-6) == pytest.approx(14.142e-9, rel=1e-4)
    assert noise_density(2e-6, 5e3) == pytest.approx(28.284e-9, rel=1e-4)


def test_what_no_time_mends() -> None:
    circuit = Circuit(Shunt(0.1, 0.01), 47.0, 1.4, crosstalk=1e-3)
    assert lasting_uncertainty(circuit, 0.01, turned=True) == pytest.approx(1e-4 / np.sqrt(3))
    assert lasting_uncertainty(circuit, 0.01, turned=False) == pytest.approx(np.sqrt(2) * 1e-4 / np.sqrt(3))
