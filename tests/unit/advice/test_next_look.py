"""The next look: by the air, by the trend, the first of them, and its day."""

import math
from datetime import date

import numpy as np
import pytest

from ohmsworth.advice.next_look import DAY, NextLook, look_by_air, look_by_trend, shortest_of
from ohmsworth.errors import ArgumentFault, UnknownName
from ohmsworth.inference.trend import reached, straight_line
from ohmsworth.materials.tarnish_film import tarnish


@pytest.mark.parametrize("environment", ["G1", "G2", "G3"])
@pytest.mark.parametrize("allowed", [0.05, 0.4, 1.5])
def test_the_soonest_and_latest_are_where_the_film_adds_as_much(environment: str, allowed: float) -> None:
    """There and back: the film after that time adds what was allowed, at its most and at its least."""
    found = look_by_air(environment, allowed)
    if found.soonest > 0:
        film = tarnish("silver", environment, found.soonest).unwiped
        assert film is not None
        assert film.high == pytest.approx(allowed)
    else:
        hour = tarnish("silver", environment, 3600.0).unwiped
        assert hour is not None
        assert hour.high > allowed
    if math.isfinite(found.latest):
        film = tarnish("silver", environment, found.latest).unwiped
        assert film is not None
        assert film.low == pytest.approx(allowed)
    else:
        longest = tarnish("silver", environment, 30 * 365.25 * DAY).unwiped
        assert longest is not None
        assert longest.low < allowed


def test_air_that_may_be_clean_has_no_latest_time() -> None:
    assert math.isinf(look_by_air("G1", 0.1).latest)
    assert math.isfinite(look_by_air("G2", 0.1).latest)
    assert look_by_air("GX", 0.1).soonest == 0


def test_worse_air_and_less_allowed_come_sooner() -> None:
    assert look_by_air("G3", 0.3).soonest < look_by_air("G2", 0.3).soonest < look_by_air("G1", 0.3).soonest
    assert look_by_air("G2", 0.1).soonest < look_by_air("G2", 0.3).soonest


def test_what_was_exposed_already_counts() -> None:
    whole = look_by_air("G2", 0.8)
    assert look_by_air("G2", 0.8, 3 * DAY).soonest == pytest.approx(whole.soonest - 3 * DAY)
    assert look_by_air("G2", 0.8, 1e9).soonest == 0


def test_a_few_milliohm_are_reached_at_once() -> None:
    assert look_by_air("G2", 3e-3).before_each_use
    assert not look_by_air("G2", 0.8).before_each_use


MONTHS = 30 * DAY * np.array([0.0, 1.0, 2.0, 3.0, 4.0, 5.0])
READ = np.log(np.array([3.0e-3, 3.2e-3, 3.3e-3, 3.6e-3, 3.8e-3, 4.0e-3]))


def test_a_rising_history_sets_the_time() -> None:
    trend = straight_line(MONTHS, READ)
    now = trend.last + 10 * DAY
    found = look_by_trend(trend, math.log(5e-3), now)
    peer = reached(trend, math.log(5e-3), now)
    assert found.reason == "trend"
    assert (found.soonest, found.latest) == (
        pytest.approx(peer.soonest - now),
        pytest.approx(peer.latest - now),
    )
    assert 0 < found.soonest < found.latest < math.inf


def test_a_line_is_not_followed_further_than_its_history() -> None:
    found = look_by_trend(straight_line(MONTHS, READ), math.log(1.0), MONTHS[-1])
    assert found.reason == "history"
    assert found.soonest == pytest.approx(150 * DAY)
    steady = look_by_trend(straight_line(MONTHS, READ[[0, 1, 0, 1, 0, 1]]), math.log(1.0), MONTHS[-1])
    assert (steady.reason, steady.latest) == ("history", math.inf)


def test_the_first_that_is_due() -> None:
    air, trend = NextLook(40 * DAY, math.inf, "air"), NextLook(25.7 * DAY, 90 * DAY, "trend")
    found = shortest_of([air, trend])
    assert found == NextLook(25.7 * DAY, 90 * DAY, "trend")
    assert found.day(date(2027, 2, 20)) == date(2027, 3, 17)
    none = shortest_of([])
    assert none.day(date(2027, 2, 20)) is None
    assert none.reason is None


def test_wrong_arguments_are_refused() -> None:
    for wrong in (0.0, math.inf, -1.0):
        with pytest.raises(ArgumentFault):
            look_by_air("G1", wrong)
    with pytest.raises(UnknownName):
        look_by_air("G9", 0.1)
    with pytest.raises(ArgumentFault):
        look_by_trend(straight_line(MONTHS, READ), 0.0, 0.0)
