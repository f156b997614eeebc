"""Sample sizes and powers that somebody published."""

import numpy as np
import pytest
from scipy import stats
from tests.published.printed import assert_printed

from ohmsworth.inference.planning import (
    LIMIT,
    Goal,
    Layout,
    Levels,
    chance_of,
    smallest_p,
    specimens_without_model,
)
from ohmsworth.inference.planning.chances import chances_beyond
from ohmsworth.inference.planning.compared import Contrast, chance_to_detect, chance_to_settle


def two_groups(n: float) -> Contrast:
    """Two groups of n with standard deviation 1, pooled."""
    return Contrast(2 / n, 0.0, 2 * (n - 1))


def test_power_of_a_t_test() -> None:
    """R, help page of stats::power.t.test: n = 20, delta = 1 gives 0.8689528. From memory, reproduced.

    The page's default leaves out the tail on the far side, 2.5e-10 here.
    """
    assert_printed("0.868953", chance_to_detect(two_groups(20), 1.0, 0.05))


def test_size_of_a_t_test() -> None:
    """The same help page: power .90 at delta 1 asks for n = 22.02110 (two-sided), 17.84713 (one-sided).

    From memory, reproduced: at the printed n the power is .90 within what the printed digits leave open.
    """
    assert chance_to_detect(two_groups(22.02110), 1.0, 0.05) == pytest.approx(0.9, abs=2e-7)
    freedom = 2 * (17.84713 - 1)
    one_sided = chances_beyond(np.sqrt(17.84713 / 2), np.array([stats.t.ppf(0.95, freedom)]), freedom)[0]
    assert one_sided == pytest.approx(0.9, abs=2e-7)


@pytest.mark.parametrize(("delta", "n"), [(0.2, 394), (0.5, 64), (0.8, 26)])
def test_sizes_for_small_medium_and_large_effects(delta: float, n: int) -> None:
    """J. Cohen, Statistical Power Analysis (1988), table 2.4.1: power .80, two-sided .05; for .2 it prints 393 (393.4).

    Exact mathematics (non-central t).
    """
    assert (
        chance_to_detect(two_groups(n), delta, 0.05) >= 0.8 > chance_to_detect(two_groups(n - 1), delta, 0.05)
    )


def test_power_of_two_one_sided_tests() -> None:
    """Documentation of a reference program for equivalence studies, published: 0.815435.

    Two groups of 24, standard deviation 0.2, difference −0.05, margins ±0.2, each side at 5 %, pooled.
    """
    known = Contrast(2 * 0.2**2 / 24, 0.0, 46)
    assert_printed("0.815435", chance_to_settle(known, -0.05, (-0.2, 0.2), 0.05))


@pytest.mark.parametrize(("n", "power"), [(18, 0.8), (23, 0.9)])
def test_sizes_of_two_one_sided_tests(n: int, power: float) -> None:
    """A second independent computation by Owen's function: margin of one standard deviation, no difference."""
    enough, too_few = (chance_to_settle(two_groups(k), 0.0, (-1.0, 1.0), 0.05) for k in (n, n - 1))
    assert enough >= power > too_few


@pytest.mark.parametrize(
    ("content", "one_sided", "two_sided"), [(0.95, 59, 93), (0.99, 299, 473)], ids=["95 %", "99 %"]
)
def test_specimens_without_a_model(content: float, one_sided: int, two_sided: int) -> None:
    """Wilks 1941; NIST/SEMATECH e-Handbook 7.2.6.4; ISO 16269-6 table F. From memory, and exact mathematics."""
    assert specimens_without_model(content, 0.95) == one_sided
    assert specimens_without_model(content, 0.95, two_sided=True) == two_sided


@pytest.mark.parametrize(
    ("n", "k"), [(2, "26.26"), (3, "7.656"), (5, "4.203"), (10, "2.911"), (25, "2.292"), (100, "1.927")]
)
def test_limit_at_the_tolerance_factor(n: int, k: str) -> None:
    """One-sided factors for 95 % content, 95 % confidence (NBS Handbook 91 table A-7; from memory, reproduced).

    A share of exactly 95 % below the limit must pass with a chance of exactly 5 %: what the factor is made for.
    """
    room = float(stats.norm.ppf(0.95))
    assert chance_of(Goal(LIMIT, room=room), Levels(1.0, 0, 0, 0), Layout(n, 1, 1)) == pytest.approx(
        0.05, abs=1e-7
    )
    t = float(k) * np.sqrt(n)
    half = 0.0005 * np.sqrt(n) if n > 2 else 0.005 * np.sqrt(n)
    ends = chances_beyond(room * np.sqrt(n), np.array([t - half, t + half]), n - 1)
    assert ends[0] > 0.05 > ends[1]


@pytest.mark.parametrize(("n", "p"), [(2, 1 / 3), (3, 0.1)])
def test_smallest_p_of_two_groups(n: int, p: float) -> None:
    """Exact mathematics: 2/C(2n, n)."""
    assert smallest_p(Goal("detect"), n) == pytest.approx(p)


@pytest.mark.parametrize(("n", "p"), [(2, 0.5), (3, 0.25), (4, 0.125), (5, 0.0625), (6, 0.03125)])
def test_smallest_p_of_pairs(n: int, p: float) -> None:
    """Exact mathematics: 2/2^n."""
    assert smallest_p(Goal("detect", paired=True), n) == p
