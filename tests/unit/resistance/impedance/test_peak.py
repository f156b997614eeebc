"""The peak of what sounds, against the sum of tones evaluated far more densely than any samples."""

import numpy as np
import pytest
from tests.unit.resistance.impedance.takes import lines, take

from ohmsworth.resistance.impedance.circuit import Circuit, Shunt
from ohmsworth.resistance.impedance.drive import largest_sample, peak
from ohmsworth.resistance.impedance.dry import dryness
from ohmsworth.resistance.impedance.levels import level_of
from ohmsworth.resistance.impedance.peak import MISSED, peak_of_tones
from ohmsworth.resistance.impedance.tone_plan import TonePlan
from ohmsworth.resistance.impedance.wishes import Wishes, plan_for

CIRCUIT = Circuit(Shunt(0.1), 47.0, 1.4, 0.82, inputs=(1.0, 1.0))


def densely(cycles: np.ndarray, phasors: np.ndarray, points: int) -> float:
    """Largest of the sum at `points` moments of a period, tone by tone."""
    turn = 2 * np.pi * np.arange(points) / points
    wave = sum(abs(p) * np.cos(c * turn + np.angle(p)) for c, p in zip(cycles, phasors, strict=True))
    return float(np.abs(wave).max())


@pytest.mark.parametrize("seed", range(12))
def test_it_is_what_a_dense_evaluation_finds(seed: int) -> None:
    rng = np.random.default_rng(seed)
    cycles = np.sort(rng.choice(np.arange(1, 300), 1 + seed % 7, replace=False))
    phasors = rng.normal(size=len(cycles)) + 1j * rng.normal(size=len(cycles))
    # 2000 points a cycle of the highest tone miss less than 1.3e-6 themselves.
    dense = densely(cycles, phasors, 2000 * int(cycles[-1]))
    assert dense / (1 + MISSED) <= peak_of_tones(cycles, phasors) <= dense * (1 + 2e-6)


def test_tones_whose_samples_miss_the_peak() -> None:
    # Derived: a sine at half of the rate's half, caught at 45°, reads √½ at every sample.
    assert peak_of_tones(np.array([1000]), np.exp([0.25j * np.pi])) == pytest.approx(1, abs=MISSED)
    plan = TonePlan(
        4000, 4000, np.array([1000]), np.ones(1), np.full(1, np.pi / 4), 1, 1, "together", 1, 1, 1, 1
    )
    assert largest_sample(plan) == pytest.approx(np.sqrt(0.5))
    assert peak(plan) == pytest.approx(1, abs=MISSED)


@pytest.mark.parametrize("tones", [2, 5, 11])
def test_no_moment_of_a_new_plan_is_above_what_is_promised(tones: int) -> None:
    plan = plan_for(Wishes(CIRCUIT, 0.01, 0.02, tones=tones))
    level = level_of(plan, CIRCUIT, 0.01)
    # At 13 moments a sample: nearly 32 a cycle of the highest tone, so that half a per cent is missed at most.
    wave = densely(plan.cycles, plan.amplitudes * np.exp(1j * plan.phases), 13 * plan.period)
    assert level.current == pytest.approx(0.02, rel=1e-6)
    assert CIRCUIT.current(wave * CIRCUIT.output, 0.01) <= level.current * (1 + MISSED)
    assert wave == pytest.approx(peak(plan), rel=6e-3)
    assert level.open_circuit == pytest.approx(CIRCUIT.open_circuit(peak(plan) * CIRCUIT.output))


def test_what_a_take_shows_is_not_above_what_was_promised() -> None:
    plan = plan_for(Wishes(CIRCUIT, 0.01, 0.02))
    level = level_of(plan, CIRCUIT, 0.01)
    # The tones that flow, late by a share of a sample: a take begins anywhere.
    flowing = level.tone_currents * np.exp(1j * (plan.phases + 2 * np.pi * plan.cycles * 0.37 / plan.period))
    heard = np.array([flowing * 0.01, flowing * CIRCUIT.shunt.impedance(plan.frequencies)])
    found = dryness(take(lines(plan.cycles, heard, 0.0, seed=None)), plan, CIRCUIT)
    assert found.current.largest == pytest.approx(level.current, rel=2 * MISSED)
    assert found.voltage.largest == pytest.approx(level.contact_voltage, rel=2 * MISSED)
    assert found.open_circuit == level.open_circuit
    # The samples alone would have promised less, and by more than a set-up at its limit may be over.
    assert largest_sample(plan) < 0.99 * peak(plan)


def test_samples_that_keep_a_limit_do_not_make_a_circuit_dry() -> None:
    # Four samples a cycle catch the upper tone at 45° again and again.
    plan = TonePlan(
        4000,
        4000,
        np.array([1, 1000]),
        np.full(2, 0.3),
        np.array([0, np.pi / 4]),
        1,
        1,
        "together",
        1,
        1,
        1,
        1,
    )
    assert peak(plan) > 1.1 * largest_sample(plan)
    full = 0.02 / (1.01 * largest_sample(plan)) * (47.0 + 0.82) / 0.82
    circuit = Circuit(Shunt(0.1), 47.0, full, 0.82, inputs=(1.0, 1.0))
    assert circuit.open_circuit(full * largest_sample(plan)) < 0.02
    read = lines(plan.cycles, np.full((2, 2), 1e-4 + 0j), 0.0, seed=None)
    assert dryness(take(read), plan, circuit).exceeded == ("open circuit",)
    assert not level_of(plan, circuit, 0.01).dry
