"""Comparisons against published tests.

Status beside each: published (read or quoted), memory (recalled, then reproduced), exact mathematics,
reference software.
"""

import numpy as np
import pytest
from tests.published.data_files import columns, numbers
from tests.published.printed import assert_printed
from tests.tables import design_of, known_resistances

from ohmsworth.inference.conditions import condition_result
from ohmsworth.inference.engine import difference, make_engine
from ohmsworth.inference.estimate import Estimate
from ohmsworth.inference.measured import measure
from ohmsworth.inference.more import Scatter, chance_to_settle
from ohmsworth.inference.permutation import sign_flips, two_groups


def cars(scatter: str) -> Estimate:
    group, mpg = columns("nist_auto83b.csv")["group"], numbers("nist_auto83b.csv", "mpg")
    return difference(make_engine(design_of(mpg, range(len(mpg)), group), scatter), 0, 1)


def test_equal_scatter() -> None:
    """NIST/SEMATECH e-Handbook 1.3.5.3, memory: pooled t = −12.62059 with 326 degrees of freedom."""
    found = cars("equal")
    assert_printed("-12.62059", found.value / found.standard_error)
    assert found.freedom == pytest.approx(326, rel=1e-8)


def test_scatter_by_condition() -> None:
    """NIST/SEMATECH e-Handbook 1.3.5.3, memory: t = −12.94627 with 136.875 degrees of freedom."""
    found = cars("by condition")
    assert_printed("-12.94627", found.value / found.standard_error)
    assert_printed("136.875", found.freedom)


def darwin() -> np.ndarray:
    return np.array(numbers("darwin_zea.csv", "diff_eighths_inch"))


@pytest.mark.parametrize("spread", [0.0, 5.0, 300.0])
def test_darwins_plants(spread: float) -> None:
    """Fisher, Design of Experiments, section 17, memory: 15 pairs, t = 2.148, 14 degrees of freedom.

    However much the pairs differ among themselves (`spread`), their differences decide.
    """
    own = spread * np.random.default_rng(0).normal(size=15)
    pots = [*range(15), *range(15)]
    design = design_of([*(own + darwin()), *own], pots, ["crossed"] * 15 + ["self"] * 15)
    found = difference(make_engine(design, "equal"), 0, 1)
    assert_printed("314", 15 * found.value)
    assert_printed("2.148", found.value / found.standard_error)
    assert found.freedom == pytest.approx(14, rel=1e-6)


def test_fishers_sign_flips() -> None:
    """Fisher, Design of Experiments, section 21, memory: 863 of 32 768 sums reach 314; two-sided 5.267 %."""
    found = sign_flips(darwin(), seed=0)
    assert found is not None
    assert found.complete
    assert_printed("863", found.p_value * 32768 / 2)
    assert found.p_value == 1726 / 32768
    assert_printed("0.05267", found.p_value)


@pytest.mark.parametrize(
    ("first", "second", "smallest"), [(2, 2, 1 / 3), (3, 3, 1 / 10), (2, 3, 1 / 10), (1, 3, 1 / 4)]
)
def test_smallest_p_value_of_two_groups(first: int, second: int, smallest: float) -> None:
    """Exact mathematics: 2/C(2n, n), or 1/C(m + n, m) where the groups differ in size."""
    found = two_groups(np.arange(first) + 100.0, np.arange(second) * 1.0, seed=0)
    assert found is not None
    assert found.smallest == pytest.approx(smallest, rel=1e-12)
    assert found.p_value == pytest.approx(smallest, rel=1e-12)  # groups that lie wholly apart reach it


@pytest.mark.parametrize("pairs", range(1, 7))
def test_smallest_p_value_of_pairs(pairs: int) -> None:
    """Exact mathematics: 2/2^n."""
    found = sign_flips(np.arange(1.0, pairs + 1), seed=0)
    assert found is not None
    assert found.smallest == found.p_value == 2 / 2**pairs


def test_mean_of_temperatures() -> None:
    """NIST Technical Note 1900, example E2, memory: 25.59 °C, u = 0.872 °C, 95 % from 23.8 to 27.4 °C."""
    days = numbers("tn1900_e2.csv", "t_C")
    found = condition_result(
        measure(known_resistances(days, range(len(days))), "linear", "auto"), 0, None, 0.95
    )
    assert_printed("25.59", found.value)
    assert found.uncertainty is not None
    assert_printed("0.872", found.uncertainty)
    assert found.low is not None
    assert found.high is not None
    assert_printed("23.8", found.low)
    assert_printed("27.4", found.high)


def test_chance_of_showing_that_it_is_too_small() -> None:
    """Reference software (documentation of the R package PowerTOST), published: 0.815435.

    Two groups of 24, standard deviation 0.2, difference −0.05, margin ±0.2, each side at 5 %.
    """
    scatter = Scatter(specimen=2 * 0.2**2, mating=0.0, fixed=0.0, paired=False)
    assert_printed("0.815435", chance_to_settle(scatter, -0.05, (-0.2, 0.2), 24, 1, 0.05))
