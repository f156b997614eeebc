"""What must hold of every plan's chance."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ohmsworth.inference.planning import DETECT, EQUIVALENCE, LIMIT, Goal, Layout, Levels, chance_of

LEVELS = st.builds(
    Levels,
    specimen=st.floats(0.01, 0.5),
    response=st.floats(0.01, 0.5),
    mating=st.floats(0.0, 0.5),
    reading=st.floats(0.0, 0.1),
)
GOALS = st.builds(
    Goal,
    kind=st.sampled_from((DETECT, EQUIVALENCE, LIMIT)),
    difference=st.floats(0.0, 0.25),
    margins=st.floats(0.3, 1.0).map(lambda m: (-m, m)),
    room=st.floats(1.9, 4.0),
    confidence=st.sampled_from((0.8, 0.95, 0.99)),
    paired=st.booleans(),
    pooled=st.booleans(),
)
COUNTS = st.builds(
    Layout, specimens=st.integers(3, 40), matings=st.integers(1, 6), readings=st.integers(1, 4)
)
ROUNDING = 1e-9


@given(GOALS, LEVELS, COUNTS)
@settings(deadline=None, max_examples=150)
def test_a_chance_is_a_chance(goal: Goal, levels: Levels, layout: Layout) -> None:
    assert 0 <= chance_of(goal, levels, layout) <= 1


@given(GOALS, LEVELS, COUNTS)
@settings(deadline=None, max_examples=150)
def test_more_specimens_never_hurt(goal: Goal, levels: Levels, layout: Layout) -> None:
    if goal.kind == LIMIT:  # where less than the content lies within the limit, more specimens show just that
        levels = Levels(min(levels.specimen, 0.3), 0.1, min(levels.mating, 0.3), levels.reading)
    few = chance_of(goal, levels, layout)
    many = chance_of(goal, levels, Layout(layout.specimens + 1, layout.matings, layout.readings))
    # Two one-sided tests without hope live on lucky small standard deviations, which few specimens give more often.
    assert many >= few - ROUNDING or (goal.kind == EQUIVALENCE and few < 0.1)


@given(GOALS.filter(lambda g: g.kind != LIMIT), LEVELS, COUNTS)
@settings(deadline=None, max_examples=100)
def test_more_matings_never_hurt_a_comparison(goal: Goal, levels: Levels, layout: Layout) -> None:
    more = Layout(layout.specimens, layout.matings + 1, layout.readings)
    assert chance_of(goal, levels, more) >= chance_of(goal, levels, layout) - ROUNDING


@given(LEVELS, COUNTS, st.booleans(), st.floats(0, 1), st.floats(0.001, 1))
@settings(deadline=None, max_examples=100)
def test_a_larger_effect_is_easier_to_detect(
    levels: Levels, layout: Layout, paired: bool, effect: float, more: float
) -> None:
    small, large = (Goal(DETECT, difference=d, paired=paired) for d in (effect, effect + more))
    assert chance_of(large, levels, layout) >= chance_of(small, levels, layout) - ROUNDING
    assert chance_of(Goal(DETECT, difference=-effect, paired=paired), levels, layout) == pytest.approx(
        chance_of(small, levels, layout), abs=ROUNDING
    )


@given(GOALS, LEVELS, COUNTS)
@settings(deadline=None, max_examples=100)
def test_a_stricter_verdict_is_harder_to_reach(goal: Goal, levels: Levels, layout: Layout) -> None:
    strict, mild = (
        Goal(goal.kind, goal.difference, goal.margins, goal.room, goal.content, c, goal.paired, goal.pooled)
        for c in (0.99, 0.9)
    )
    assert chance_of(strict, levels, layout) <= chance_of(mild, levels, layout) + ROUNDING


@given(LEVELS, COUNTS, st.booleans())
@settings(deadline=None, max_examples=60)
def test_without_an_effect_the_chance_is_the_level(levels: Levels, layout: Layout, paired: bool) -> None:
    goal = Goal(DETECT, difference=0.0, paired=paired, pooled=True)
    assert chance_of(goal, levels, layout) == pytest.approx(0.05, abs=1e-9)


@given(LEVELS, COUNTS)
@settings(deadline=None, max_examples=60)
def test_pairing_pays_where_specimens_differ_more_than_they_respond(levels: Levels, layout: Layout) -> None:
    """With the same standard error the paired test has fewer degrees of freedom, never more."""
    same = Levels(levels.specimen, levels.specimen, levels.mating, levels.reading)
    paired, separate = (Goal(DETECT, difference=0.5, paired=p, pooled=True) for p in (True, False))
    assert chance_of(paired, same, layout) <= chance_of(separate, same, layout) + ROUNDING
    responds = Levels(levels.specimen, 0.0, 0.01, 0.0)
    many = Layout(max(layout.specimens, 8), layout.matings, layout.readings)
    assert chance_of(paired, responds, many) >= chance_of(separate, responds, many) - ROUNDING
