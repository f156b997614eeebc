from dataclasses import replace

import numpy as np
import pytest
from tests.unit.resistance.impedance.takes import circuit, lines, take, tone_plan

from ohmsworth.resistance.impedance.from_takes import Takes, impedance
from ohmsworth.resistance.impedance.phasors import Take

PLAN = tone_plan([21, 317, 5023, 19997])
CIRCUIT = circuit()
Z = 3e-3 + 2j * np.pi * PLAN.frequencies * 15e-9
GAINS = np.array([0.97 - 0.02j, 1.05 + 0.03j])
LEAKS = np.array([4e-5 + 2e-5j, -3e-5 + 1e-5j])


def read(contact: int, turned: bool, noise: float = 0.0, seed: int | None = None) -> Take:
    """What two unequal inputs with crosstalk read of a shunt and a contact."""
    current = 5e-3 * np.exp(1j * np.arange(4))
    shunt, across = current * CIRCUIT.shunt.impedance(PLAN.frequencies), current * Z
    sign = -1 if turned else 1
    mean = np.empty((2, 4), complex)
    mean[contact] = GAINS[contact] * (sign * across + LEAKS[contact] * shunt)
    mean[1 - contact] = GAINS[1 - contact] * shunt
    return take(lines(PLAN.cycles, mean, noise, seed=seed))


STRAIGHT, SWAPPED = read(1, False), read(0, False)
TURNED, SWAPPED_TURNED = read(1, True), read(0, True)


def test_four_takes_cancel_gains_and_crosstalk() -> None:
    found = impedance(PLAN, CIRCUIT, Takes(STRAIGHT, SWAPPED, TURNED, SWAPPED_TURNED))
    assert np.allclose(found.curve.value, Z, rtol=1e-12)
    assert found.inputs == pytest.approx(np.full(4, GAINS[1] / GAINS[0]))
    wanted = np.array([LEAKS[1] * GAINS[1] / GAINS[0], LEAKS[0] * GAINS[0] / GAINS[1]])
    assert found.leak == pytest.approx(np.repeat(wanted[:, None], 4, axis=1))


def test_two_takes_cancel_gains_and_tell_what_crosstalk_may_do() -> None:
    able = replace(CIRCUIT, crosstalk=6e-5)
    found = impedance(PLAN, able, Takes(STRAIGHT, SWAPPED))
    away = found.curve.value - Z
    assert (np.abs(away) > 1e-9).all()
    assert (np.abs(away) <= 6e-5 * 0.1 * 1.3).all()
    assert np.abs(found.curve.shared["crosstalk in step"]) == pytest.approx(3e-6, rel=1e-3)
    assert found.leak.shape == (0, 4)


def test_a_take_alone_carries_the_difference_of_the_inputs() -> None:
    able = replace(CIRCUIT, mismatch=0.1)
    found = impedance(PLAN, able, Takes(STRAIGHT, turned=TURNED))
    assert found.curve.value / Z == pytest.approx(np.full(4, GAINS[1] / GAINS[0]))
    assert np.abs(found.curve.shared["inputs' gain"]) == pytest.approx(0.05 * np.abs(found.curve.value))
    assert found.inputs is None
    assert "crosstalk in step" not in found.curve.shared


def test_contacts_that_are_mostly_inductance_keep_their_side() -> None:
    """Of the two roots the one that was read, wherever it turns."""
    for angle in np.linspace(-np.pi, np.pi, 25):
        turned = Z * np.exp(1j * angle)
        takes = []
        for contact in (1, 0):
            shunt = 1e-2 * CIRCUIT.shunt.impedance(PLAN.frequencies)
            mean = np.empty((2, 4), complex)
            mean[contact], mean[1 - contact] = GAINS[contact] * turned * 1e-2, GAINS[1 - contact] * shunt
            takes.append(take(lines(PLAN.cycles, mean, 0.0, seed=None)))
        assert np.allclose(impedance(PLAN, CIRCUIT, Takes(*takes)).curve.value, turned, rtol=1e-12)


def test_every_source_does_what_it_would_do() -> None:
    """Each shared part against the impedance computed anew with the source off by one standard uncertainty."""
    shunt = replace(CIRCUIT.shunt, tolerance=0.01, inductance_tolerance=3e-9)
    able = replace(CIRCUIT, shunt=shunt)
    takes = Takes(STRAIGHT, SWAPPED, TURNED, SWAPPED_TURNED)
    found = impedance(PLAN, able, takes).curve
    off = {
        "shunt": replace(shunt, resistance=shunt.resistance * (1 + 0.01 / np.sqrt(3))),
        "shunt's inductance": replace(shunt, inductance=shunt.inductance + 3e-9 / np.sqrt(3)),
    }
    assert set(found.shared) == set(off)
    for name, other in off.items():
        moved = impedance(PLAN, replace(able, shunt=other), takes).curve.value - found.value
        assert np.allclose(found.shared[name], moved, rtol=1e-6, atol=1e-12)


@pytest.mark.parametrize("turned", [False, True])
def test_noise_scatters_as_told(turned: bool) -> None:
    """Over 2000 draws R and X have the scatter that is told, and no bias."""
    found = []
    for seed in range(0, 8000, 4):
        takes = [read(1, False, 2e-6, seed), read(0, False, 2e-6, seed + 1)]
        if turned:
            takes += [read(1, True, 2e-6, seed + 2), read(0, True, 2e-6, seed + 3)]
        found.append(impedance(PLAN, CIRCUIT, Takes(*takes)).curve)
    values = np.array([curve.value for curve in found])
    told = np.mean([curve.random for curve in found], axis=0)
    clean = impedance(
        PLAN, CIRCUIT, Takes(*[STRAIGHT, SWAPPED, TURNED, SWAPPED_TURNED][: 4 if turned else 2])
    )
    for part, at in ((np.real, 0), (np.imag, 1)):
        scatter = part(values).std(axis=0, ddof=1)
        assert scatter == pytest.approx(np.sqrt(told[:, at, at]), rel=0.06)
        bias = part(values).mean(axis=0) - part(clean.curve.value)
        assert (np.abs(bias) < 4.5 * scatter / np.sqrt(len(values))).all()
