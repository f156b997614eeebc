"""Predicted effects of re-paired parts: against full matrices, finite differences and reference software."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy import stats
from tests.properties.dense import Columns, indicators, slopes
from tests.tables import known_resistances

from ohmsworth.inference import parts
from ohmsworth.inference.engine import Engine
from ohmsworth.inference.measured import Measured, measure
from ohmsworth.inference.parts import PartEffect, part_effects
from ohmsworth.resistance import Resistances

Array = np.ndarray


def paired_anew(
    seed: int,
    plugs: int = 4,
    sockets: int = 4,
    spread: tuple[float, float, float, float] = (0.2, 0.1, 0.05, 0.05),
    worn: int = 0,
    lost: float = 0.0,
) -> tuple[Resistances, Array]:
    """Every plug with every socket, mated twice, some rows `lost`; the last plugs `worn`. With the plugs' true effects."""
    rng = np.random.default_rng(seed)
    plug, socket = spread[0] * rng.standard_normal(plugs), spread[1] * rng.standard_normal(sockets)
    rows, y = [], []
    for p in range(plugs):
        for s in range(sockets):
            pair = spread[2] * rng.standard_normal()
            for m in range(2):
                old = p >= plugs - worn
                rows.append((p, s, m, "worn" if old else "new"))
                y.append(plug[p] + socket[s] + pair + spread[3] * rng.standard_normal() + 0.3 * old)
    kept = [i for i in range(len(rows)) if rng.random() >= lost]
    rows = [rows[i] for i in kept]
    resistances = known_resistances(
        2.4e-3 * np.exp(np.array(y)[kept]), [f"P{p}/S{s}" for p, s, *_ in rows], [c for *_, c in rows],
        mating=[m for _, _, m, _ in rows], plug=[f"P{p}" for p, *_ in rows], socket=[f"S{s}" for _, s, *_ in rows],
    )  # fmt: skip
    return resistances, plug


def fitted(resistances: Resistances, scale: str = "log") -> tuple[Measured, Engine]:
    measured = measure(resistances, scale, "equal")
    assert measured.engine is not None
    return measured, measured.engine


class Dense:
    """The same in full matrices, u = t z'Py as a row of weights on y."""

    def __init__(self, resistances: Resistances, engine: Engine, level: str) -> None:
        mating, plug, socket = (
            None if c is None else c.codes for c in (resistances.mating, resistances.plug, resistances.socket)
        )
        columns = Columns(
            engine.design.condition, resistances.specimen.codes, mating=mating, plug=plug, socket=socket
        )
        self.vs = slopes(columns, engine.fit.components)
        self.x = indicators(columns)
        self.own = [c.level for c in engine.fit.components].index(level)
        part = getattr(columns, level)
        self.z = (part[:, None] == np.arange(part.max() + 1)).astype(float)

    def project(self, theta: Array) -> Array:
        inverse = np.linalg.inv(sum(t * v for t, v in zip(theta, self.vs, strict=True)))
        fixed = inverse @ self.x
        return inverse - fixed @ np.linalg.inv(self.x.T @ fixed) @ fixed.T

    def weights(self, theta: Array, contrast: Array) -> Array:
        return theta[self.own] * contrast @ self.z.T @ self.project(theta)

    def first(self, theta: Array, contrast: Array) -> float:
        """Error at known variances, from Henderson's equations: the block of their inverse that belongs to the parts."""
        v = sum(t * part for i, (t, part) in enumerate(zip(theta, self.vs, strict=True)) if i != self.own)
        r = np.linalg.inv(v)
        k, q = self.x.shape[1], self.z.shape[1]
        both = np.hstack([self.x, self.z])
        matrix = both.T @ r @ both
        matrix[k:, k:] += np.eye(q) / theta[self.own]
        return float(contrast @ np.linalg.inv(matrix)[k:, k:] @ contrast)


def slope_of(function: object, theta: Array, i: int) -> object:
    """Central difference with respect to one variance."""
    step = np.zeros(len(theta))
    step[i] = 1e-4 * theta[i]
    return (function(theta + step) - function(theta - step)) / (2 * step[i])  # type: ignore[operator]


@pytest.mark.parametrize(("worn", "lost"), [(0, 0.0), (0, 0.3), (2, 0.0), (2, 0.2)])
@pytest.mark.parametrize("level", ["plug", "socket"])
def test_effects_and_errors_are_those_of_full_matrices(level: str, worn: int, lost: float) -> None:
    """Henderson's equations written out; derivatives by finite differences; V by comparing labels."""
    resistances, _ = paired_anew(11, 5, 4, worn=worn, lost=lost)
    measured, engine = fitted(resistances)
    assert (engine.fit.variance > 0).all()
    dense, theta, w = Dense(resistances, engine, level), engine.fit.variance, engine.parts.w
    v = sum(t * part for t, part in zip(theta, dense.vs, strict=True))
    mine = [e for e in part_effects(resistances, measured, 0.9) if e.kind == level]
    assert [e.name for e in mine] == list(getattr(resistances, level).names)
    for k, effect in enumerate(mine):
        alike = np.array([e.conditions == effect.conditions for e in mine])
        contrast = np.eye(len(mine))[k] - alike / alike.sum()
        assert effect.value == pytest.approx(
            dense.weights(theta, contrast) @ engine.design.y, rel=1e-8, abs=1e-12
        )
        bent = [slope_of(lambda t, c=contrast: dense.weights(t, c), theta, i) for i in range(len(theta))]
        cost = sum(w[i, j] * bent[i] @ v @ bent[j] for i in range(len(theta)) for j in range(len(theta)))
        first = dense.first(theta, contrast)
        gradient = np.array(
            [slope_of(lambda t, c=contrast: dense.first(t, c), theta, i) for i in range(len(theta))]
        )
        freedom = max(2 * first**2 / (gradient @ w @ gradient), 1.0)
        half = stats.t.ppf(0.95, freedom) * np.sqrt(first + 2 * cost)
        assert effect.low is not None
        assert effect.high is not None
        assert (effect.high - effect.low) / 2 == pytest.approx(half, rel=1e-5)
        assert (effect.high + effect.low) / 2 == pytest.approx(effect.value, abs=1e-12)


def test_effects_are_those_of_reference_software() -> None:
    """statsmodels MixedLM, REML: crossed components in one group, its predicted random effects."""
    import pandas as pd
    from statsmodels.regression.mixed_linear_model import MixedLM

    resistances, _ = paired_anew(3, 6, 5, spread=(0.2, 0.15, 0.0, 0.1))
    rows = np.flatnonzero(resistances.mating.codes == 0)  # pairs read once: two components and the residual
    resistances = resistances.take(rows)
    measured, engine = fitted(resistances)
    assert not engine.fit.at_bound
    frame = pd.DataFrame(
        {"y": engine.design.y, "plug": resistances.plug.codes, "socket": resistances.socket.codes, "all": 1}
    )
    terms = {"plug": "0 + C(plug)", "socket": "0 + C(socket)"}
    model = MixedLM.from_formula("y ~ 1", frame, groups="all", vc_formula=terms)
    result = model.fit(reml=True, method=["bfgs"], gtol=1e-9, maxiter=2000)
    expected = np.concatenate([np.asarray(v) for v in result.random_effects.values()])
    effects = part_effects(resistances, measured, 0.95)
    assert len(effects) == 11
    assert np.array([e.value for e in effects]) == pytest.approx(expected, rel=2e-3, abs=1e-5)


def test_intervals_hold_the_truth() -> None:
    """Planted effects, 80 small studies: the 95 % intervals hold about 95 of 100 (more where a part shows no scatter)."""
    held = []
    for seed in range(80):
        resistances, plug = paired_anew(seed)
        effects = part_effects(resistances, fitted(resistances)[0], 0.95)
        for effect in effects:
            if effect.kind == "plug" and effect.low is not None and effect.high is not None:
                true = plug[int(effect.name[1:])] - plug.mean()
                held.append(effect.low <= true <= effect.high)
    assert len(held) > 250
    assert 0.91 <= np.mean(held) <= 0.98


def effects_of(resistances: Resistances, scale: str = "log") -> dict[str, PartEffect]:
    return {e.name: e for e in part_effects(resistances, fitted(resistances, scale)[0], 0.95)}


def test_a_high_plug_is_found_and_its_partners_are_counted() -> None:
    resistances, _ = paired_anew(5, 5, 4, spread=(0.02, 0.02, 0.01, 0.01))
    high = resistances.plug.codes == 2
    raised = known_resistances(
        resistances.value * np.where(high, 1.5, 1.0), resistances.specimen.codes, mating=resistances.mating.codes,
        plug=[resistances.plug.names[c] for c in resistances.plug.codes], socket=resistances.socket.codes,
    )  # fmt: skip
    effects = effects_of(raised)
    found = effects["P2"]
    assert found.low is not None
    assert found.low > 0
    # Against the middle of five, of which it is one.
    assert found.value == pytest.approx(0.8 * np.log(1.5), abs=0.06)
    assert (found.partners, found.above, found.readings) == (4, 4, 8)
    assert [e.above for e in effects.values() if e.kind == "plug" and e.name != "P2"] == [0, 0, 0, 0]


def test_what_the_partners_explain_is_taken_off_before_counting() -> None:
    """Sockets that differ tenfold more than a plug is high."""
    y = np.array(
        [[0.1 * (p == 2) + 0.8 * s + 0.001 * ((3 * p + 5 * s) % 4) for s in range(4)] for p in range(4)]
    )
    names = [(f"P{p}", f"S{s}") for p in range(4) for s in range(4)]
    resistances = known_resistances(
        2.4e-3 * np.exp(y.ravel()), [a + b for a, b in names], plug=[a for a, _ in names], socket=[b for _, b in names]
    )  # fmt: skip
    effects = effects_of(resistances)
    assert effects["P2"].above == effects["P2"].partners == 4
    assert [effects[name].above for name in ("P0", "P1", "P3")] == [0, 0, 0]
    assert [effects[f"S{s}"].above for s in range(4)] == [0, 0, 4, 4]


def test_parts_are_told_against_those_under_the_same_conditions() -> None:
    """A whole condition raised moves no effect."""
    resistances, _ = paired_anew(8, 6, 4, worn=3)
    effects = effects_of(resistances)
    plugs = [e for e in effects.values() if e.kind == "plug"]
    for conditions in ((0,), (1,)):
        assert sum(e.value for e in plugs if e.conditions == conditions) == pytest.approx(0, abs=1e-12)
    assert {e.conditions for e in effects.values() if e.kind == "socket"} == {(0, 1)}


def test_the_only_one_of_its_condition_is_not_told() -> None:
    resistances, _ = paired_anew(3, 4, 4, worn=1)
    effects = effects_of(resistances)
    assert (effects["P3"].value, effects["P3"].low) == (pytest.approx(0, abs=1e-12), None)
    assert effects["P0"].low is not None


def test_a_kind_without_scatter_has_no_interval() -> None:
    resistances, _ = paired_anew(4, spread=(0.2, 0.0, 0.0, 0.1))
    assert fitted(resistances)[1].fit.of("socket", 0) == 0
    effects = effects_of(resistances)
    assert {(e.value, e.low, e.high) for e in effects.values() if e.kind == "socket"} == {(0.0, None, None)}
    assert all(e.low is not None for e in effects.values() if e.kind == "plug")


def test_the_unit_does_not_matter_to_logarithms_and_scales_the_rest() -> None:
    resistances, _ = paired_anew(2)
    larger = replace(resistances, value=1000 * resistances.value)
    for scale, factor in (("log", 1.0), ("linear", 1000.0)):
        small, large = effects_of(resistances, scale), effects_of(larger, scale)
        for name, effect in small.items():
            assert large[name].value == pytest.approx(factor * effect.value, rel=1e-6)
            assert large[name].high == pytest.approx(factor * (effect.high or 0.0), rel=1e-6)


def test_nothing_is_said_without_re_paired_parts_or_of_too_many(monkeypatch: pytest.MonkeyPatch) -> None:
    alone = known_resistances([2.4e-3, 2.5e-3, 2.6e-3, 2.5e-3], "aabb")
    assert part_effects(alone, measure(alone, "log", "auto"), 0.95) == ()
    resistances, _ = paired_anew(2)
    measured = fitted(resistances)[0]
    assert len(part_effects(resistances, measured, 0.95)) == 8
    monkeypatch.setattr(parts, "MOST_WORK", 8 * len(resistances) - 1)
    assert part_effects(resistances, measured, 0.95) == ()
