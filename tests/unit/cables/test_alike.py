"""Wires that stand out among their fellows: against published critical values, and by simulation."""

import numpy as np
import pytest

from ohmsworth.cables.alike import compare_fellows, critical_deviate, rosner

#: Source: Rosner (1983), vitamin E plasma levels, as retold in engineering handbooks; from memory.
ROSNER = [
    -0.25, 0.68, 0.94, 1.15, 1.20, 1.26, 1.26, 1.34, 1.38, 1.43, 1.49, 1.49, 1.55, 1.56, 1.58, 1.65, 1.69, 1.70, 1.76,
    1.77, 1.81, 1.91, 1.94, 1.96, 1.99, 2.06, 2.09, 2.10, 2.14, 2.15, 2.23, 2.24, 2.26, 2.35, 2.37, 2.40, 2.47, 2.54,
    2.62, 2.64, 2.90, 2.92, 2.92, 2.93, 3.21, 3.26, 3.30, 3.59, 3.68, 4.30, 4.64, 5.34, 5.42, 6.01,
]  # fmt: skip


def test_a_published_example_has_three_that_stand_out() -> None:
    """Source: Rosner (1983): of 54 values and at most ten, at 5 %, the three largest."""
    removed, beyond = rosner(np.array(ROSNER), 10, 0.05)
    assert beyond == 3
    assert sorted(ROSNER[i] for i in removed[:3]) == [5.34, 5.42, 6.01]


def test_published_critical_values() -> None:
    """Source: the same: 3.158, 3.151, 3.143, 3.136 and 3.128 for the first five steps; from memory, third digit."""
    found = [critical_deviate(54, step, 0.05) for step in range(1, 6)]
    assert found == pytest.approx([3.158, 3.151, 3.143, 3.136, 3.128], abs=1.5e-3)


def multicore(chance: np.random.Generator, bad: dict[int, float], n: int = 24) -> np.ndarray:
    """End to end, 40 m of 0.22 mm² (3.13 Ω) a core; cores scatter by 2 mΩ."""
    values = 3.13 * (1 + chance.normal(0, 0.01)) + chance.normal(0, 2e-3, n)
    for index, ohm in bad.items():
        values[index] += ohm
    return values


def test_a_bad_termination_stands_out_although_the_total_is_about_right() -> None:
    chance = np.random.default_rng(6)
    others, covered = 0, 0
    for _ in range(200):
        found = compare_fellows(multicore(chance, {7: 30e-3}), 0.3e-3)
        assert found is not None
        bad = found.out[0]
        assert bad.index == 7
        others += len(found.out) - 1
        covered += bad.low < 30e-3 < bad.high
        assert found.smallest < 30e-3
    assert others <= 2 + 4 * 2**0.5  # 1 % of 200
    assert covered >= 0.95 * 200 - 4 * 3.1


def test_two_bad_ones_do_not_hide_each_other() -> None:
    found = compare_fellows(multicore(np.random.default_rng(7), {3: 30e-3, 11: 31e-3}))
    assert found is not None
    assert {one.index for one in found.out} == {3, 11}


def test_sound_cables_are_rarely_told_of_one() -> None:
    """The stated chance of 1 %, over 4,000 cables: within four standard deviations of a count."""
    chance = np.random.default_rng(8)
    told = sum(bool(found.out) for _ in range(4000) if (found := compare_fellows(multicore(chance, {}))))
    assert told <= 40 + 4 * 40**0.5
    assert told >= 10


def test_reading_scatter_is_the_least_that_is_believed() -> None:
    """Values that agree by chance do not make one of them stand out."""
    values = [1.0, 1.0, 1.0, 1.0, 1.0, 1.0005]
    assert compare_fellows(values, 0.5e-3).out == ()  # type: ignore[union-attr]
    assert compare_fellows([1.0, 1.1, 1.0]) is None
