"""Repeatability studies whose parts are known, and what a judgement is worth."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from ohmsworth.inference.conformity import probability_within
from ohmsworth.inference.gauge import (
    ability,
    chances,
    crossed_anova,
    gauge,
    level_deviations,
    nested_anova,
    pooled_deviation,
    smallest_difference,
)
from ohmsworth.readings import Labels


def laid_out(p: int, o: int, r: int, nested: bool = False) -> tuple[Labels, Labels]:
    rows = [(i, j) for i in range(p) for j in range(o) for _ in range(r)]
    part = [f"P{i}.{j}" if nested else f"P{i}" for i, j in rows]
    return Labels.of(part), Labels.of([f"O{j}" for _, j in rows])


def drawn(
    seed: int, nested: bool = False, p: int = 8, o: int = 3, r: int = 3
) -> tuple[np.ndarray, Labels, Labels]:
    chance = np.random.default_rng(seed)
    part, person = laid_out(p, o, r, nested)
    cell = part.codes * o + person.codes
    y = (
        chance.normal(0, 5, len(part.names))[part.codes]
        + chance.normal(0, 2, o)[person.codes]
        + chance.normal(0, 1, len(part.names) * o)[cell] * (not nested)
        + chance.normal(0, 0.5, len(cell))
    )
    return y, part, person


@pytest.mark.parametrize("seed", range(5))
def test_reml_is_the_analysis_of_variance_where_nothing_is_at_the_bound(seed: int) -> None:
    y, part, person = drawn(seed)
    found, rows = gauge(y, part, person), crossed_anova(y, part.codes, person.codes)
    assert found is not None
    assert rows is not None
    assert all(row.raw > 0 for row in rows)
    for value, row in zip((found.specimen, found.operator, found.interaction), rows, strict=False):
        assert value == pytest.approx(np.sqrt(row.variance), rel=1e-5)
    assert found.repeatability == pytest.approx(np.sqrt(rows[3].variance), rel=1e-6)
    total = sum(row.squares for row in rows)
    assert total == pytest.approx(((y - y.mean()) ** 2).sum())


@pytest.mark.parametrize("seed", range(5))
def test_nested_specimens(seed: int) -> None:
    y, part, person = drawn(seed, nested=True)
    found, rows = gauge(y, part, person), nested_anova(y, part.codes, person.codes)
    assert found is not None
    assert rows is not None
    assert found.form == "nested"
    assert found.interaction is None
    assert sum(row.squares for row in rows) == pytest.approx(((y - y.mean()) ** 2).sum())
    if rows[0].raw > 0:
        assert found.operator == pytest.approx(np.sqrt(rows[0].variance), rel=1e-5)
        assert found.specimen == pytest.approx(np.sqrt(rows[1].variance), rel=1e-5)
    else:
        assert found.operator == rows[0].variance == 0


def test_a_lost_trial_leaves_reml_alone() -> None:
    y, part, person = drawn(1)
    keep = np.arange(1, len(y))
    found = gauge(y[keep], part.take(keep), person.take(keep))
    assert found is not None
    assert found.anova is None
    assert found.repeatability == pytest.approx(0.5, abs=0.15)


def test_one_operator_and_one_specimen() -> None:
    y, part, person = drawn(2)
    alone = gauge(y, part, None)
    assert alone is not None
    assert alone.form == "one operator"
    assert alone.reproducibility is None
    one = part.codes == 0
    rows = np.flatnonzero(one)
    single = gauge(y[rows], part.take(rows), person.take(rows))
    assert single is not None
    assert single.specimen is None
    assert single.categories is None


def test_trials_that_tell_nothing() -> None:
    part, person = laid_out(4, 2, 2)
    assert gauge(np.ones(len(part.codes)), part, person) is None
    first = np.arange(0, len(part.codes), 2)
    assert gauge(np.arange(8.0), part.take(first), person.take(first)) is None  # nothing repeated


def test_an_operator_who_differs_widely() -> None:
    y, part, person = drawn(3, o=2)
    wide = gauge(y + 40 * person.codes, part, person)
    assert wide is not None
    assert wide.reproducibility is not None
    assert wide.reproducibility > 20
    assert wide.categories == 0


def test_levels() -> None:
    value, freedom = pooled_deviation(np.array([3.0, 4.0]), np.array([1.0, 1.0]))
    assert (value, freedom) == (pytest.approx(np.sqrt(12.5)), 2)
    with pytest.raises(ValueError, match="freedom"):
        pooled_deviation(np.array([1.0]), np.array([0.0]))
    with pytest.raises(ValueError, match="two days"):
        level_deviations(np.array([1.0, 2.0, 3.0]), np.array([0, 0, 1]))


# ------------------------------------------------------------------ ability


@given(
    st.floats(1e-4, 1e3), st.floats(1e-3, 0.15), st.floats(4, 1e6), st.sampled_from(("log", "linear")), st.floats(0.8, 0.999)
)  # fmt: skip
def test_the_words_agree_with_the_verdict_of_an_answer(
    limit: float, relative: float, freedom: float, scale: str, coverage: float
) -> None:
    """At `within_up_to` the probability of conformity is just the coverage."""
    u = relative if scale == "log" else relative * limit
    found = ability(limit, {"repeatability": (u, freedom)}, scale, coverage)
    assert found is not None
    bound = np.log(limit) if scale == "log" else limit
    for value, probability in ((found.within_up_to, coverage), (found.over_from, 1 - coverage)):
        if value is not None:
            x = np.log(value) if scale == "log" else value
            assert probability_within(x, u, found.freedom, bound) == pytest.approx(probability, abs=1e-6)
    told = chances(found, scale, coverage)
    for row in told:
        assert row.within + row.close + row.over == pytest.approx(1)
        assert min(row.within, row.close, row.over) >= -1e-12
    assert told[-1].over == pytest.approx(coverage)


def test_the_ratio_of_a_bench() -> None:
    """Limit 3 mΩ, u = 0.05 mΩ, normal: 3/(2 × 1.96 × 0.05) = 15.3."""
    found = ability(3e-3, {"a": (3e-5, np.inf), "b": (4e-5, np.inf)}, "linear", 0.95)
    assert found is not None
    assert found.ratio == pytest.approx(3 / (2 * 1.959964 * 0.05), rel=1e-6)
    assert found.within_up_to == pytest.approx(3e-3 - 1.644854 * 5e-5, rel=1e-6)
    assert ability(3e-3, {"a": (0.0, 5)}, "linear", 0.95) is None
    wide = ability(3e-3, {"a": (3e-3, np.inf)}, "linear", 0.95)
    assert wide is not None
    assert wide.within_up_to is None


def test_the_smallest_difference() -> None:
    """Exact mathematics with many degrees of freedom: (1.96 + 0.8416) √(2/n)."""
    assert smallest_difference(1.0, np.inf, 2, 0.95) == pytest.approx(1.959964 + 0.841621, abs=1e-4)
    assert smallest_difference(2.0, 8, 3, 0.95) == pytest.approx(2 * smallest_difference(1.0, 8, 3, 0.95))
    assert smallest_difference(1.0, 3, 3, 0.95) > smallest_difference(1.0, 30, 3, 0.95)
    chance = np.random.default_rng(4)
    size = smallest_difference(1.0, 6, 4, 0.95)
    a, b = chance.normal(0, 1, (20000, 4)), chance.normal(size, 1, (20000, 4))
    pooled = np.sqrt((a.var(1, ddof=1) + b.var(1, ddof=1)) / 2)
    t = np.abs(a.mean(1) - b.mean(1)) / (pooled * np.sqrt(2 / 4))
    assert np.mean(t > 2.446912) == pytest.approx(0.8, abs=0.012)
