"""The likelihood by elimination, its derivatives, its optimum and Kenward-Roger against full matrices."""

import numpy as np
import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st
from tests.properties import dense
from tests.properties.studies import random_study
from tests.tables import design_of

from ohmsworth.inference.elimination import Prepared, eliminate, prepare, reml_criterion
from ohmsworth.inference.engine import condition_mean, difference, make_engine
from ohmsworth.inference.jet import Jet
from ohmsworth.inference.kenward_roger import contrast_freedom, small_sample
from ohmsworth.inference.reml import fit_reml
from ohmsworth.inference.unequal import levels_to_split

KINDS = st.sampled_from(["nested", "paired", "crossed"])
SEEDS = st.integers(0, 2**32 - 1)


def criterion(prepared: Prepared, variance: np.ndarray) -> Jet:
    return reml_criterion(eliminate(prepared, variance), len(prepared.design.y))[0]


@given(SEEDS, KINDS, st.booleans())
@example(6710, "crossed", False)  # pairs read once each
def test_elimination_is_the_multivariate_normal(seed: int, kind: str, split: bool) -> None:
    columns, y, design = random_study(seed, kind)
    assume(len(y) > design.conditions)
    prepared = prepare(design, levels_to_split(design, "by condition") if split else frozenset())
    parts, x = dense.slopes(columns, prepared.components), dense.indicators(columns)
    variance = np.random.default_rng(seed).uniform(0.05, 2, len(parts))
    if seed % 2 and prepared.components[-1].level != design.residual.name:
        variance[-1] = 0.0  # at the bound too
    v = sum(t * part for t, part in zip(variance, parts, strict=True))
    assert criterion(prepared, variance).v == pytest.approx(dense.criterion(y, x, v), rel=1e-9, abs=1e-8)


@given(SEEDS, KINDS, st.booleans())
@settings(max_examples=30)
def test_derivatives_are_those_of_differences(seed: int, kind: str, split: bool) -> None:
    _, y, design = random_study(seed, kind)
    assume(len(y) > design.conditions)
    prepared = prepare(design, levels_to_split(design, "by condition") if split else frozenset())
    m = len(prepared.components)
    variance = np.random.default_rng(seed).uniform(0.2, 2, m)
    jet = criterion(prepared, variance)
    step = 1e-5
    for i in range(m):
        shift = step * np.eye(m)[i]
        up, down = criterion(prepared, variance + shift), criterion(prepared, variance - shift)
        size = 1 + np.abs(jet.g).max() + np.abs(jet.h).max()
        assert (up.v - down.v) / (2 * step) == pytest.approx(float(jet.g[i]), abs=1e-5 * size)
        assert (up.g - down.g) / (2 * step) == pytest.approx(jet.h[i], abs=1e-5 * size)


@given(SEEDS, KINDS, st.booleans())
@example(76484, "paired", False)  # two components that the design cannot tell apart
@settings(max_examples=40)
def test_no_point_nearby_or_far_is_better(seed: int, kind: str, split: bool) -> None:
    _, y, design = random_study(seed, kind)
    assume(len(y) > design.conditions + 1)
    names = levels_to_split(design, "by condition") if split else frozenset()
    fit, prepared = fit_reml(design, names), prepare(design, names)
    rng = np.random.default_rng(seed)
    scale = max(float(y.var()), 1e-9)
    for spread in (1e-4, 1e-2, 0.3, 3.0):
        for _ in range(6):
            trial = fit.variance * np.exp(rng.normal(0, spread, len(fit.variance)))
            trial += scale * spread * rng.choice([0, 1e-2], len(trial)) * rng.random(len(trial))
            assert criterion(prepared, trial).v >= fit.criterion - 1e-7 * (1 + abs(fit.criterion))
    slope = criterion(prepared, fit.variance).g
    inside = fit.variance > 0
    assert np.abs(slope[inside] * fit.variance[inside]) == pytest.approx(0, abs=1e-5)
    assert (slope[~inside] >= -1e-6 / scale).all()


@given(SEEDS, KINDS, st.booleans())
@settings(max_examples=40)
def test_kenward_roger_is_that_of_the_paper(seed: int, kind: str, split: bool) -> None:
    """Adjusted covariance and degrees of freedom with explicit V, P, Q; their scale factor is 1 for one contrast."""
    columns, y, design = random_study(seed, kind)
    assume(len(y) > design.conditions + 1)
    fit = fit_reml(design, levels_to_split(design, "by condition") if split else frozenset())
    parts, x = dense.slopes(columns, fit.components), dense.indicators(columns)
    ours = small_sample(fit)
    # Two components that the design cannot tell apart have no covariance to compare.
    assume(np.linalg.cond(np.linalg.pinv(ours.w)) < 1e7)
    contrast = np.zeros(design.conditions)
    contrast[0] = 1
    if design.conditions > 1:
        contrast[1] = -1
    freedom = contrast_freedom(ours, contrast)
    # At 2 and 4 the paper's own expressions divide zero by zero.
    assume(min(abs(freedom - 2), abs(freedom - 4)) > 1e-3)
    paper = dense.kenward_roger(x, parts, fit.variance, contrast)
    size = np.abs(paper.adjusted).max()
    assert ours.plain == pytest.approx(paper.plain, rel=1e-8, abs=1e-8 * size)
    assert ours.adjusted == pytest.approx(paper.adjusted, rel=1e-8, abs=1e-8 * size)
    assert freedom == pytest.approx(paper.freedom, rel=1e-6)
    assert paper.scale == pytest.approx(1, rel=1e-5)


@given(SEEDS, st.integers(2, 6), st.integers(2, 6))
@settings(max_examples=30)
def test_a_balanced_one_way_is_student(seed: int, specimens: int, each: int) -> None:
    """Whether or not the fit meets the bound: mean and standard error of the specimens' means."""
    rng = np.random.default_rng(seed)
    groups = rng.normal(0, rng.choice([0.01, 1, 5]), (specimens, 1)) + rng.normal(0, 1, (specimens, each))
    engine = make_engine(design_of(groups.ravel(), np.repeat(np.arange(specimens), each)), "auto")
    mean, means = condition_mean(engine, 0), groups.mean(1)
    assert mean.value == pytest.approx(means.mean(), rel=1e-9, abs=1e-9)
    assert mean.standard_error == pytest.approx(means.std(ddof=1) / np.sqrt(specimens), rel=1e-6)
    assert mean.freedom == pytest.approx(specimens - 1, rel=1e-6)


@given(SEEDS, st.integers(3, 6), st.integers(1, 3))
@settings(max_examples=30)
def test_balanced_pairs_are_the_paired_t_test(seed: int, specimens: int, each: int) -> None:
    rng = np.random.default_rng(seed)
    own = rng.normal(0, rng.choice([0.0, 1, 5]), (1, specimens, 1))
    y = own + rng.normal(0, 0.5, (2, specimens, 1)) + rng.normal(0, 1, (2, specimens, each))
    specimen = np.tile(np.repeat(np.arange(specimens), each), 2)
    engine = make_engine(design_of(y.ravel(), specimen, np.repeat([0, 1], specimens * each)), "equal")
    found, differences = difference(engine, 0, 1), (y[0] - y[1]).mean(1)
    assert found.value == pytest.approx(differences.mean(), rel=1e-7, abs=1e-9)
    assert found.standard_error == pytest.approx(differences.std(ddof=1) / np.sqrt(specimens), rel=1e-6)
    assert found.freedom == pytest.approx(specimens - 1, rel=1e-6)


# ------------------------------------------------------------------ reference software


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_unbalanced_nested_scatter_is_that_of_reference_software(seed: int) -> None:
    """statsmodels MixedLM, REML, away from the bound."""
    import pandas as pd
    from statsmodels.regression.mixed_linear_model import MixedLM

    rng = np.random.default_rng(seed)
    rows = [
        (s, m, s % 2) for s in range(10) for m in range(rng.integers(2, 4)) for _ in range(rng.integers(2, 5))
    ]
    frame = pd.DataFrame(rows, columns=["specimen", "mating", "condition"])
    pair = frame.groupby(["specimen", "mating"]).ngroup().to_numpy()
    frame["y"] = (
        rng.normal(0, 1.5, 10)[frame.specimen]
        + rng.normal(0, 0.8, pair.max() + 1)[pair]
        + rng.normal(0, 0.4, len(frame))
    )
    engine = make_engine(design_of(frame.y, frame.specimen, frame.condition, mating=frame.mating), "equal")
    assert not engine.fit.at_bound
    model = MixedLM.from_formula(
        "y ~ 0 + C(condition)",
        frame,
        groups="specimen",
        re_formula="1",
        vc_formula={"mating": "0 + C(mating)"},
    )
    result = model.fit(reml=True, method=["bfgs"], gtol=1e-9, maxiter=2000)
    assert engine.fit.of("specimen", 0) == pytest.approx(float(result.cov_re.iloc[0, 0]), rel=1e-5)
    assert engine.fit.of("mating", 0) == pytest.approx(float(result.vcomp[0]), rel=1e-5)
    assert engine.fit.of("reading", 0) == pytest.approx(float(result.scale), rel=1e-5)
    assert engine.fit.mean == pytest.approx(np.asarray(result.fe_params), rel=1e-6)
