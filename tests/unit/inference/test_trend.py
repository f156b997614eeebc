"""A contact's history as a line, and when it comes to a limit."""

import math

import numpy as np
import pytest
import statsmodels.api as sm
from scipy import optimize

from ohmsworth.errors import ArgumentFault
from ohmsworth.inference.trend import reached, straight_line

TIME = np.array([0.0, 1.0, 2.5, 3.0, 4.2, 6.0])
RISING = np.array([0.02, 0.13, 0.21, 0.35, 0.39, 0.62])


def peer_at(time: float, y: np.ndarray, further: bool) -> tuple[float, float]:
    """The interval at a time by statsmodels."""
    fit = sm.OLS(y, sm.add_constant(TIME)).fit()
    table = fit.get_prediction([[1.0, time]])
    low, high = table.conf_int(obs=further, alpha=0.05)[0]
    return float(low), float(high)


@pytest.mark.parametrize("further", [True, False])
@pytest.mark.parametrize("time", [-2.0, 3.0, 11.0])
def test_the_interval_at_a_time(time: float, further: bool) -> None:
    found = straight_line(TIME, RISING).at(time, further)
    assert found.interval(0.95) == pytest.approx(peer_at(time, RISING, further))


@pytest.mark.parametrize("further", [True, False])
@pytest.mark.parametrize("limit", [0.75, 1.5])
def test_the_limit_is_reached_where_the_intervals_ends_come_to_it(limit: float, further: bool) -> None:
    found = reached(straight_line(TIME, RISING), limit, 6.0, further=further)
    soonest = optimize.brentq(lambda t: peer_at(t, RISING, further)[1] - limit, 0, 100)
    latest = optimize.brentq(lambda t: peer_at(t, RISING, further)[0] - limit, 0, 100)
    assert found.soonest == pytest.approx(max(soonest, 6.0))
    assert found.latest == pytest.approx(latest)
    assert found.estimate is not None
    assert found.soonest < found.estimate < found.latest
    assert not found.open_ended


def test_a_line_that_may_as_well_be_level_has_no_latest_time() -> None:
    rng = np.random.default_rng(7)
    y = 0.01 * TIME + rng.normal(0, 0.3, len(TIME))
    found = reached(straight_line(TIME, y), 2.0, 6.0)
    assert found.open_ended
    soonest = optimize.brentq(lambda t: peer_at(t, y, True)[1] - 2.0, 6.0, 1e3)
    assert found.soonest == pytest.approx(soonest)


def test_a_line_that_surely_falls_never_reaches_it() -> None:
    found = reached(straight_line(TIME, -RISING), 1.0, 6.0)
    assert (found.soonest, found.estimate, found.latest) == (math.inf, None, math.inf)


def test_past_the_limit_already() -> None:
    found = reached(straight_line(TIME, RISING), -5.0, 6.0)
    assert (found.soonest, found.estimate, found.latest) == (6.0, 6.0, 6.0)


def test_without_scatter_the_time_is_known() -> None:
    found = reached(straight_line(TIME, 1 + 2 * TIME), 21.0, 6.0)
    assert (found.soonest, found.estimate, found.latest) == pytest.approx((10.0, 10.0, 10.0))


def test_the_time_of_the_next_reading_is_held_as_promised() -> None:
    """2000 histories: the reading at the true crossing lies within the interval as often as it says (± 0.5 %)."""
    rng = np.random.default_rng(11)
    held = 0
    for _ in range(2000):
        line = straight_line(TIME, 0.1 * TIME + rng.normal(0, 0.02, len(TIME)))
        time = 10.0
        read = 0.1 * time + rng.normal(0, 0.02)
        found = reached(line, read, 6.0)
        held += found.soonest <= time <= found.latest
    assert 1870 <= held <= 1930


def test_too_little_history_is_refused() -> None:
    for time, y in [([0.0, 1.0], [1.0, 2.0]), ([1.0] * 4, [1.0] * 4), ([0.0, 1.0, math.nan], [1.0] * 3)]:
        with pytest.raises(ArgumentFault):
            straight_line(np.array(time), np.array(y))
