"""A contact while it is being measured: pooled scatter by hand, meters and verdict."""

import math

import numpy as np
import pytest
from scipy import stats
from tests.tables import known_resistances

from ohmsworth.inference.so_far import contact_so_far, mating_so_far, one_resistance
from ohmsworth.resistance import Resistances

VALUES = [2.5e-3, 2.52e-3, 2.7e-3, 2.66e-3, 3.1e-3, 3.2e-3, 2.9e-3]


def resistances(**meters: float) -> Resistances:
    """Two contacts: the first mated twice and read twice each time, the second mated twice."""
    return known_resistances(
        VALUES, ["A"] * 4 + ["B"] * 3, mating=["1", "1", "2", "2", "1", "1", "2"], **meters
    )


def test_matings_are_what_a_contact_scatters_by() -> None:
    found = contact_so_far(resistances(), np.arange(4), "linear", 2.7e-3, 0.95)
    assert found is not None
    a, b = (2.51e-3, 2.68e-3), (3.15e-3, 2.9e-3)
    variance = (np.ptp(a) ** 2 / 2 + np.ptp(b) ** 2 / 2) / 2
    assert found.value == pytest.approx(np.mean(a))
    assert found.standard == pytest.approx(math.sqrt(variance / 2))
    assert found.expanded == pytest.approx(stats.t.ppf(0.975, 2) * found.standard)
    assert found.probability == pytest.approx(stats.t.cdf((2.7e-3 - found.value) / found.standard, 2))
    assert (found.matings, found.readings, found.scatter_known) == (2, 4, True)
    assert found.verdict == "too close to call"


def test_with_one_mating_each_it_holds_for_this_mating_alone() -> None:
    one = resistances().take(np.array([0, 1, 4, 5]))
    found = contact_so_far(one, np.arange(2), "log", 2.7e-3, 0.95)
    assert found is not None
    squares = (math.log(2.52 / 2.5) ** 2 + math.log(3.2 / 3.1) ** 2) / 2
    assert found.value == pytest.approx(math.sqrt(2.5e-3 * 2.52e-3))
    assert found.standard / found.value == pytest.approx(math.sqrt(squares / 2 / 2))
    assert not found.scatter_known


def test_the_meters_common_part_does_not_shrink_with_readings() -> None:
    alone = contact_so_far(resistances(gain=0.02), np.arange(4), "linear", None, 0.95)
    without = contact_so_far(resistances(), np.arange(4), "linear", None, 0.95)
    assert alone is not None
    assert without is not None
    mean = 0.02 * np.mean(VALUES[:4])
    assert alone.standard == pytest.approx(math.hypot(without.standard, mean))
    assert alone.verdict is None


def test_what_has_no_logarithm_is_not_judged() -> None:
    negative = known_resistances([-1e-5, 2e-3], ["A", "A"])
    assert contact_so_far(negative, np.arange(2), "log", 1e-3, 0.95) is None
    assert mating_so_far(negative, np.arange(2), "log") is None
    assert mating_so_far(negative, np.arange(2), "linear") == pytest.approx(0.995e-3)
    assert contact_so_far(negative, np.array([1]), "log", 1e-3, 0.95) is not None
    assert contact_so_far(negative, np.array([], int), "log", 1e-3, 0.95) is None


def test_a_rectangle_that_dominates_is_covered_as_one() -> None:
    found = one_resistance(resistances(emf=2e-5, independent=1e-6), 0, 0.95)
    assert found.standard == pytest.approx(math.hypot(2e-5, 1e-6))
    assert found.expanded == pytest.approx(0.95 * math.sqrt(3) * found.standard)
    spread = one_resistance(resistances(emf=1e-6, independent=2e-5), 0, 0.95)
    assert spread.expanded == pytest.approx(stats.norm.ppf(0.975) * spread.standard)
    assert set(found.parts) == {"thermal EMF", "meter counts"}
