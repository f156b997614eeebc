"""Models of several factors and of any grouping against full matrices, other software, and exact analyses of variance."""

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy import stats
from tests.properties import dense
from tests.tables import design_of

from ohmsworth.errors import ArgumentFault, UnknownName
from ohmsworth.inference.design import build_design
from ohmsworth.inference.engine import condition_mean, difference, make_engine
from ohmsworth.inference.model import Model, fit_model
from ohmsworth.inference.terms import term_rows
from ohmsworth.readings.table import Labels

SEEDS = st.integers(0, 2**32 - 1)
Columns = dict[str, np.ndarray]


def bench(seed: int) -> tuple[Columns, np.ndarray]:
    """Two operators on three days read specimens of two kinds before and after; some readings are missing."""
    rng = np.random.default_rng(seed)
    shape = (2, 4, 2, 2, 3)  # kind, specimen, state, operator, day
    grid = np.stack([g.ravel() for g in np.indices(shape)])[:, rng.permutation(int(np.prod(shape)))]
    grid = grid[:, rng.random(grid.shape[1]) > 0.25]
    kind, specimen, state, operator, day = grid
    columns = {
        "kind": kind,
        "specimen": 4 * kind + specimen,
        "state": state,
        "operator": operator,
        "day": day,
    }
    y = 0.3 * kind - 0.4 * state + 0.2 * kind * state + rng.normal(0, 0.3, grid.shape[1])
    y += (
        rng.normal(0, 0.8, 8)[columns["specimen"]]
        + rng.normal(0, 0.5, 2)[operator]
        + rng.normal(0, 0.4, 3)[day]
    )
    return columns, y


def words(column: np.ndarray) -> list[str]:
    return [f"L{code}" for code in column]


def fitted(columns: Columns, y: np.ndarray) -> Model:
    return fit_model(
        y,
        factors={name: words(columns[name]) for name in ("kind", "state")},
        groups={name: words(columns[name]) for name in ("specimen", "operator", "day")},
    )


def matrices(columns: Columns, model: Model) -> list[np.ndarray]:
    parts = []
    for component in model.judged.fit.components:
        column = columns.get(component.level, np.arange(len(columns["kind"])))
        parts.append((column[:, None] == column[None, :]).astype(float))
    return parts


@given(SEEDS)
@settings(max_examples=15)
def test_crossed_groups_and_factors_are_the_papers(seed: int) -> None:
    columns, y = bench(seed)
    model = fitted(columns, y)
    fit, x, parts = model.judged.fit, model.terms.columns.T, matrices(columns, model)
    v = sum(t * part for t, part in zip(fit.variance, parts, strict=True))
    assert model.criterion == pytest.approx(dense.criterion(y, x, v), rel=1e-9)
    assume(not fit.at_bound)
    for factors in (("state",), ("kind",), ("kind", "state")):
        row = term_rows(model.terms, factors)
        paper = dense.kenward_roger(x, parts, fit.variance, row.T)
        found = model.test(*factors)
        assume(min(abs(paper.freedom - 2), abs(paper.freedom - 4)) > 1e-2)
        value = row @ fit.mean
        wald = value @ np.linalg.solve(row @ paper.adjusted @ row.T, value)
        assert found.statistic == pytest.approx(paper.scale * wald, rel=1e-4)
        assert found.below == pytest.approx(paper.freedom, rel=1e-4)


@given(SEEDS)
@settings(max_examples=15)
def test_the_joint_test_is_the_papers(seed: int) -> None:
    """Several rows at once, where the scale factor is not 1."""
    columns, y = bench(seed)
    columns["step"] = np.random.default_rng(seed).integers(0, 3, len(y))
    model = fit_model(
        y,
        factors={"step": words(columns["step"])},
        groups={name: words(columns[name]) for name in ("specimen", "day")},
    )
    fit, row = model.judged.fit, term_rows(model.terms, ("step",))
    assume(not fit.at_bound)
    paper = dense.kenward_roger(model.terms.columns.T, matrices(columns, model), fit.variance, row.T)
    found, value = model.test("step"), row @ fit.mean
    wald = value @ np.linalg.solve(row @ paper.adjusted @ row.T, value)
    assert found.statistic == pytest.approx(paper.scale * wald / 2, rel=1e-6)
    assert found.below == pytest.approx(paper.freedom, rel=1e-6)
    assert found.above == 2


@pytest.mark.parametrize("seed", [4, 6])
def test_crossed_scatter_is_that_of_other_software(seed: int) -> None:
    """statsmodels MixedLM with crossed variance components, REML."""
    import pandas as pd
    from statsmodels.regression.mixed_linear_model import MixedLM

    columns, y = bench(seed)
    ours = fitted(columns, y)
    data = pd.DataFrame({**columns, "y": y, "one": 1})
    parts = {name: f"0 + C({name})" for name in ("specimen", "operator", "day")}
    model = MixedLM.from_formula("y ~ C(kind) * C(state)", groups="one", vc_formula=parts, data=data)
    theirs = model.fit(reml=True, method="bfgs", gtol=1e-7)
    found = dict(zip(model.exog_vc.names, theirs.vcomp, strict=True))
    for name, variance in found.items():
        assert ours.variances[name] == pytest.approx(variance, rel=2e-3, abs=1e-5)
    assert ours.variances["reading"] == pytest.approx(theirs.scale, rel=1e-3)
    slope = theirs.fe_params["C(kind)[T.1]:C(state)[T.1]"]
    interaction = ours.difference("state", "L1", "L0", {"kind": "L1"}).value
    interaction -= ours.difference("state", "L1", "L0", {"kind": "L0"}).value
    assert interaction == pytest.approx(slope, rel=1e-3, abs=1e-4)


@given(SEEDS, st.integers(2, 5), st.integers(2, 5), st.integers(1, 2))
@settings(max_examples=40)
def test_a_balanced_crossing_is_its_analysis_of_variance_at_the_bound_too(
    seed: int, plugs: int, sockets: int, each: int
) -> None:
    """Plugs of two kinds on the same sockets: the kinds are judged by the mean square of plugs, whatever its size."""
    rng = np.random.default_rng(seed)
    y = rng.normal(0, 1, (2, plugs, sockets, each))
    y += rng.choice([0, 0, 2]) * rng.normal(0, 1, (2, plugs, 1, 1))
    y += rng.choice([0, 1]) * rng.normal(0, 1, (1, 1, sockets, 1))
    kind, plug, socket, _ = np.indices(y.shape)
    plug = (plugs * kind + plug).ravel()
    pair = 10 * plug + socket.ravel()
    engine = make_engine(design_of(y.ravel(), pair, kind.ravel(), plug=plug, socket=socket.ravel()), "equal")
    found, means = difference(engine, 1, 0), y.mean((2, 3))
    square = means.var(axis=1, ddof=1).mean()
    assert found.value == pytest.approx(means[1].mean() - means[0].mean(), abs=1e-9)
    assert found.variance == pytest.approx(2 * square / plugs, rel=1e-5)
    assert found.freedom == pytest.approx(2 * (plugs - 1), rel=1e-5)


def test_groups_that_cannot_be_told_apart_are_refused() -> None:
    columns, y = bench(1)
    with pytest.raises(ArgumentFault, match="batch"):
        fit_model(y, factors={"kind": words(columns["kind"])}, groups={"batch": words(columns["kind"])})


def test_a_combination_that_was_not_observed_has_no_mean() -> None:
    y = np.random.default_rng(1).normal(0, 1, 9)
    kind, state = list("AAAAAABBB"), list("xxxyyyxxx")
    model = fit_model(y, factors={"kind": kind, "state": state})
    assert model.mean({"kind": "A", "state": "y"}).value == pytest.approx(y[3:6].mean())
    with pytest.raises(ArgumentFault, match="observed in all combinations"):
        model.mean({"kind": "B"})
    plain = fit_model(y, factors={"kind": kind, "state": state}, terms=[("kind",), ("state",)])
    expected = y[6:].mean() + (y[3:6].mean() - y[:3].mean()) / 2
    assert plain.mean({"kind": "B"}).value == pytest.approx(expected)


def test_unknown_names_are_refused_with_the_known_ones() -> None:
    columns, y = bench(2)
    model = fitted(columns, y)
    with pytest.raises(UnknownName, match="kind, state"):
        model.test("colour")
    with pytest.raises(UnknownName, match="L0, L1"):
        model.mean({"kind": "L7"})
    with pytest.raises(UnknownName, match="kind"):
        fit_model(y, factors={"kind": words(columns["kind"])}, terms=[("knd",)])


@given(
    SEEDS, st.sampled_from([(2, 2), (3, 2), (4, 2), (5, 2), (2, 3), (3, 3), (4, 3), (2, 4), (2, 5), (3, 4)])
)
@settings(max_examples=60)
def test_a_factor_within_few_specimens_is_its_analysis_of_variance(seed: int, size: tuple[int, int]) -> None:
    """Also where F has four degrees of freedom below, or fewer, and so no variance or no mean to match."""
    specimens, steps = size
    random = np.random.default_rng(seed)
    y = random.normal(size=specimens)[:, None] + 0.5 * random.normal(size=size)
    rest = y - y.mean(0) - y.mean(1)[:, None] + y.mean()
    freedom = (specimens - 1) * (steps - 1)
    between = specimens * ((y.mean(0) - y.mean()) ** 2).sum() / (steps - 1)
    expected = between / ((rest**2).sum() / freedom)
    names = {"specimen": words(np.arange(specimens).repeat(steps))}
    model = fit_model(y.ravel(), factors={"step": words(np.tile(np.arange(steps), specimens))}, groups=names)
    found = model.test("step")
    assert found.below == pytest.approx(freedom, rel=1e-3)
    assert found.statistic == pytest.approx(expected, rel=1e-3)
    assert found.p_value == pytest.approx(stats.f.sf(expected, steps - 1, freedom), rel=1e-3)


@pytest.mark.parametrize("seed", [54, 67, 74, 98, 142])
def test_no_mean_runs_away_with_a_singular_fit(seed: int) -> None:
    """Two factors within few specimens, readings missing: the unbounded likelihood has no maximum, only a pole."""
    random = np.random.default_rng(seed)
    steps, specimens, share = (
        int(random.integers(2, 4)),
        int(random.integers(2, 5)),
        random.choice([0.2, 0.35, 0.5]),
    )
    grid = np.stack([g.ravel() for g in np.indices((2, steps, specimens, 2))])
    kind, step, specimen, _ = grid[:, random.random(grid.shape[1]) > share]
    y = random.choice([0, 0.2]) * random.normal(size=specimens)[specimen] + 0.2 * random.normal(
        size=len(kind)
    )
    factors = {"kind": Labels.of(words(kind)), "step": Labels.of(words(step))}
    cell = Labels.of([a + b for a, b in zip(words(kind), words(step), strict=True)])
    design = build_design(y, cell, Labels.of(words(specimen)), factors=factors)
    engine = make_engine(design, "equal")
    for condition in range(design.conditions):
        assert abs(condition_mean(engine, condition).value - y.mean()) < 2 * np.ptp(y)
