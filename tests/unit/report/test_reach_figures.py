"""Pictures of how far things reach: differences against the margin, next contacts against the limit."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.unit.report.answers import STATED, answer, before_and_after, comparison, condition

from ohmsworth.inference.equivalence import ENOUGH, OPEN, TOO_SMALL
from ohmsworth.report.reach_figures import margin_figure, next_figure


@pytest.mark.parametrize("verdict", [TOO_SMALL, OPEN, ENOUGH])
def test_the_margin_is_drawn_beside_the_difference(verdict: str) -> None:
    figure = margin_figure(before_and_after(verdict, difference=0.5e-3))
    assert figure is not None
    band, found = figure.marks
    assert (band.low, band.high) == (-STATED.resistance, STATED.resistance)
    assert (found.condition, found.value) == ("worn − new", 0.5e-3)
    assert (found.low, found.high) == pytest.approx((0.1e-3, 0.9e-3))
    assert f"'worn' against 'new' is {verdict}" in figure.caption
    assert not figure.logarithmic


def test_there_is_no_margin_to_draw_where_none_is_known() -> None:
    assert margin_figure(answer()) is None
    assert margin_figure(answer(comparisons=[comparison(OPEN, (1e-3, 0, 2e-3), margin=None)])) is None


def test_a_bound_reaches_from_the_middle_up() -> None:
    figure = next_figure(answer(conditions=[condition("new"), condition("worn", 9e-3)]))
    assert figure is not None
    assert [(m.value, m.low, m.high) for m in figure.marks] == [
        (2.5e-3, 2.5e-3, 3.4e-3),
        (9e-3, 9e-3, 3.4e-3),
    ]
    assert "95 % of next matings" in figure.caption
    assert "new 3.4 mΩ" in figure.caption
    assert figure.limit == 3e-3


def test_a_bound_that_says_nothing_is_not_drawn() -> None:
    lost = [replace(condition(), tolerance_bound=None), replace(condition(), tolerance_bound=1.0)]
    assert next_figure(answer(conditions=lost)) is None
