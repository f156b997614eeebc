"""Thinning: few points, and a line through them that looks the same."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ohmsworth.adapters.render.thin import COLUMN, TOLERANCE, thinned

X = [0.8 * k for k in range(700)]
WAVES = {
    "level": [140.0] * 700,
    "slope": [0.3 * x for x in X],
    "falling": [280 / (1 + (x / 200) ** 2) for x in X],
    "ripples": [140 + 90 * math.sin(x**1.5 / 60) for x in X],
}


def furthest(x: list[float], y: list[float], kept: list[int]) -> float:
    """How far straight lines through the points `kept` pass the others (numpy's interpolation)."""
    drawn = np.interp(x, [x[k] for k in kept], [y[k] for k in kept])
    return float(np.abs(drawn - y).max())


@pytest.mark.parametrize("name", WAVES)
def test_a_line_through_what_is_kept_passes_every_point(name: str) -> None:
    y = WAVES[name]
    kept = thinned(X, [y])
    assert (kept[0], kept[-1]) == (0, len(X) - 1)
    assert furthest(X, y, kept) <= TOLERANCE + 1e-9


@pytest.mark.parametrize(("name", "most"), [("level", 2), ("slope", 2), ("falling", 60)])
def test_a_smooth_line_needs_few(name: str, most: int) -> None:
    assert len(thinned(X, [WAVES[name]])) <= most


def test_two_lines_are_thinned_together() -> None:
    kept = thinned(X, [WAVES["falling"], WAVES["ripples"]])
    assert len(kept) > len(thinned(X, [WAVES["falling"]]))
    for name in ("falling", "ripples"):
        assert furthest(X, WAVES[name], kept) <= TOLERANCE + 1e-9


def test_of_very_many_the_outermost_stay() -> None:
    rng = np.random.default_rng(5)
    x = np.linspace(0, 500, 60_000)
    y = 140 + 30 * rng.standard_normal(60_000)
    kept = thinned(x.tolist(), [y.tolist()])
    columns = np.floor(x / COLUMN)
    assert len(kept) <= 4 * len(set(columns))
    for column in range(0, 1000, 97):
        inside, left = y[columns == column], y[[k for k in kept if columns[k] == column]]
        # A point may be passed by as little as anywhere.
        assert left.max() >= inside.max() - TOLERANCE
        assert left.min() <= inside.min() + TOLERANCE


def test_a_step_keeps_both_its_ends() -> None:
    x, y = [0.0, 10.0, 20.0, 20.0, 30.0, 40.0], [5.0, 5.0, 5.0, 90.0, 90.0, 90.0]
    assert thinned(x, [y]) == [0, 2, 3, 5]


def test_what_runs_back_is_left_as_it_is() -> None:
    assert thinned([0.0, 2.0, 1.0, 3.0], [[0.0] * 4]) == [0, 1, 2, 3]
    assert thinned([1.0], [[2.0]]) == [0]
    assert thinned([1.0, 1.0], [[2.0, 2.0]]) == [0, 1]


@given(st.lists(st.tuples(st.floats(0.6, 30), st.floats(0, 280)), min_size=2, max_size=60))
def test_any_line_with_its_points_apart_is_passed_closely(steps: list[tuple[float, float]]) -> None:
    x = np.cumsum([step for step, _ in steps]).tolist()
    y = [height for _, height in steps]
    kept = thinned(x, [y])
    assert kept == sorted(set(kept))
    assert furthest(x, y, kept) <= TOLERANCE + 1e-9
