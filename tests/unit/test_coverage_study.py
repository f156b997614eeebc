"""The study of coverage draws what its cells say, and judges the intervals as an independent computation does."""

import sys
from pathlib import Path

import numpy as np
import pytest
from scipy import stats

sys.path.append(str(Path(__file__).parents[2] / "benchmarks"))  # programs there are run by path

import bench_coverage
from coverage_cells import KINDS, READING, Cell, all_cells
from coverage_draw import layout
from coverage_ways import engines, estimates

CELLS = all_cells()


def test_the_cells_span_what_is_asked() -> None:
    assert {cell.kind for cell in CELLS} == set(KINDS)
    assert 80 <= len(CELLS) <= 150
    counts = {n for cell in CELLS for n in cell.units}
    assert (min(counts), max(counts)) == (2, 10)
    assert {cell.matings for cell in CELLS} >= {1, 5}
    assert {len(cell.units) for cell in CELLS} == {2, 3}
    assert len({cell.seed for cell in CELLS}) == len(CELLS)


@pytest.mark.parametrize("kind", KINDS)
def test_the_variance_drawn_is_the_variance_stated(kind: str) -> None:
    cell = next(c for c in CELLS if c.kind == kind and c.unit > 0 and (c.socket or c.mating))
    plan, rng = layout(cell), np.random.default_rng(0)
    y = np.array([plan.study(rng).y[0] for _ in range(4000)])
    # of one reading of the first condition: the sum of all levels
    stated = READING**2 * (cell.unit + cell.response + cell.mating + cell.socket + 1)
    low, high = stats.chi2.ppf([0.0005, 0.9995], len(y)) / len(y)
    assert low * stated < y.var() < high * stated


def test_gaps_take_readings_away_and_a_lost_specimen_its_condition() -> None:
    even = layout(Cell("separate", (3, 3), 5, 5, False, 1.0)).design
    gaps = layout(Cell("separate", (3, 3), 5, 5, True, 1.0)).design
    assert len(even.y) == 150
    assert 6 <= len(gaps.y) < 150
    lost = layout(Cell("paired", (4, 4), 1, 1, False, 1.0, lost=True)).design
    assert np.bincount(lost.condition).tolist() == [4, 3]


def test_single_readings_give_the_t_test() -> None:
    """One reading a specimen and equal scatter: scipy's two-sample t interval."""
    design = layout(Cell("separate", (2, 4), 1, 1, False, 1.0)).study(np.random.default_rng(3))
    told = estimates(*engines(design))
    a, b = (design.y[design.condition == c] for c in (1, 0))
    expected = stats.ttest_ind(a, b).confidence_interval(0.95)
    for way in ("bounded", "equal"):
        np.testing.assert_allclose(told[way].interval(0.95), expected, rtol=1e-6)


def test_coverage_of_the_exact_t_is_as_promised() -> None:
    """Of 500 studies with the exact t, 95 % hold within four standard errors; the normal's is known to be too short."""
    row = bench_coverage.study_of(Cell("separate", (2, 2), 1, 1, False, 1.0), 500)
    assert abs(row["equal"][0] - 95) < 4 * 100 * np.sqrt(0.95 * 0.05 / 500)
    # P(|t with 2 degrees of freedom| < 1.96)
    normal = 100 * (1 - 2 * stats.t.sf(1.959964, 2))
    assert abs(row["normal"][0] - normal) < 4 * 100 * np.sqrt(0.81 * 0.19 / 500)
