"""The chain matrix of a cable against closed forms and a matrix exponential."""

import numpy as np
import pytest
from scipy.linalg import expm

from ohmsworth.consequence.circuit import CableConstants, cable_of, line_chain, plain_resistance
from ohmsworth.consequence.circuit.cable import series_impedance, shunt_admittance
from ohmsworth.consequence.circuit.chain import _doubled
from ohmsworth.errors import ArgumentFault
from ohmsworth.materials import wire_impedance


def wire(frequency: np.ndarray) -> np.ndarray:
    return wire_impedance(0.08, frequency)


PAIR = cable_of(
    (wire, wire, plain_resistance(0.02)),
    (3e-7, 3e-7, 0),
    [[0, 1e-10, 2e-10], [1e-10, 0, 2e-10], [2e-10, 2e-10, 0]],
    0.01,
)
COAX = cable_of((wire, plain_resistance(0.02)), (4e-7, 0), [[0, 7e-11], [7e-11, 0]], 1e-3, common=1e-6)
FREQUENCIES = np.array([0.0, 50.0, 1e3, 20e3, 1e6, 20e6])


@pytest.mark.parametrize("cable", [PAIR, COAX], ids=["pair", "coax"])
@pytest.mark.parametrize("length", [0.0, 1e-6, 1.0, 100.0])
def test_it_is_the_matrix_exponential(cable: CableConstants, length: float) -> None:
    z, y = series_impedance(cable, FREQUENCIES), shunt_admittance(cable, FREQUENCIES)
    n = cable.conductors
    for k, found in enumerate(line_chain(cable, length, FREQUENCIES)):
        generator = np.block([[np.zeros((n, n)), z[k]], [y[k], np.zeros((n, n))]]) * length
        # Potentials and currents of like size, so that the exponential keeps its digits.
        scale = np.repeat([1.0, 1e2], n)
        wanted = expm(generator * scale / scale[:, None]) / scale * scale[:, None]
        np.testing.assert_allclose(
            found, wanted, rtol=1e-8, atol=1e-8 * np.abs(wanted).max(initial=1e-30, where=wanted != 0)
        )


def test_one_mode_of_a_coaxial_cable() -> None:
    """V = V' cosh γl + I' Z sinh γl for what is between core and screen, at high frequency over 100 m."""
    f = np.array([1e6, 1e8, 1e9])
    z, y = series_impedance(COAX, f), shunt_admittance(COAX, f)
    loop = z[:, 0, 0] + z[:, 1, 1] - 2 * z[:, 0, 1]
    gamma, zc = np.sqrt(loop * y[:, 0, 0]), np.sqrt(loop / y[:, 0, 0])
    chain = line_chain(COAX, 10.0, f)
    # 1 V between core and screen at the far end and no current: what is between them at the near end.
    between = chain[:, 0, 0] - chain[:, 1, 0]
    np.testing.assert_allclose(between, np.cosh(gamma * 10), rtol=1e-11)
    # 1 A out by the core and back by the screen.
    np.testing.assert_allclose(
        chain[:, 0, 2] - chain[:, 1, 2] - chain[:, 0, 3] + chain[:, 1, 3],
        zc * np.sinh(gamma * 10),
        rtol=1e-11,
    )


def test_both_ways_agree_on_two_conductors() -> None:
    f = np.array([1e3, 1e6, 1e8])
    z, y = series_impedance(COAX, f), shunt_admittance(COAX, f)
    cosh, _ = _doubled(z @ y * 100.0)
    np.testing.assert_allclose(cosh, line_chain(COAX, 10.0, f)[:, :2, :2], rtol=1e-10)


def test_two_halves_make_a_whole() -> None:
    half = line_chain(PAIR, 25.0, FREQUENCIES)
    np.testing.assert_allclose(half @ half, line_chain(PAIR, 50.0, FREQUENCIES), rtol=1e-9, atol=1e-14)


def test_a_cable_without_length_is_nothing() -> None:
    np.testing.assert_array_equal(line_chain(PAIR, 0.0, FREQUENCIES), np.broadcast_to(np.eye(6), (6, 6, 6)))


@pytest.mark.parametrize("cable", [PAIR, COAX], ids=["pair", "coax"])
def test_a_cable_that_passes_nothing_is_refused(cable: CableConstants) -> None:
    dense = CableConstants(
        tuple(plain_resistance(100.0) for _ in cable.inside), 0 * cable.inductance, 1e4 * cable.capacitance
    )
    with pytest.raises(ArgumentFault, match="shorter"):
        line_chain(dense, 1e5, np.array([20e3]))


def test_what_no_cable_has_is_refused() -> None:
    with pytest.raises(ArgumentFault, match="symmetric"):
        cable_of((wire, wire), (0, 0), [[0, 1e-10], [2e-10, 0]])
    with pytest.raises(ArgumentFault, match="stored"):
        cable_of((wire, wire), (0, 0), [[0, -1e-10], [-1e-10, 0]])
    with pytest.raises(ArgumentFault, match="loss_tangent"):
        cable_of((wire, wire), (0, 0), [[0, 1e-10], [1e-10, 0]], -0.1)
