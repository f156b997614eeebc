"""Impedance, velocity and what datasheets state, to constants and back."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ohmsworth.errors import ArgumentFault
from ohmsworth.materials import (
    characteristic_impedance,
    conductor_from_text,
    constants_of_impedance,
    elements_of_measured,
    external_inductance,
    inductance_of_impedance,
    measured_of_elements,
    velocity_factor_of,
)

impedances = st.floats(10.0, 600.0)
velocities = st.floats(0.3, 1.0)
capacitances = st.floats(0.0, 1e-9)


@given(impedances, velocities)
def test_impedance_and_velocity_come_back(impedance: float, velocity: float) -> None:
    line = constants_of_impedance(impedance, velocity)
    assert characteristic_impedance(line.inductance, line.capacitance) == pytest.approx(impedance, rel=1e-12)
    assert velocity_factor_of(line.inductance, line.capacitance) == pytest.approx(velocity, rel=1e-12)
    # The other road to the same inductance; at the speed of light a last digit may be over.
    if velocity < 1:
        again = inductance_of_impedance(impedance, line.capacitance)
        assert again == pytest.approx(line.inductance, rel=1e-12)


@given(capacitances, st.floats(1e-12, 1e-9))
def test_elements_and_measured_capacitances_are_inverse(core_core: float, core_screen: float) -> None:
    measured = measured_of_elements(core_core, core_screen)
    assert measured[0] <= measured[1] <= 2 * measured[0] * (1 + 1e-12)
    back = elements_of_measured(*measured)
    # The difference of two like numbers keeps fewer digits.
    assert back == pytest.approx((core_core, core_screen), abs=1e-14 * 1e-9 + 1e-12 * sum(measured))


def test_measured_capacitances_are_those_of_the_network() -> None:
    """Node analysis of three capacitors: cores a, b and screen s, the grounded node struck out."""
    core_core, core_screen = 20e-12, 90e-12
    nodes = np.array(
        [
            [core_core + core_screen, -core_core, -core_screen],
            [-core_core, core_core + core_screen, -core_screen],
            [-core_screen, -core_screen, 2 * core_screen],
        ]
    )
    # Between a and b, b grounded, screen open: the charge on a is 1/(inverse's corner).
    open_screen = 1 / np.linalg.inv(nodes[np.ix_([0, 2], [0, 2])])[0, 0]
    to_rest = nodes[0, 0]
    assert measured_of_elements(core_core, core_screen) == pytest.approx((open_screen, to_rest), rel=1e-12)


@pytest.mark.parametrize(("core", "rest"), [(60e-12, 130e-12), (60e-12, 50e-12), (-1.0, 1.0), (0.0, 0.0)])
def test_capacitances_that_no_pair_has_are_refused(core: float, rest: float) -> None:
    with pytest.raises(ArgumentFault):
        elements_of_measured(core, rest)


def test_figures_at_either_end_are_accepted() -> None:
    """Datasheets do state 100 and 200 pF/m (common practice): no capacitor between the cores at all."""
    assert elements_of_measured(100e-12, 200e-12) == pytest.approx((0.0, 200e-12), abs=1e-25)
    assert elements_of_measured(49e-12, 49e-12) == pytest.approx((49e-12, 0.0), abs=1e-25)
    assert elements_of_measured(0.1e-9 * 3, 0.6e-9)[0] == 0.0


def test_a_bridge_sees_the_inside_of_both_wires() -> None:
    """At 1 kHz a thin wire has µ0/8π = 50 nH/m inside; a thick one less, for the current has begun to leave it."""
    thin, thick = conductor_from_text("24 AWG"), conductor_from_text("16 mm²")
    assert external_inductance(0.7e-6, (thin, thin)) == pytest.approx(0.6e-6, rel=1e-4)
    assert external_inductance(0.7e-6, (thin,)) == pytest.approx(0.65e-6, rel=1e-4)
    assert 0.6e-6 < external_inductance(0.7e-6, (thick, thick)) < 0.65e-6
    assert external_inductance(0.7e-6, (thin, thin), 1e9) == pytest.approx(0.7e-6, rel=5e-3)
    with pytest.raises(ArgumentFault, match="more than 100 nH/m"):
        external_inductance(0.09e-6, (thin, thin))


def test_what_is_faster_than_light_is_refused() -> None:
    with pytest.raises(ArgumentFault, match=r"44\.\d+ pF/m"):
        inductance_of_impedance(75.0, 40e-12)
    for call in (
        lambda: constants_of_impedance(75.0, 66.0),  # per cent by mistake
        lambda: constants_of_impedance(75.0, 0.0),
        lambda: constants_of_impedance(-75.0, 0.66),
        lambda: characteristic_impedance(0.0, 1e-12),
        lambda: velocity_factor_of(1e-6, math.inf),
        lambda: measured_of_elements(-1e-12, 1e-12),
        lambda: external_inductance(0.7e-6, (), 0.0),
    ):
        with pytest.raises(ArgumentFault):
            call()
