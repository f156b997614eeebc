"""The chance that a plan promises is the share of drawn studies that the real engine settles."""

import numpy as np
import pytest
from tests.tables import known_resistances

from ohmsworth.inference.comparisons import compare
from ohmsworth.inference.conditions import condition_result
from ohmsworth.inference.equivalence import TOO_SMALL
from ohmsworth.inference.measured import measure
from ohmsworth.inference.planning import DETECT, EQUIVALENCE, LIMIT, Goal, Layout, Levels, chance_of
from ohmsworth.readings.study import Scale
from ohmsworth.resistance import Resistances

BASE, STUDIES = 2.5e-3, 500
LEVELS = Levels(specimen=0.15, response=0.08, mating=0.1, reading=0.02)


def scale_of(goal: Goal) -> Scale:
    """A margin is in ohm: where logarithms are analysed the verdict has the reference's own uncertainty in it too."""
    return "linear" if goal.kind == EQUIVALENCE else "log"


def drawn(rng: np.random.Generator, goal: Goal, layout: Layout) -> Resistances:
    """One study of a design, with the planned effect as the truth."""
    conditions = 1 if goal.kind == LIMIT else 2
    shape = (conditions, layout.specimens, layout.matings, layout.readings)
    specimen = rng.normal(0, LEVELS.specimen, shape[:2])
    if goal.paired:
        specimen = specimen[:1] + rng.normal(0, LEVELS.response, shape[:2])
    mating = specimen[..., None] + rng.normal(0, LEVELS.mating, shape[:3])
    y = mating[..., None] + rng.normal(0, LEVELS.reading, shape)
    y[-1] += goal.difference if conditions == 2 else 0.0
    c, s, m, _ = (index.ravel() for index in np.indices(shape))
    names = s if goal.paired else 100 * c + s
    value = BASE * (np.exp(y) if scale_of(goal) == "log" else 1 + y)
    return known_resistances(list(value.ravel()), list(names), list(c), mating=list(m))


def settled(goal: Goal, layout: Layout, margin: float | None, limit: float | None) -> float:
    rng, reached = np.random.default_rng(2026), 0
    for _ in range(STUDIES):
        measured = measure(drawn(rng, goal, layout), scale_of(goal), "auto")
        found = [condition_result(measured, c, limit, 0.95) for c in range(measured.design.conditions)]
        if goal.kind == LIMIT:
            reached += found[0].tolerance is not None and limit is not None and found[0].tolerance < limit
            continue
        result = compare(measured, found[1], found[0], margin, 0.95, 1)
        assert result is not None
        reached += result.p_value < 0.05 if goal.kind == DETECT else result.verdict == TOO_SMALL
    return reached / STUDIES


@pytest.mark.parametrize(
    ("goal", "layout", "margin", "limit"),
    [
        (Goal(DETECT, difference=0.4), Layout(4, 1, 1), None, None),
        (
            Goal(EQUIVALENCE, margins=(-0.2, 0.2), paired=True),
            Layout(5, 2, 1),
            0.2 * BASE,
            None,
        ),
        (Goal(LIMIT, room=0.6), Layout(10, 1, 1), None, float(BASE * np.exp(0.6))),
    ],
    ids=["detect", "equivalence", "limit"],
)
def test_the_engine_settles_as_many_as_the_plan_promises(
    goal: Goal, layout: Layout, margin: float | None, limit: float | None
) -> None:
    promised = chance_of(goal, LEVELS, layout)
    assert 0.4 < promised < 0.9
    # Three standard deviations of the drawn share.
    assert settled(goal, layout, margin, limit) == pytest.approx(promised, abs=3 * 0.5 / np.sqrt(STUDIES))
