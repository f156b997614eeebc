"""Specimen means of unequal numbers: weighted least squares of a general library; equal ones are Student's."""

import numpy as np
import pytest
from scipy import stats
from tests.tables import design_of

from ohmsworth.inference.design import Design
from ohmsworth.inference.engine import difference, make_engine
from ohmsworth.inference.means import mean_variances


def separate(seed: int, readings: tuple[int, ...]) -> Design:
    """Specimens of no scatter of their own, in two conditions, read unequally often."""
    rng = np.random.default_rng(seed)
    specimen = np.repeat(np.arange(len(readings)), readings)
    condition = (specimen >= len(readings) // 2).astype(int)
    return design_of(rng.normal(0, 1, len(specimen)), specimen, condition)


def test_weights_are_those_of_least_squares() -> None:
    """statsmodels WLS on the means with weights 1/v; its scale is the weighted mean square, its t the pooled one."""
    import statsmodels.api as sm

    for seed in range(30):
        design = separate(seed, (1, 5, 9, 2, 7, 3))
        engine = make_engine(design, "equal")
        if not engine.fit.at_bound:
            continue
        means = engine.means
        fitted = sm.WLS(
            means.value, np.eye(2)[means.condition], weights=1 / mean_variances(design, engine.fit)
        ).fit()
        theirs = fitted.t_test([-1, 1])
        found = difference(engine, 1, 0)
        assert found.value == pytest.approx(theirs.effect[0], rel=1e-9)
        assert found.standard_error == pytest.approx(theirs.sd[0, 0], rel=1e-9)
        assert found.freedom == fitted.df_resid
        return
    pytest.fail("no study met the bound")


@pytest.mark.parametrize("seed", range(3))
def test_equal_numbers_are_students(seed: int) -> None:
    design = separate(seed, (4,) * 6)
    means = design.y.reshape(6, 4).mean(1)
    found = difference(make_engine(design, "auto"), 1, 0)
    theirs = stats.ttest_ind(means[3:], means[:3], equal_var=False)
    assert found.p_value() == pytest.approx(theirs.pvalue, rel=1e-9)
