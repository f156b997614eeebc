"""Where loads that are no resistance settle, against root finders and the course of time."""

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from ohmsworth.consequence.uses.load_line import constant_current, constant_power
from ohmsworth.errors import ArgumentFault

#: 12 V and 24 W: no solution above 12²/(4·24) = 1.5 Ω.
VOLTAGE, WATTS, COLLAPSE = 12.0, 24.0, 1.5


def test_constant_current_is_a_straight_line_to_zero() -> None:
    volts, current = constant_current(12.0, 2.0, [0.0, 1.0, 5.9, 6.0, 12.0])
    np.testing.assert_allclose(volts, [12.0, 10.0, 0.2, 0.0, 0.0], atol=1e-12)
    np.testing.assert_allclose(current, [2.0, 2.0, 2.0, 2.0, 1.0])


@pytest.mark.parametrize("loop", [0.0, 1e-3, 0.3, 1.0, 1.4999])
def test_constant_power_is_the_upper_root(loop: float) -> None:
    root = brentq(lambda u: VOLTAGE - loop * WATTS / u - u, VOLTAGE / 2, VOLTAGE, xtol=1e-14)
    volts, current = constant_power(VOLTAGE, WATTS, loop)
    assert float(volts) == pytest.approx(root, rel=1e-9)
    assert float(volts * current) == pytest.approx(WATTS, rel=1e-12)


@pytest.mark.parametrize(("share", "stands"), [(0.5, True), (0.98, True), (1.02, False), (3.0, False)])
def test_a_load_that_insists_on_its_power_runs_down_beyond_the_collapse(share: float, stands: bool) -> None:
    """With 100 µF across it: C dU/dt = (U0 − U)/R − P/U, from the full voltage, until it rests or is below 10 mV."""
    loop = share * COLLAPSE

    def slope(_time: float, u: np.ndarray) -> np.ndarray:
        return ((VOLTAGE - u) / loop - WATTS / u) / 100e-6

    def down(_time: float, u: np.ndarray) -> float:
        return float(u[0] - 0.01)

    down.terminal = True  # type: ignore[attr-defined]
    course = solve_ivp(slope, (0, 0.1), [VOLTAGE], events=down, rtol=1e-9, atol=1e-9)
    volts, current = constant_power(VOLTAGE, WATTS, loop)
    assert float(volts) == pytest.approx(course.y[0, -1], abs=0.011)
    assert (float(volts) > 0) == stands
    assert float(current) == pytest.approx((VOLTAGE - float(volts)) / loop, rel=1e-9)


def test_at_the_collapse_half_the_voltage_is_left() -> None:
    volts, current = constant_power(VOLTAGE, WATTS, COLLAPSE)
    assert (float(volts), float(current)) == pytest.approx((6.0, 4.0))


@pytest.mark.parametrize("shape", [(), (0,), (2, 3)])
def test_shapes_are_kept(shape: tuple[int, ...]) -> None:
    for found in (constant_current(12.0, 2.0, np.ones(shape)), constant_power(12.0, 2.0, np.ones(shape))):
        assert [part.shape for part in found] == [shape, shape]


def test_values_that_cannot_be_are_refused() -> None:
    for name, call in (
        ("voltage", lambda: constant_current(0.0, 2.0, 1.0)),
        ("current", lambda: constant_current(12.0, -2.0, 1.0)),
        ("watts", lambda: constant_power(12.0, float("nan"), 1.0)),
        ("loop", lambda: constant_power(12.0, 24.0, [-1.0])),
        ("loop", lambda: constant_current(12.0, 2.0, float("inf"))),
    ):
        with pytest.raises(ArgumentFault, match=name):
            call()
