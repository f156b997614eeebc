"""Each specimen's own resistance and verdict."""

import numpy as np
import pytest
from tests.tables import known_resistances

from ohmsworth.inference.means import specimen_means
from ohmsworth.inference.measured import measure
from ohmsworth.inference.specimens import SpecimenResults, coverage_factor, specimen_results
from ohmsworth.resistance import Resistances


def results(resistances: Resistances, scale: str = "linear", limit: float | None = None) -> SpecimenResults:
    measured = measure(resistances, scale, "equal")
    return specimen_results(measured, specimen_means(measured.design).value, limit, 0.95)


def test_readings_of_one_mating_by_hand() -> None:
    """Reading scatter is pooled over specimens; the difference between specimens is no uncertainty."""
    rng = np.random.default_rng(0)
    value = np.repeat([2e-3, 3e-3, 5e-3, 9e-3], 5) + rng.normal(0, 1e-5, 20)
    found = results(known_resistances(value, np.repeat(list("abcd"), 5)), limit=4e-3)
    groups = value.reshape(4, 5)
    pooled = groups.var(axis=1, ddof=1).mean()
    assert found.value == pytest.approx(groups.mean(1))
    assert found.uncertainty == pytest.approx(np.sqrt(pooled / 5), rel=1e-6)
    assert found.freedom == pytest.approx(16, rel=1e-3)
    assert found.verdicts == ("within", "within", "over", "over")
    assert found.readings.tolist() == [5, 5, 5, 5]


def test_matings_count_once_each() -> None:
    rng = np.random.default_rng(1)
    specimen, mating = np.repeat(np.arange(6), 6), np.tile(np.repeat([1, 2, 3], 2), 6)
    between = rng.normal(0, 2e-4, (6, 3))[specimen, mating - 1]
    value = 3e-3 + 1e-3 * specimen + between + rng.normal(0, 1e-6, 36)
    found = results(known_resistances(value, specimen, mating=mating))
    means = value.reshape(6, 3, 2).mean(2)
    assert found.uncertainty == pytest.approx(np.sqrt(means.var(axis=1, ddof=1).mean() / 3), rel=1e-3)
    assert found.freedom == pytest.approx(12, rel=1e-2)


def test_a_specimens_own_contacts_are_no_uncertainty() -> None:
    rng = np.random.default_rng(2)
    specimen, contact = np.repeat(np.arange(4), 6), np.tile(np.repeat([1, 2, 3], 2), 4)
    own = rng.normal(0, 1e-3, (4, 3))[specimen, contact - 1]
    found = results(known_resistances(5e-3 + own + rng.normal(0, 1e-6, 24), specimen, contact=contact))
    assert (found.uncertainty < 2e-6).all()


def test_logarithms_scale_the_uncertainty_with_the_value() -> None:
    rng = np.random.default_rng(3)
    value = np.repeat([1e-3, 1e-2], 6) * np.exp(rng.normal(0, 0.01, 12))
    found = results(known_resistances(value, np.repeat([0, 1], 6)), "log")
    assert found.uncertainty[1] / found.uncertainty[0] == pytest.approx(found.value[1] / found.value[0])


def test_a_single_reading_without_meter_has_no_uncertainty_to_tell() -> None:
    found = results(known_resistances([2e-3, 9e-3, 3e-3], "abc"), limit=4e-3)
    assert np.isnan(found.uncertainty).all()
    assert found.verdicts == ("too close to call",) * 3


def test_one_dominant_rectangle_has_its_own_factor() -> None:
    """EA-4/02 S9: 1.65 rather than 2, because a rectangle has no tails."""
    u, dominant = np.array([1.0, 1.0, 1.0]), np.array([1.0, 0.96, 0.9])
    found = coverage_factor(u, np.full(3, np.inf), dominant, 0.95)
    assert found[:2] == pytest.approx(np.sqrt(3) * 0.95)
    assert found[2] == pytest.approx(1.959964, rel=1e-6)


def test_the_meters_gain_is_not_averaged_down() -> None:
    value = np.full(8, 3e-3)
    found = results(known_resistances(value, np.repeat([0, 1], 4), gain=0.01))
    assert found.uncertainty == pytest.approx(3e-5)
    assert (found.high - found.value) == pytest.approx(np.sqrt(3) * 0.95 * 3e-5)
