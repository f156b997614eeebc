"""Who looks after every specimen and stops as soon as it looks decided: wrong no more often than promised.

Drawn studies that lie exactly at the bound, where every verdict is an error. The same draws judged as if each look were the only
one show what would be lost. Limits: three standard errors above the promise.
"""

import sys
from pathlib import Path

import numpy as np
import pytest

sys.path.append(str(Path(__file__).parents[2] / "benchmarks"))  # programs there are run by path

from looks_draw import Bench, errors_of, look_on
from looks_means import ever, p_values, read

from ohmsworth.inference.looks import level_at

ALPHA, DRAWS = 0.05, 20_000
LIMIT = ALPHA + 3 * np.sqrt(ALPHA * (1 - ALPHA) / DRAWS)


def levels(planned: int, more: int = 0) -> np.ndarray:
    return np.array([level_at(done, planned, ALPHA) for done in range(2, planned + more + 1)])


@pytest.mark.parametrize("pairs", [True, False])
@pytest.mark.parametrize("planned", [2, 3, 4, 6, 8, 12])
def test_errors_after_every_specimen(planned: int, pairs: bool) -> None:
    p = p_values(np.random.default_rng(2026), DRAWS, planned, pairs)
    assert 0.5 * ALPHA < ever(p, levels(planned)) < LIMIT
    if planned > 2:
        assert ever(p, np.full(planned - 1, ALPHA)) > LIMIT + 0.01


@pytest.mark.parametrize("pairs", [True, False])
@pytest.mark.parametrize("planned", [2, 3, 6])
def test_errors_beyond_the_sheet(planned: int, pairs: bool) -> None:
    p = p_values(np.random.default_rng(2027), DRAWS, planned + 10, pairs)
    assert ever(p, levels(planned, 10)) < LIMIT


def test_what_it_costs_and_saves() -> None:
    """What an ordinary study of six finds with 90 % at its end is found a little less often; what is plain, much sooner."""
    near, far = (p_values(np.random.default_rng(2028), DRAWS, 6, True, shift) for shift in (1.386, 4.2))
    assert np.mean(near[:, -1] < ALPHA) == pytest.approx(0.9, abs=0.02)
    assert ever(near, levels(6)) > 0.82
    assert ever(far, levels(6)) > 0.999
    assert read(far, levels(6)) < 0.75


def test_whole_studies() -> None:
    """Through the program's own inference: separate specimens, two matings each, three specimens a condition."""
    rng, studies = np.random.default_rng(2029), 80
    found = np.mean([errors_of(look_on(Bench(3, 2), rng)) for _ in range(studies)], axis=0)
    ordinary, allowed = found.mean(1)  # of four kinds of error, each at 5 %
    assert allowed < 0.05 + 3 * np.sqrt(0.05 * 0.95 / (4 * studies))
    assert ordinary > allowed + 0.02
