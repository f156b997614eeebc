"""One mean a plug: by least squares of a general library, and None where it is no form for the question."""

import numpy as np
import pytest
from tests.tables import design_of

from ohmsworth.inference.design import Design
from ohmsworth.inference.engine import difference, make_engine
from ohmsworth.inference.means import specimen_means
from ohmsworth.inference.part_means import part_contrast

BETWEEN = np.array([-1.0, 1.0])


def crossed(seed: int, lost: float, of_pair: bool = False) -> Design:
    """Four plugs of each of two kinds on three sockets, each pair read one to three times; some were not."""
    rng = np.random.default_rng(seed)
    kind, plug, socket = (g.ravel() for g in np.indices((2, 4, 3)))
    kept = rng.random(len(kind)) >= lost
    kept[:3] = kept[12:15] = True
    count = rng.integers(1, 4, kept.sum())
    kind, plug, socket = (np.repeat(a[kept], count) for a in (kind, 4 * kind + plug, socket))
    y = rng.normal(0, 0.02, 8)[plug] + rng.normal(0, 1, 3)[socket] + rng.normal(0, 0.3, len(kind))
    condition = (kind + socket) % 2 if of_pair else kind
    return design_of(y, 3 * plug + socket, condition, plug=plug, socket=socket)


@pytest.mark.parametrize("seed", range(4))
def test_effects_are_those_of_least_squares(seed: int) -> None:
    """statsmodels OLS on the pairs' means, plug and socket as categories; then a t on the plugs' effects."""
    import pandas as pd
    import statsmodels.formula.api as models

    design = crossed(seed, 0.2)
    means = specimen_means(design)
    plug, socket = (level.node for level in design.crossed)
    first = np.unique(design.nest[0].node, return_index=True)[1]
    frame = pd.DataFrame({"y": means.value, "plug": plug[first], "socket": socket[first]})
    fitted = models.ols("y ~ 0 + C(plug) + C(socket)", frame).fit()
    effects = fitted.params.to_numpy()[:8]
    of = np.array([design.condition[plug == p][0] for p in range(8)])
    groups = [effects[of == c] for c in (0, 1)]
    square = sum(((g - g.mean()) ** 2).sum() for g in groups) / 6
    found = part_contrast(design, means, BETWEEN)
    assert found is not None
    assert found.value == pytest.approx(groups[1].mean() - groups[0].mean(), rel=1e-9)
    assert found.variance == pytest.approx(square * sum(1 / len(g) for g in groups), rel=1e-9)
    assert found.freedom == 6


def test_it_is_used_at_the_bound_with_unequal_numbers_only() -> None:
    used = 0
    for seed in range(8):
        design = crossed(seed, 0.2)
        engine = make_engine(design, "equal")
        own = part_contrast(design, engine.means, BETWEEN)
        assert own is not None
        same = difference(engine, 1, 0).variance == pytest.approx(own.variance, rel=1e-12)
        assert same == engine.fit.at_bound
        used += same
    assert 0 < used < 8


def test_conditions_of_pairs_have_no_such_form() -> None:
    design = crossed(1, 0.0, of_pair=True)
    assert part_contrast(design, specimen_means(design), BETWEEN) is None


def test_a_mean_is_no_contrast() -> None:
    design = crossed(1, 0.0)
    assert part_contrast(design, specimen_means(design), np.array([1.0, 0.0])) is None
