"""Slopes by level: what counts, what says nothing, and what holds together."""

import numpy as np
import pytest

from ohmsworth.errors import ArgumentFault
from ohmsworth.inference.ageing import slopes_by_level
from ohmsworth.readings.table import Array, Codes

TIME = np.tile([0.0, 1.0, 2.0], 6)
SPECIMEN = np.repeat(np.arange(6), 3)
LEVEL = SPECIMEN // 3


def values(seed: int = 1) -> Array:
    chance = np.random.default_rng(seed)
    slope = np.repeat(0.1 * (1 + np.arange(6) // 3) + 0.02 * chance.standard_normal(6), 3)
    return np.asarray(
        np.repeat(chance.standard_normal(6), 3) + slope * TIME + 0.01 * chance.standard_normal(18)
    )


def found(y: Array, time: Array = TIME, course: Codes = SPECIMEN, level: Codes = LEVEL) -> Array:
    told = slopes_by_level(time, y, course, SPECIMEN, level).levels
    return np.array([[one.slope.value, one.slope.variance, one.slope.freedom] for one in told if one.slope])


def test_heights_and_origins_of_time_do_not_count() -> None:
    y, plain = values(), found(values())
    assert found(y + np.repeat(np.arange(6.0), 3)) == pytest.approx(plain, rel=1e-6)
    assert found(y, TIME + np.repeat(np.arange(6.0), 3)) == pytest.approx(plain, rel=1e-6)


def test_another_unit_of_time_changes_the_slope_alone() -> None:
    plain, days = found(values()), found(values(), 365.25 * TIME)
    assert 365.25 * days[:, 0] == pytest.approx(plain[:, 0], rel=1e-9)
    assert 365.25**2 * days[:, 1] == pytest.approx(plain[:, 1], rel=1e-5)
    assert days[:, 2] == pytest.approx(plain[:, 2], rel=1e-4)


def test_a_specimen_that_was_read_once_adds_nothing() -> None:
    told = slopes_by_level(
        np.append(TIME, 5.0),
        np.append(values(), 9.0),
        np.append(SPECIMEN, 6),
        np.append(SPECIMEN, 6),
        np.append(LEVEL, 0),
    )
    assert told.levels[0].specimens == 3
    assert told.levels[0].slope is not None
    assert told.levels[0].slope.value == pytest.approx(found(values())[0, 0])


def test_a_new_course_has_a_height_of_its_own() -> None:
    """A treatment that takes the resistance down counts as no slope: two courses of slope 1 are one specimen of slope 1."""
    time = np.array([0.0, 1, 2, 0, 1, 2] * 3)
    specimen = np.repeat(np.arange(3), 6)
    course = np.repeat(np.arange(6), 3)
    y = time + np.repeat([0.0, -5, 3, 2, 1, -9], 3) + 1e-3 * np.random.default_rng(2).standard_normal(18)
    level = slopes_by_level(time, y, course, specimen, np.zeros(18, np.int64)).levels[0]
    assert level.slope is not None
    assert level.slope.value == pytest.approx(1, abs=2e-3)
    assert level.specimens == 3


def test_one_specimen_says_nothing_of_its_kind() -> None:
    level = np.where(SPECIMEN == 0, 1, 0)
    told = slopes_by_level(TIME, values(), SPECIMEN, SPECIMEN, level)
    assert told.levels[1].slope is None
    assert told.levels[1].specimens == 1
    assert told.differences == ()


def test_what_does_not_scatter_has_no_slope() -> None:
    told = slopes_by_level(TIME, 0.5 * TIME, SPECIMEN, SPECIMEN, LEVEL)
    assert all(one.slope is None for one in told.levels)


def test_two_visits_each_are_students_t() -> None:
    """Exact mathematics: two variances that cannot be told apart are one, with k − 1 degrees of freedom."""
    time, specimen = np.tile([0.0, 2.0], 5), np.repeat(np.arange(5), 2)
    y = np.random.default_rng(4).standard_normal(10)
    slope = slopes_by_level(time, y, specimen, specimen, np.zeros(10, np.int64)).levels[0].slope
    own = (y[1::2] - y[::2]) / 2
    assert slope is not None
    assert slope.value == pytest.approx(own.mean())
    assert slope.standard_error == pytest.approx(own.std(ddof=1) / np.sqrt(5), rel=1e-6)
    assert slope.freedom == pytest.approx(4, rel=1e-6)


def test_all_differences_together_are_wider_and_hold_each_their_own() -> None:
    told = slopes_by_level(TIME, values(), SPECIMEN, SPECIMEN, SPECIMEN // 2)
    assert len(told.differences) == 3
    assert {frozenset((one.of, one.against)) for one in told.differences} == {
        frozenset(pair) for pair in ((0, 1), (0, 2), (1, 2))
    }
    assert all(one.estimate.value >= 0 for one in told.differences)
    assert not told.own_scatter
    for one in told.differences:
        assert one.together[0] < one.interval[0] < one.estimate.value < one.interval[1] < one.together[1]


def test_many_levels_are_compared_with_the_one_of_most_specimens() -> None:
    chance = np.random.default_rng(3)
    specimen = np.repeat(np.arange(18), 3)
    level = np.minimum(specimen // 2, 7)
    y = chance.standard_normal(54)
    told = slopes_by_level(np.tile([0.0, 1, 2], 18), y, specimen, specimen, level)
    assert [one.against for one in told.differences] == [7] * 7


def test_rows_that_do_not_fit_are_refused() -> None:
    with pytest.raises(ArgumentFault):
        slopes_by_level(TIME, values()[1:], SPECIMEN, SPECIMEN, LEVEL)
    with pytest.raises(ArgumentFault):
        slopes_by_level(TIME * np.nan, values(), SPECIMEN, SPECIMEN, LEVEL)
