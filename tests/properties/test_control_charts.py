"""Control charts: run lengths fall with the shift, limits scale, simulated false alarms come as computed."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ohmsworth.inference.control import (
    Limits,
    control,
    cusum,
    cusum_run_length,
    ewma,
    ewma_run_length,
    individuals,
    shewhart_run_length,
)
from ohmsworth.inference.control.charts import EWMA_WIDTH, SLACK, WEIGHT
from ohmsworth.inference.control.verdict import JUMP, run_lengths

KNOWN = Limits(0.0, 1.0, 1.0, 20)


@given(st.floats(0, 4), st.floats(0.05, 1))
def test_a_larger_shift_is_found_sooner(offset: float, more: float) -> None:
    for near, far in zip(run_lengths(offset), run_lengths(offset + more), strict=True):
        assert 1 <= far < near


@given(st.floats(0, 4))
def test_both_sides_are_alike(offset: float) -> None:
    assert run_lengths(offset) == pytest.approx(run_lengths(-offset), rel=1e-9)


@given(st.floats(0, 3), st.floats(2.0, 3.5))
def test_an_ewma_of_full_weight_is_the_individuals_chart(offset: float, width: float) -> None:
    assert ewma_run_length(offset, 1.0, width) == pytest.approx(shewhart_run_length(offset, width), rel=1e-8)
    values = np.random.default_rng(round(1000 * offset)).normal(0, 1, 30)
    one, other = ewma(values, KNOWN, 1.0, width), individuals(values, KNOWN, width)
    assert np.allclose(one.value, other.value)
    assert np.allclose(one.upper, other.upper)
    assert (one.beyond == other.beyond).all()


@given(st.floats(1e-6, 1e6), st.floats(-10, 10), st.integers(0, 100))
def test_units_and_zero_do_not_change_what_stands_out(unit: float, zero: float, seed: int) -> None:
    values = np.random.default_rng(seed).standard_t(3, 40)
    one, other = control(values, 20), control(unit * (values + zero), 20)
    assert one is not None
    assert other is not None
    assert one.rules == other.rules
    assert other.limits.deviation == pytest.approx(unit * one.limits.deviation, rel=1e-6)


def test_false_alarms_come_as_often_as_computed() -> None:
    """4000 runs in control, seed 5; each chart's mean run length to within four standard errors."""
    chance = np.random.default_rng(5)
    runs, longest = 4000, 3000
    single, average, sums = (np.full(runs, longest) for _ in range(3))
    z, up, down = np.zeros(runs), np.zeros(runs), np.zeros(runs)
    steady = EWMA_WIDTH * np.sqrt(WEIGHT / (2 - WEIGHT))
    for turn in range(1, longest):
        x = chance.normal(0, 1, runs)
        z = WEIGHT * x + (1 - WEIGHT) * z
        up, down = np.maximum(0, up + x - SLACK), np.maximum(0, down - x - SLACK)
        for first, seen in (
            (single, np.abs(x) > 3),
            (average, np.abs(z) > steady),
            (sums, np.maximum(up, down) > 5),
        ):
            first[seen & (first == longest)] = turn
    for first, computed in zip((single, average, sums), run_lengths(0.0), strict=True):
        assert first.mean() == pytest.approx(computed, abs=4 * first.std() / np.sqrt(runs))
    # Any of the three: this is how often a sound bench is told to look first. The guide says about 190.
    together = np.minimum(np.minimum(single, average), sums)
    assert 175 < together.mean() < 205


def test_a_shift_of_two_is_found_within_a_week() -> None:
    chance = np.random.default_rng(6)
    values = np.append(chance.normal(0, 1, 20), chance.normal(2.5, 1, 10))
    found = control(values, 20)
    assert found is not None
    assert not any(rule != JUMP for rules in found.rules[:20] for rule in rules)
    assert any(rule != JUMP for rules in found.rules[20:27] for rule in rules)
    assert found.verdict == "look first"


def test_a_cusum_needs_scatter() -> None:
    with pytest.raises(ValueError, match="standard deviation of zero"):
        cusum(np.ones(9), Limits(1.0, 0.0, 0.0, 9))
    assert control(np.ones(9)) is None
    assert control(np.arange(4.0)) is None


def test_a_strong_shift_is_no_trouble() -> None:
    assert cusum_run_length(0.0, 3.0, 9.0) > 1e9
    assert cusum_run_length(8.0, 0.5, 5.0) == pytest.approx(1.0, abs=1e-2)
