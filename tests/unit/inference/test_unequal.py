"""Scatter that differs between conditions is found, at the level where it differs."""

import numpy as np
import pytest
from scipy import stats
from tests.tables import design_of

from ohmsworth.inference.design import Design
from ohmsworth.inference.unequal import bartlett, level_squares, levels_to_split


def nested(
    seed: int, specimen: tuple[float, float], reading: tuple[float, float], specimens: int = 8
) -> Design:
    """Two conditions with their own specimens, 3 readings each; standard deviations by condition."""
    rng = np.random.default_rng(seed)
    y, who, what = [], [], []
    for c in range(2):
        for s in range(specimens):
            own = rng.normal(0, specimen[c])
            for _ in range(3):
                y.append(own + rng.normal(0, reading[c]))
                who.append(f"{c}{s}")
                what.append(f"c{c}")
    return design_of(y, who, what)


def test_bartlett_is_the_textbook_test() -> None:
    rng = np.random.default_rng(0)
    groups = [rng.normal(0, s, n) for s, n in ((1, 5), (2, 9), (1.5, 7))]
    square = np.array([g.var(ddof=1) for g in groups])
    freedom = np.array([len(g) - 1.0 for g in groups])
    assert bartlett(square, freedom) == pytest.approx(stats.bartlett(*groups).pvalue, rel=1e-10)


def test_a_level_without_scatter_is_no_finding() -> None:
    assert bartlett(np.array([0.0, 1.0]), np.array([5.0, 5.0])) == 1.0


def test_separate_specimens_keep_each_conditions_scatter() -> None:
    """Not after a test: with three specimens a test misses even tenfold differences."""
    for seed in range(5):
        assert levels_to_split(nested(seed, (1, 1), (0.1, 0.1), 3), "auto") >= {"specimen"}
    assert (
        levels_to_split(nested(3, (1, 1), (0.1, 0.1), 2), "auto") == frozenset()
    )  # two cannot have their own


def test_below_the_specimens_the_level_that_differs_is_split() -> None:
    assert levels_to_split(nested(1, (1, 1), (0.05, 1.0)), "auto") == {"specimen", "reading"}
    assert levels_to_split(nested(3, (1, 1), (0.1, 0.1)), "auto") == {"specimen"}


def test_asked_for_it_is_or_is_not_split() -> None:
    design = nested(3, (1, 1), (0.1, 0.1))
    assert levels_to_split(design, "by condition") == {"specimen", "reading"}
    assert levels_to_split(nested(1, (1, 1), (0.05, 1.0)), "equal") == frozenset()


def test_a_condition_without_any_scatter_is_not_given_a_variance_of_zero() -> None:
    design = design_of([1, 1, 1, 2, 3, 5], "abcdef", "xxxyyy")
    assert levels_to_split(design, "auto") == frozenset()


def test_false_alarms_stay_near_five_percent() -> None:
    alarms = sum(
        "reading" in levels_to_split(nested(seed, (1, 1), (0.3, 0.3), 4), "auto") for seed in range(300)
    )
    assert alarms <= 27  # 5 % of 300 is 15; three standard deviations more


def test_re_paired_parts_and_shared_specimens_are_split_after_a_test_only() -> None:
    rng = np.random.default_rng(7)
    pairs = [(p, s) for p in range(6) for s in range(3)]
    design = design_of(
        rng.normal(size=36),
        [str(pair) for pair in pairs for _ in "xx"],
        ["x" if p < 3 else "y" for p, _ in pairs for _ in "xx"],
        plug=[p for p, _ in pairs for _ in "xx"],
        socket=[s for _, s in pairs for _ in "xx"],
    )
    assert levels_to_split(design, "auto") == frozenset()
    shared = design_of(rng.normal(size=24), "aabbccddeeff" * 2, "x" * 12 + "y" * 12)
    assert levels_to_split(shared, "auto") == frozenset()


def test_specimens_that_cross_the_conditions_are_not_compared_between_them() -> None:
    rng = np.random.default_rng(4)
    design = design_of(rng.normal(size=24), "aabbccddeeff" * 2, "x" * 12 + "y" * 12)
    assert set(level_squares(design)) == {"reading"}


def test_squares_of_specimen_means_about_their_condition() -> None:
    design = nested(5, (1, 1), (0.3, 0.3))
    square, freedom = level_squares(design)["specimen"]
    means = design.y.reshape(2, 8, 3).mean(2)
    assert square == pytest.approx(means.var(axis=1, ddof=1))
    assert freedom.tolist() == [7, 7]


def test_matings_of_one_specimen_a_condition_are_compared_too() -> None:
    """Where specimens leave no freedom, the matings below them are the outermost level."""
    rng = np.random.default_rng(6)
    y = np.concatenate([np.repeat(rng.normal(0, s, 10), 2) + rng.normal(0, 0.01, 20) for s in (0.05, 2.0)])
    design = design_of(y, "a" * 20 + "b" * 20, "x" * 20 + "y" * 20, mating=[i // 2 for i in range(20)] * 2)
    _, freedom = level_squares(design)["mating"]
    assert freedom.tolist() == [9, 9]
    assert "mating" in levels_to_split(design, "auto")


def test_two_specimens_beside_six_keep_their_own_scatter() -> None:
    rng = np.random.default_rng(2)
    names = "aabbccddeeffgghh"
    design = design_of(rng.normal(size=16), names, "xxxx" + "y" * 12)
    assert levels_to_split(design, "auto") == {"specimen"}
    alone = design_of(rng.normal(size=14), names[2:], "xx" + "y" * 12)
    assert levels_to_split(alone, "auto") == frozenset()  # one shows no scatter of its own
