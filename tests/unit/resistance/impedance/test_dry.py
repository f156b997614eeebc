"""Volts and amperes of a take, and whether they were those of a dry circuit."""

import numpy as np
import pytest
from tests.unit.resistance.impedance.takes import circuit, lines, sampled, take, tone_plan

from ohmsworth.errors import ArgumentFault
from ohmsworth.resistance.impedance.dry import dryness, swing
from ohmsworth.resistance.impedance.input_scale import levels

PLAN = tone_plan([20, 130, 1000, 1900])
IMPEDANCE = 0.005 + 2j * np.pi * PLAN.frequencies * 2e-8


def heard(current: np.ndarray, plan=PLAN, of=None, turned: bool = False) -> np.ndarray:
    """Phasors at both inputs, full scale 1."""
    inputs = (of or circuit()).inputs or (1.0, 1.0)
    z = 0.005 + 2j * np.pi * plan.frequencies * 2e-8
    across, beside = current * z, current * circuit().shunt.impedance(plan.frequencies)
    pair = (beside, across) if turned else (across, beside)
    return np.array([pair[0] / inputs[0], pair[1] / inputs[1]])


def test_volts_and_amperes_come_back_whichever_input_hears_which() -> None:
    current = 0.02 * np.exp(1j * PLAN.phases)
    for turned in (False, True):
        found = levels(
            lines(PLAN.cycles, heard(current, turned=turned), 0.0, seed=None), PLAN, circuit(), int(turned)
        )
        assert found.current == pytest.approx(current, rel=1e-12)
        assert found.voltage == pytest.approx(current * IMPEDANCE, rel=1e-12)
        assert not found.by_drive


def test_without_known_inputs_the_drive_tells() -> None:
    unknown = circuit(None)
    amperes = unknown.current(2.0 * 0.05, 0.005)
    read = lines(PLAN.cycles, heard(amperes * np.exp(1j * PLAN.phases), of=unknown) / 7, 0.0, seed=None)
    found = levels(read, PLAN, unknown)
    assert found.by_drive
    # The contact's inductance and the shunt's are in |Yc/Ys| at 1 kHz: a few parts in a thousand.
    assert np.abs(found.current) == pytest.approx(np.full(4, amperes), rel=5e-3)
    assert found.full_scale[0] == found.full_scale[1] == pytest.approx(7, rel=5e-3)


def test_a_sum_of_tones_by_samples() -> None:
    phasors = 0.004 * np.exp(1j * PLAN.phases) * np.array([1, 2, 3, 0.5])
    wave = np.fft.irfft(sampled(PLAN, lambda i: i, phasors) * 24000, 48000)
    found = swing(phasors, PLAN)
    assert found.rms == pytest.approx(np.sqrt(np.mean(wave**2)), rel=1e-9)
    assert found.largest == pytest.approx(np.abs(wave).max(), rel=5e-3)
    assert found.largest < found.worst == pytest.approx(0.004 * 6.5)


def test_in_turn_the_largest_tone_counts() -> None:
    found = swing(np.array([1, 2j, -3, 0.5]), tone_plan([20, 130, 1000, 1900], "in turn"))
    assert (found.rms, found.largest, found.worst) == pytest.approx((3 / 2**0.5, 3, 3))


def test_each_limit_is_told_alone() -> None:
    def exceeded(ampere: float, cycles: list[int], amplitude: float = 0.005) -> tuple[str, ...]:
        plan = tone_plan(cycles, "in turn", amplitude)
        read = lines(plan.cycles, heard(np.full(len(cycles), ampere + 0j), plan), 0.0, seed=None)
        return dryness(take(read), plan, circuit()).exceeded

    assert exceeded(0.05, [20, 1000]) == ()
    assert exceeded(0.1, [20, 2000]) == ()
    assert exceeded(0.11, [20, 1000]) == ("current",)
    assert exceeded(0.05, [20, 4000]) == ("frequency",)
    # Open: 2 V × amplitude × 1/(100 + 1).
    assert exceeded(0.05, [20, 1000], 1.02) == ("open circuit",)
    assert exceeded(5.0, [20, 1000]) == ("voltage", "current")


def test_a_film_is_kept_at_any_frequency() -> None:
    plan = tone_plan([20, 15000])
    read = lines(plan.cycles, heard(np.full(2, 0.02 + 0j), plan), 0.0, seed=None)
    found = dryness(take(read), plan, circuit())
    assert (found.dry, found.film_kept) == (False, True)
    assert found.open_circuit == pytest.approx(2 * 2.0 * 0.05 / 101, rel=0.05)


def test_refused() -> None:
    read = lines(PLAN.cycles, heard(np.full(4, 0.02 + 0j)), 0.0, seed=None)
    with pytest.raises(ArgumentFault, match="contact_input"):
        levels(read, PLAN, circuit(), 2)
    with pytest.raises(ArgumentFault, match="tones of the plan"):
        levels(read, tone_plan([20, 130, 1000, 1901]), circuit())
    with pytest.raises(ArgumentFault, match="shunt's input"):
        levels(lines(PLAN.cycles, np.zeros((2, 4)), 0.0, seed=None), PLAN, circuit())
