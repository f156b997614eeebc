"""A comparison: what cancels, what does not, and what would settle it."""

import numpy as np
import pytest
from tests.tables import known_resistances

from ohmsworth.inference.comparisons import ComparisonResult, compare
from ohmsworth.inference.conditions import condition_result
from ohmsworth.inference.measured import measure
from ohmsworth.resistance import Resistances

OLD = np.array([3.1e-3, 3.4e-3, 3.0e-3, 3.3e-3])
NEW = np.array([2.5e-3, 2.7e-3, 2.6e-3, 2.4e-3])


def compared(
    resistances: Resistances, scale: str = "log", margin: float | None = None, scatter: str = "equal"
) -> ComparisonResult:
    measured = measure(resistances, scale, scatter)
    results = [condition_result(measured, c, None, 0.95) for c in range(2)]
    found = compare(measured, *results, margin, 0.95, seed=1)
    assert found is not None
    return found


def apart(**meters: float) -> Resistances:
    return known_resistances([*OLD, *NEW], "abcdefgh", "xxxxyyyy", **meters)


def paired(**meters: float) -> Resistances:
    return known_resistances([*OLD, *NEW], "abcdabcd", "xxxxyyyy", **meters)


def width(interval: tuple[float, float] | None) -> float:
    assert interval is not None
    return interval[1] - interval[0]


@pytest.mark.parametrize("scale", ["log", "linear"])
def test_separate_specimens_by_hand(scale: str) -> None:
    found = compared(apart(), scale)
    assert not found.paired
    assert found.freedom == pytest.approx(6)
    f = np.log if scale == "log" else np.asarray
    pooled = (f(OLD).var(ddof=1) + f(NEW).var(ddof=1)) / 2
    assert found.standard_error == pytest.approx(np.sqrt(pooled / 2), rel=1e-9)
    assert found.exact is not None
    assert found.exact.p_value == pytest.approx(2 / 70)


@pytest.mark.parametrize("scale", ["log", "linear"])
def test_the_same_specimens_by_hand(scale: str) -> None:
    found = compared(paired(), scale)
    assert (found.paired, found.pairs) == (True, 4)
    f = np.log if scale == "log" else np.asarray
    differences = f(OLD) - f(NEW)
    assert found.standard_error == pytest.approx(differences.std(ddof=1) / 2, rel=1e-9)
    assert found.freedom == pytest.approx(3)
    assert found.exact is not None
    assert found.exact.p_value == pytest.approx(2 / 16)


@pytest.mark.parametrize("scale", ["log", "linear"])
def test_a_common_gain_cancels_in_the_ratio(scale: str) -> None:
    plain, with_gain = compared(apart(), scale), compared(apart(gain=0.05), scale)
    # Fieller's theorem on the linear scale keeps a factor 1/√(1 − t²g²) = 1.0075 of it.
    assert width(with_gain.ratio_interval) == pytest.approx(width(plain.ratio_interval), rel=0.008)
    assert width(with_gain.difference_interval) > width(plain.difference_interval)


@pytest.mark.parametrize("scale", ["log", "linear"])
def test_a_thermal_emf_does_not_cancel_even_where_scatter_is_nothing(scale: str) -> None:
    """Two medians each uncertain by 17 µΩ of EMF: their difference in ohm is uncertain by √2 times that."""
    steady = known_resistances(np.array([3.0, 3.0001, 2.0, 2.0001]) * 1e-3, "abcd", "xxyy", emf=17e-6)
    found = compared(steady, scale)
    assert width(found.difference_interval) / 2 == pytest.approx(1.96 * np.sqrt(2) * 17e-6, rel=0.02)


@pytest.mark.parametrize(
    ("margin", "verdict"),
    [
        (1e-4, "enough to matter"),
        (7e-4, "cannot tell yet"),
        (2e-3, "too small to matter"),
        (None, "cannot tell yet"),
    ],
)
def test_the_margin_decides(margin: float | None, verdict: str) -> None:
    assert compared(apart(), margin=margin).verdict == verdict


def test_an_open_question_says_how_much_more_would_settle_it() -> None:
    found = compared(apart(), margin=4.5e-4)
    assert found.verdict == "cannot tell yet"
    assert found.settle
    assert all(needed.specimens > 4 and needed.power >= 0.8 for needed in found.settle)
    assert compared(apart(), margin=2e-3).settle == ()


def test_nothing_to_compare_by_is_none() -> None:
    measured = measure(known_resistances([2e-3, 3e-3], "ab", "xy"), "log", "auto")
    results = [condition_result(measured, c, None, 0.95) for c in range(2)]
    assert compare(measured, *results, None, 0.95, 1) is None
