"""Slopes that differ from specimen to specimen, against published growth data and a second computation.

Status beside each: published (read), memory (recalled), second computation (statsmodels' MixedLM, run here).
"""

from __future__ import annotations

import warnings

import numpy as np
import pytest
from tests.published.data_files import columns, numbers
from tests.published.printed import assert_printed

from ohmsworth.inference.ageing import Slopes, slopes_by_level
from ohmsworth.readings.study import Scatter
from ohmsworth.readings.table import Array, Codes


def coded(names: list[str]) -> Codes:
    return np.asarray(np.unique(names, return_inverse=True)[1], np.int64)


def sleepstudy() -> tuple[Array, Array, Codes]:
    file = "lme4_sleepstudy.csv"
    return (
        np.array(numbers(file, "Days")),
        np.array(numbers(file, "Reaction")),
        coded(columns(file)["Subject"]),
    )


def orthodont() -> tuple[Array, Array, Codes, Codes]:
    """With level 0 for females and 1 for males."""
    file = "nlme_Orthodont.csv"
    data = columns(file)
    return (
        np.array(numbers(file, "age")),
        np.array(numbers(file, "distance")),
        coded(data["Subject"]),
        coded(data["Sex"]),
    )


def one_level(time: Array, y: Array, subject: Codes) -> Slopes:
    return slopes_by_level(time, y, subject, subject, np.zeros(len(y), np.int64))


def second(time: Array, y: Array, subject: Codes, level: Codes) -> tuple[Array, Array, float, float]:
    """Slopes by level, their standard errors as the likelihood has them, and both standard deviations, by MixedLM."""
    mixed = pytest.importorskip("statsmodels.regression.mixed_linear_model")
    heights = np.eye(subject.max() + 1)[subject]
    slopes = np.eye(level.max() + 1)[level] * time[:, None]
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        model = mixed.MixedLM(y, np.hstack([slopes, heights]), subject, exog_re=time[:, None])
        found = model.fit(reml=True, gtol=1e-9, maxiter=500)
    k = level.max() + 1
    return (
        found.fe_params[:k],
        found.bse_fe[:k],
        float(np.sqrt(found.cov_re[0, 0])),
        float(np.sqrt(found.scale)),
    )


def test_reaction_times_of_the_sleepstudy() -> None:
    """Published: the documentation of the R packages lmerTest 3.1-3 (contest1D) and pbkrtest, Reaction ~ Days + (Days | Subject).

    In a balanced design the height of a subject may as well be its own: the slope is Student's t on 18 slopes.
    """
    level = one_level(*sleepstudy()).levels[0]
    slope = level.slope
    assert slope is not None
    assert_printed("10.46729", slope.value)
    assert_printed("1.54579", slope.standard_error)
    assert slope.freedom == pytest.approx(16.99998, abs=1e-4)
    assert_printed("6.77148", slope.value / slope.standard_error)
    low, high = slope.interval(0.95)
    assert low == pytest.approx(7.205955, abs=2e-5)
    assert high == pytest.approx(13.72862, abs=2e-5)
    assert level.between is not None
    assert level.within is not None
    assert_printed("5.922", level.between)
    assert_printed("25.592", level.within)
    assert (level.specimens, level.visits) == (18, 180)


def test_growth_of_girls_and_boys() -> None:
    """Potthoff & Roy 1964 as Orthodont in the R package nlme: distance ~ Sex * age, random = ~ age | Subject.

    Memory: 0.7844 with 0.0860 for boys, −0.3048 with 0.1347 for girls less boys. Exact mathematics for the slopes: the means of
    the children's own; second computation below for the standard errors.
    """
    age, distance, subject, sex = orthodont()
    found = slopes_by_level(age, distance, subject, subject, sex, scatter="equal")
    girls, boys = (level.slope for level in found.levels)
    assert girls is not None
    assert boys is not None
    assert_printed("0.7844", boys.value)
    assert_printed("0.0860", boys.standard_error)
    difference = found.differences[0]
    assert_printed("0.3048", difference.estimate.value)
    assert_printed("0.1347", difference.estimate.standard_error)
    own = np.array([np.polyfit(age[subject == k], distance[subject == k], 1)[0] for k in range(27)])
    of_boys = sex[np.unique(subject, return_index=True)[1]] == 1
    assert boys.value == pytest.approx(own[of_boys].mean(), rel=1e-10)
    assert girls.value == pytest.approx(own[~of_boys].mean(), rel=1e-10)
    # Student's t on 27 slopes about two means.
    assert difference.estimate.freedom == pytest.approx(25, rel=1e-6)
    assert not found.own_scatter


def test_levels_with_their_own_scatter_are_welchs_two_samples() -> None:
    """Exact mathematics: in a balanced design each level is Student's t on its own slopes."""
    age, distance, subject, sex = orthodont()
    found = slopes_by_level(age, distance, subject, subject, sex)
    assert found.own_scatter
    own = np.array([np.polyfit(age[subject == k], distance[subject == k], 1)[0] for k in range(27)])
    level = sex[np.unique(subject, return_index=True)[1]]
    for number, told in enumerate(found.levels):
        slopes = own[level == number]
        assert told.slope is not None
        assert told.slope.value == pytest.approx(slopes.mean(), rel=1e-10)
        assert told.slope.standard_error == pytest.approx(slopes.std(ddof=1) / np.sqrt(len(slopes)), rel=1e-6)
        assert told.slope.freedom == pytest.approx(len(slopes) - 1, rel=1e-5)


@pytest.mark.parametrize("scatter", ["equal", "by condition"])
def test_a_second_computation_agrees_where_visits_are_missing(scatter: Scatter) -> None:
    """The same with a third of the visits gone, at random (seeded), and levels that are made up: by MixedLM."""
    time, y, subject = sleepstudy()
    kept = np.random.default_rng(3).random(len(y)) < 0.66
    time, y, subject = time[kept], y[kept], subject[kept]
    level = subject % 2
    found = slopes_by_level(time, y, subject, subject, level, scatter=scatter)
    every = [np.ones(len(y), bool)] if scatter == "equal" else [level == k for k in range(2)]
    told = found.levels
    for among in every:
        codes = [np.unique(one[among], return_inverse=True)[1] for one in (subject, level)]
        slopes, errors, between, within = second(time[among], y[among], *codes)
        for place, k in enumerate(np.unique(level[among])):
            slope = told[k].slope
            assert slope is not None
            assert slope.value == pytest.approx(slopes[place], rel=1e-4)
            # Kenward and Roger's is larger by a little: the variances are estimated too.
            assert 1 <= slope.standard_error / errors[place] < 1.02
            assert told[k].between == pytest.approx(between, rel=1e-3)
            assert told[k].within == pytest.approx(within, rel=1e-3)
