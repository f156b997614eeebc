"""Tones against direct current."""

import math

import pytest
from scipy import stats

from ohmsworth.errors import ArgumentFault
from ohmsworth.resistance.impedance.against_dc import CAUSES, against_direct
from ohmsworth.resistance.impedance.estimated import Estimated, subtracted


def tones(value: float = 0.00512, shared: float = 0.0) -> Estimated:
    return Estimated(value, 3e-5, 10.0, {"shunt": shared})


def test_difference_and_its_interval_by_hand() -> None:
    found = against_direct(tones(shared=2e-5), 0.005, 4e-5, 6.0)
    u = math.sqrt(9 + 4 + 16) * 1e-5
    freedom = u**4 / ((3e-5) ** 4 / 10 + (4e-5) ** 4 / 6)
    assert found.difference.value == pytest.approx(1.2e-4)
    assert found.relative == pytest.approx(0.024)
    assert found.difference.uncertainty == pytest.approx(u)
    assert found.difference.freedom == pytest.approx(freedom)
    assert found.high - found.low == pytest.approx(2 * u * stats.t.ppf(0.975, freedom))
    assert found.p_value == pytest.approx(2 * stats.t.sf(1.2e-4 / u, freedom))


def test_what_is_explained_has_no_causes() -> None:
    found = against_direct(tones(), 0.0051, 4e-5)
    assert (found.explained, found.causes) == (True, ())
    assert found.p_value > 0.05


def test_what_each_sign_may_mean() -> None:
    higher, lower = (
        against_direct(tones(), 0.0045, 1e-5, voltage=0.1),
        against_direct(tones(), 0.006, 1e-5, voltage=0.1),
    )
    assert higher.causes == ("film broken", "spots grown", "thermal EMF", "bulk", "moved")
    assert lower.causes == ("film bridged", "warmed", "thermal EMF", "bulk", "moved")
    assert set(higher.causes + lower.causes) == set(CAUSES)


def test_a_dry_direct_current_breaks_and_warms_nothing_and_a_reversed_one_has_no_emf() -> None:
    assert against_direct(tones(), 0.0045, 1e-5, voltage=-0.02, reversed_too=True).causes == ("bulk", "moved")
    assert against_direct(tones(), 0.006, 1e-5, voltage=0.02).causes == (
        "film bridged",
        "thermal EMF",
        "bulk",
        "moved",
    )
    assert "film broken" in against_direct(tones(), 0.0045, 1e-5).causes


def test_common_errors_cancel_in_a_difference() -> None:
    one = Estimated(2.0, 0.0, math.inf, {"shunt": 0.2, "only": 0.1})
    other = Estimated(1.0, 0.0, math.inf, {"shunt": 0.2, "his": 0.3})
    found = subtracted(one, other)
    assert found.shared == {"shunt": 0.0, "only": 0.1, "his": -0.3}
    assert found.freedom == math.inf
    assert found.uncertainty == pytest.approx(math.hypot(0.1, 0.3))


def test_a_value_without_uncertainty_is_zero_or_is_not() -> None:
    assert Estimated(0.0, 0.0, math.inf, {}).p_value() == 1
    assert Estimated(1.0, 0.0, math.inf, {}).p_value() == 0


@pytest.mark.parametrize(("direct", "uncertainty"), [(0.0, 1e-5), (0.005, 0.0), (math.inf, 1e-5)])
def test_refused(direct: float, uncertainty: float) -> None:
    with pytest.raises(ArgumentFault, match="more than zero"):
        against_direct(tones(), direct, uncertainty)
