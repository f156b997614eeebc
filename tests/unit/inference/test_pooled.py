"""Pooling of studies: limits, invariances, few studies, and coverage by simulation."""

import math

import numpy as np
import pytest
from scipy import optimize, stats

from ohmsworth.errors import ArgumentFault
from ohmsworth.inference.pooled import StudyEffect, left_out, pool_studies, reml_between


def studies(y: list[float], u: list[float]) -> list[StudyEffect]:
    return [StudyEffect(f"S{i}", a, b) for i, (a, b) in enumerate(zip(y, u, strict=True))]


def test_one_study_is_itself_and_says_nothing_between() -> None:
    found = pool_studies([StudyEffect("only", 0.3, 0.1, 4.0)])
    assert (found.mean.value, found.mean.variance, found.mean.freedom) == (0.3, pytest.approx(0.01), 4.0)
    assert found.between is None
    assert found.next_study is None
    assert left_out([StudyEffect("only", 0.3, 0.1)]) == ()


def test_two_studies_are_wide() -> None:
    """Closed form: equal uncertainties: τ² = max(0, d²/2 − u²), t of one degree of freedom."""
    found = pool_studies(studies([0.2, 0.8], [0.1, 0.1]))
    assert found.between is not None
    assert found.next_study is not None
    assert found.between.variance == pytest.approx(0.6**2 / 2 - 0.01, rel=1e-6)
    low, high = found.mean.interval(0.95)
    assert (high - low) / 2 == pytest.approx(float(stats.t.ppf(0.975, 1)) * 0.3, rel=1e-6)
    assert found.next_study.freedom == 1
    assert found.next_study.variance > found.between.variance


def test_equal_uncertainties_have_closed_forms() -> None:
    """REML is then the variance of the effects less u², and the interval the plain t of the effects."""
    y = [0.1, 0.9, -0.4, 0.5, 0.3]
    found = pool_studies(studies(y, [0.2] * 5))
    assert found.between is not None
    assert found.between.variance == pytest.approx(np.var(y, ddof=1) - 0.04, rel=1e-6)
    plain = stats.t.interval(0.95, 4, np.mean(y), stats.sem(y))
    assert found.mean.interval(0.95) == pytest.approx(plain, rel=1e-6)
    assert found.weights == pytest.approx([0.2] * 5)


def test_reml_is_where_its_derivative_is_zero() -> None:
    """The published iteration, Σ w² ((y − μ)² − u²)/Σ w² + 1/Σ w, stands still there."""
    rng = np.random.default_rng(5)
    above = 0
    for _ in range(40):
        u = rng.uniform(0.05, 0.6, 6)
        y = rng.normal(0, 0.4, 6) + rng.normal(0, u)
        t = reml_between(studies(list(y), list(u)))
        w = 1 / (u**2 + t)
        mean = w @ y / w.sum()
        still = float(w**2 @ ((y - mean) ** 2 - u**2) / (w @ w) + 1 / w.sum())
        if t > 0:
            above += 1
            assert still == pytest.approx(t, rel=2e-4)
        else:
            assert still <= 1e-9
    assert 15 < above < 40


def test_the_interval_between_studies_inverts_q() -> None:
    y, u = np.array([0.1, 0.9, -0.4, 0.5]), np.array([0.1, 0.2, 0.15, 0.3])

    def q(variance: float) -> float:
        w = 1 / (u**2 + variance)
        return float(w @ (y - w @ y / w.sum()) ** 2)

    found = pool_studies(studies(list(y), list(u))).between
    assert found is not None
    for end, p in zip(found.interval, (0.975, 0.025), strict=True):
        direct = optimize.brentq(lambda t, p=p: q(t) - stats.chi2.ppf(p, 3), 0, 1e4)
        assert end == pytest.approx(direct, rel=1e-6)
    assert found.p_value == pytest.approx(float(stats.chi2.sf(q(0), 3)))


def test_studies_that_agree_by_luck_are_guarded() -> None:
    found = pool_studies(studies([0.3, 0.3001, 0.2999], [0.1, 0.1, 0.1]))
    assert found.guarded
    assert found.between is not None
    assert found.between.variance == 0
    assert found.between.interval[0] == 0
    assert found.mean.variance == pytest.approx(0.01 / 3)


@pytest.mark.parametrize("factor", [1e-3, 7.0])
def test_a_change_of_unit_and_origin_goes_through(factor: float) -> None:
    y, u = [0.1, 0.9, -0.4, 0.5], [0.1, 0.2, 0.15, 0.3]
    one = pool_studies(studies(y, u))
    other = pool_studies(studies([factor * (a + 3) for a in y], [factor * b for b in u]))
    assert other.mean.value == pytest.approx(factor * (one.mean.value + 3))
    assert other.mean.standard_error == pytest.approx(factor * one.mean.standard_error, rel=1e-5)
    assert one.between is not None
    assert other.between is not None
    assert other.between.share == pytest.approx(one.between.share, rel=1e-4)


def test_a_study_that_decides_alone_is_named() -> None:
    effects = studies([1.0, 1.1, 0.9, 1.05, -6.0], [0.1, 0.1, 0.1, 0.1, 0.1])
    found = {one.name: one for one in left_out(effects)}
    assert [name for name, one in found.items() if one.decides] == ["S4"]
    assert found["S4"].moved == max(one.moved for one in found.values())
    assert found["S4"].pooled.studies == 4


@pytest.mark.parametrize(("k", "spread"), [(2, 0.3), (4, 0.0), (4, 0.3), (10, 0.3)])
def test_intervals_hold_as_often_as_they_promise(k: int, spread: float) -> None:
    """600 seeded draws: ± 0.9 % standard error. The upper bounds hold where no guard can widen."""
    rng = np.random.default_rng(100 * k + int(10 * spread))
    held = next_held = 0
    for _ in range(600):
        u = rng.uniform(0.05, 0.2, k)
        y = 0.5 + rng.normal(0, spread, k) + rng.normal(0, u)
        found = pool_studies(studies(list(y), list(u)))
        low, high = found.mean.interval(0.95)
        held += low <= 0.5 <= high
        assert found.next_study is not None
        low, high = found.next_study.interval(0.95)
        next_held += low <= 0.5 + rng.normal(0, spread) <= high
    assert held >= 0.925 * 600
    assert next_held >= 0.915 * 600
    if k == 10:
        assert held <= 0.975 * 600
        assert next_held <= 0.975 * 600


@pytest.mark.parametrize("bad", [(math.nan, 0.1), (0.1, 0.0), (0.1, -1.0), (0.1, math.inf)])
def test_an_effect_without_a_number_is_refused(bad: tuple[float, float]) -> None:
    with pytest.raises(ArgumentFault):
        StudyEffect("S", *bad)


def test_no_study_at_all_is_refused() -> None:
    with pytest.raises(ArgumentFault):
        pool_studies([])
