"""One condition's population: its mean with the meters in it, its bound, the chance of the next being over."""

import numpy as np
import pytest
from scipy import stats
from tests.tables import known_resistances

from ohmsworth.inference.budget import budget
from ohmsworth.inference.conditions import ConditionResult, condition_result
from ohmsworth.inference.measured import Measured, measure

R = np.array([2.5e-3, 2.7e-3, 2.6e-3, 2.9e-3, 2.4e-3])


def simple(
    scale: str = "linear", limit: float | None = None, value: np.ndarray = R, **meters: float
) -> tuple[Measured, ConditionResult]:
    """One reading of each specimen."""
    measured = measure(known_resistances(value, range(len(value)), **meters), scale, "auto")
    return measured, condition_result(measured, 0, limit, 0.95)


def test_a_simple_sample_is_student() -> None:
    _, found = simple()
    low, high = stats.t.interval(0.95, 4, R.mean(), stats.sem(R))
    assert found.value == pytest.approx(R.mean())
    assert (found.low, found.high) == pytest.approx((low, high), rel=1e-9)
    assert found.freedom == pytest.approx(4)
    assert (found.specimens, found.readings) == (5, 5)


def test_logarithms_give_the_geometric_mean() -> None:
    _, found = simple("log")
    assert found.value == pytest.approx(stats.gmean(R))
    low, high = np.exp(stats.t.interval(0.95, 4, np.log(R).mean(), stats.sem(np.log(R))))
    assert (found.low, found.high) == pytest.approx((low, high), rel=1e-9)


@pytest.mark.parametrize("scale", ["linear", "log"])
def test_a_gain_error_is_not_averaged_down(scale: str) -> None:
    plain, widened = simple(scale)[1], simple(scale, gain=0.01)[1]
    assert plain.uncertainty is not None
    assert widened.uncertainty is not None
    extra = np.sqrt(widened.uncertainty**2 - plain.uncertainty**2)
    assert extra == pytest.approx(0.01 * widened.value, rel=1e-9)
    assert widened.freedom > plain.freedom


def test_counts_that_the_scatter_shows_already_are_not_added_twice() -> None:
    assert simple(independent=1e-5)[1].uncertainty == simple()[1].uncertainty
    more = simple(independent=1e-3)[1]
    assert more.uncertainty == pytest.approx(1e-3 / np.sqrt(5), rel=1e-9)


@pytest.mark.parametrize("scale", ["linear", "log"])
def test_chance_of_the_limit_by_hand(scale: str) -> None:
    _, found = simple(scale, 3e-3)
    y, bound = (R, 3e-3) if scale == "linear" else (np.log(R), np.log(3e-3))
    error = stats.sem(y)
    assert found.probability_within == pytest.approx(stats.t.cdf((bound - y.mean()) / error, 4))
    spread = y.std(ddof=1) * np.sqrt(1 + 1 / 5)
    assert found.probability_over == pytest.approx(stats.t.sf((bound - y.mean()) / spread, 4), rel=1e-6)


def test_readings_that_never_differ_leave_the_meters_only() -> None:
    measured, found = simple(value=np.full(4, 2.6e-3), limit=3e-3, gain=0.01)
    assert measured.engine is None
    assert found.uncertainty == pytest.approx(2.6e-5)
    assert found.tolerance is None
    assert found.probability_within == pytest.approx(1.0)


def test_readings_that_never_differ_and_no_meter_leave_the_value_only() -> None:
    _, found = simple(value=np.full(4, 2.6e-3), limit=3e-3)
    assert found.value == pytest.approx(2.6e-3)
    assert (found.uncertainty, found.low, found.high, found.probability_within) == (None,) * 4


def test_one_specimen_says_nothing_about_the_next() -> None:
    measured = measure(known_resistances(R, "aaaaa", mating="12345"), "log", "auto")
    found = condition_result(measured, 0, 3e-3, 0.95)
    assert found.tolerance is None
    assert found.probability_over is None
    assert found.low is not None


@pytest.mark.parametrize("scale", ["linear", "log"])
def test_the_budget_adds_up_and_is_sorted(scale: str) -> None:
    rng = np.random.default_rng(0)
    specimen = np.repeat(np.arange(5), 6)
    value = 2.6e-3 * np.exp(rng.normal(0, 0.1, 5)[specimen] + rng.normal(0, 0.05, 30))
    resistances = known_resistances(
        value, specimen, mating=np.tile([1, 1, 2, 2, 3, 3], 5), gain=0.003, emf=1e-5
    )
    measured = measure(resistances, scale, "auto")
    found = condition_result(measured, 0, None, 0.95)
    lines = budget(measured, found)
    assert sum(line.share for line in lines) == pytest.approx(1)
    assert [line.share for line in lines] == sorted((line.share for line in lines), reverse=True)
    assert np.sqrt(sum(line.contribution**2 for line in lines)) == pytest.approx(found.uncertainty, rel=1e-9)
    assert {"voltmeter gain", "thermal EMF", "specimen scatter"} <= {line.source for line in lines}
    assert all(line.remedy for line in lines)


def test_the_next_mating_of_the_next_specimen_has_no_reading_scatter_in_it() -> None:
    """Reading scatter is the meters' affair, not the contact's."""
    rng = np.random.default_rng(1)
    specimen, mating = np.repeat(np.arange(8), 6), np.tile([1, 1, 2, 2, 3, 3], 8)
    mated = rng.normal(0, 1e-4, (8, 3))[specimen, mating - 1]
    value = 3e-3 + rng.normal(0, 2e-4, 8)[specimen] + mated + rng.normal(0, 5e-4, 48)
    measured = measure(known_resistances(value, specimen, mating=mating), "linear", "auto")
    found = condition_result(measured, 0, 3.5e-3, 0.95)
    assert measured.engine is not None
    fit = measured.engine.fit
    next_one = fit.of("specimen", 0) + fit.of("mating", 0)
    assert 0 < next_one < fit.of("reading", 0)
    assert found.uncertainty is not None
    spread = np.sqrt(next_one + found.uncertainty**2)
    chance = [stats.t.sf((3.5e-3 - found.value) / spread, freedom) for freedom in (1e9, 2)]
    assert found.probability_over is not None
    assert chance[0] <= found.probability_over <= chance[1]


def test_the_budget_adds_up_where_numbers_differ() -> None:
    rng = np.random.default_rng(2)
    specimen = np.repeat([0, 1, 2, 3], [2, 3, 5, 9])
    value = 2.6e-3 * np.exp(rng.normal(0, 0.2, 4)[specimen] + rng.normal(0, 0.1, 19))
    measured = measure(known_resistances(value, specimen), "log", "auto")
    found = condition_result(measured, 0, None, 0.95)
    lines = budget(measured, found)
    assert np.sqrt(sum(line.contribution**2 for line in lines)) == pytest.approx(found.uncertainty, rel=1e-9)
