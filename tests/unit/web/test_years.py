"""The drawing of a specimen over the years: every dot inside, ticks that do not run into each other."""

import itertools
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ohmsworth.web.years import BOTTOM, LEFT, MOST_DOTS, RIGHT, TOP, draw_years
from ohmsworth.work.cards.specimen_history import InStudy, Point

START = datetime(2020, 1, 1, tzinfo=UTC)


def in_study(number: int, *points: tuple[float, float]) -> InStudy:
    """A study from pairs of days and ohms."""
    made = sorted(
        (Point(START + timedelta(days=d), r, "new", "", str(i), "") for i, (d, r) in enumerate(points)),
        key=lambda p: p.at,
    )
    return InStudy(number, f"study {number}", ("N1",), tuple(made), 0, 0)


POINTS = st.lists(st.tuples(st.floats(0, 4000), st.floats(1e-7, 1e6)), min_size=1, max_size=12)


@given(st.lists(POINTS, min_size=1, max_size=9), st.one_of(st.none(), st.floats(1e-6, 1e3)), st.booleans())
def test_everything_stands_inside_the_frame(
    found: list[list[tuple[float, float]]], limit: float | None, log: bool
) -> None:
    drawn = draw_years([in_study(i, *points) for i, points in enumerate(found)], limit, logarithmic=log)
    assert drawn is not None
    assert len(drawn.dots) == sum(map(len, found))
    assert all(LEFT <= dot.x <= RIGHT and TOP <= dot.y <= BOTTOM for dot in drawn.dots)
    assert 1 <= len(drawn.up) <= 25
    assert all(TOP - 0.1 <= tick.at <= BOTTOM + 0.1 for tick in drawn.up)
    ats = sorted(tick.at for tick in drawn.across)
    assert all(b - a >= 95 for a, b in itertools.pairwise(ats))
    assert (drawn.limit is None) is (limit is None)


def test_higher_is_more_and_later_is_farther_right() -> None:
    drawn = draw_years([in_study(1, (0, 1e-3)), in_study(2, (900, 2e-3))], 3e-3, logarithmic=True)
    assert drawn is not None
    first, second = drawn.dots
    assert first.x < second.x
    assert first.y > second.y > drawn.limit.at  # type: ignore[union-attr]
    assert first.sign != second.sign
    assert "1.00 mΩ, new, 2020-01-01, study 1" in first.words


def test_what_a_logarithm_cannot_show_is_counted() -> None:
    study = in_study(1, (0, 1e-3), (1, -1e-6), (2, 0.0))
    log, linear = (draw_years([study], None, logarithmic=log) for log in (True, False))
    assert log is not None
    assert linear is not None
    assert (log.not_drawn, len(log.dots)) == (2, 1)
    assert (linear.not_drawn, len(linear.dots)) == (0, 3)


def test_nothing_is_drawn_of_nothing() -> None:
    assert draw_years([], 1e-3, logarithmic=True) is None
    assert draw_years([in_study(1)], None, logarithmic=False) is None
    assert draw_years([in_study(1, (0, -1.0))], None, logarithmic=True) is None


def test_more_dots_than_an_eye_tells_apart_are_thinned() -> None:
    drawn = draw_years([in_study(1, *((d / 10, 1e-3) for d in range(3 * MOST_DOTS)))], None, logarithmic=True)
    assert drawn is not None
    assert drawn.thinned
    assert len(drawn.dots) <= MOST_DOTS


@pytest.mark.parametrize("log", [True, False])
def test_one_value_alone_has_a_scale(log: bool) -> None:
    drawn = draw_years([in_study(1, (0, 2e-3))], None, logarithmic=log)
    assert drawn is not None
    assert drawn.up
