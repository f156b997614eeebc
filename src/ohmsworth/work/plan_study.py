"""A question in, the cheapest plan that is likely to settle it out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from ohmsworth.advice.cautions import CLEANER, UNPOWERED
from ohmsworth.errors import Fault, InputRefused
from ohmsworth.inference.planning import (
    EQUIVALENCE,
    LIMIT,
    Layout,
    Levels,
    Option,
    Prices,
    best_within,
    chance_of,
    cheapest_options,
    minutes,
    smallest_p,
    specimens_without_model,
)
from ohmsworth.inference.planning.cheapest import MOST_MATINGS, MOST_READINGS, Chance
from ohmsworth.readings.plan_request import PlanRequest
from ohmsworth.readings.study import Study
from ohmsworth.report.answer import Bound, SourceAnswer
from ohmsworth.report.plan_answer import FORMAT, ChanceAnswer, DesignAnswer, PlanAnswer, PlanScatterAnswer
from ohmsworth.report.plan_sentences import plan_findings, plan_method, plan_sentence
from ohmsworth.sources import source
from ohmsworth.work.past_scatter import Assumed, Past, assumed_scatter, past_study
from ohmsworth.work.planned_goal import PlannedGoal, planned_goal
from ohmsworth.work.ports import LoadedStudy

DEFAULT_SEED = 1
_ALTERNATIVES = 2
_CURVE_POINTS = 24
#: By which the scatter might be wider than assumed.
_MORE = 1.5


def plan_study(
    study: Study, pasts: Sequence[tuple[str, LoadedStudy]] = (), seed: int = DEFAULT_SEED
) -> PlanAnswer:
    """Find the cheapest plan.

    Parameters
    ----------
    study
        The question, with its plan.
    pasts
        Past studies with their names, for the scatter.
    seed
        From which the bench sheet will be drawn.

    Raises
    ------
    InputRefused
        With everything that is missing.
    """
    request = study.plan
    if request is None:
        mend = 'Add [plan] with goal = "detect", "equivalence" or "limit".'
        raise InputRefused((Fault("study.toml", "no table [plan]", "what the plan is to reach", mend),))
    before = [past_study(name, loaded) for name, loaded in pasts]
    planned, assumed = _both(study, request, before)
    levels = _levels(study, assumed)
    prices = Prices(
        request.minutes_per_specimen,
        request.minutes_per_mating,
        request.minutes_per_reading,
        len(planned.conditions),
        request.paired,
    )
    return _answer(study, request, planned, assumed, levels, prices, seed)


def _both(study: Study, request: PlanRequest, pasts: list[Past]) -> tuple[PlannedGoal, tuple[Assumed, ...]]:
    """The goal and the scatter; the faults of both together."""
    faults: list[Fault] = []
    planned: PlannedGoal | None = None
    assumed: tuple[Assumed, ...] = ()
    try:
        planned = planned_goal(study, request, pasts)
    except InputRefused as refused:
        faults += refused.faults
    try:
        assumed = assumed_scatter(request, pasts)
    except InputRefused as refused:
        faults += refused.faults
    if faults or planned is None:
        raise InputRefused(tuple(faults))
    return planned, assumed


def _levels(study: Study, assumed: tuple[Assumed, ...]) -> Levels:
    found = {one.level: one.deviation for one in assumed}
    bench = study.bench
    gains = [meter.gain for meter in (bench.voltmeter, bench.ammeter) if meter]
    if bench.ohmmeter and not gains:
        gains = [bench.ohmmeter.gain]
    gain = float(np.sqrt(sum(g**2 for g in gains) / 3))
    return Levels(
        found.get("specimen", 0.0), found.get("response", 0.0), found["mating"], found["reading"], gain
    )


def _answer(
    study: Study,
    request: PlanRequest,
    planned: PlannedGoal,
    assumed: tuple[Assumed, ...],
    levels: Levels,
    prices: Prices,
    seed: int,
) -> PlanAnswer:
    def chance(layout: Layout) -> float:
        return chance_of(planned.goal, levels, layout)

    options = cheapest_options(chance, prices, request.chance, request.most_specimens)
    best = options[0] if options else None
    half = best_within(chance, prices, best.minutes / 2, request.most_specimens) if best else None

    def told(option: Option | None) -> DesignAnswer | None:
        return None if option is None else _design(option, planned, request.paired)

    limit = Bound(study.limit.resistance, study.limit.source) if study.limit else None
    kind, goal = request.goal, planned.goal
    answer = PlanAnswer(
        FORMAT, study.question, "", (), kind, request.assignment, planned.conditions,
        study.reference if kind != LIMIT else None, study.scale, study.coverage, request.chance,
        None if kind == LIMIT else planned.effect, planned.expected, planned.expected_source, planned.margin,
        limit if kind == LIMIT else None, request.content if kind == LIMIT else None,
        tuple(PlanScatterAnswer(one.level, one.deviation, one.source) for one in assumed),
        prices.specimen, prices.mating, prices.reading, request.most_specimens, told(best),
        tuple(_design(o, planned, request.paired) for o in options[1 : 1 + _ALTERNATIVES]), told(half),
        None if best else told(_most(chance, prices, request.most_specimens)),
        chance_of(planned.goal, _wider(levels), best.layout) if best else None,
        _curve(chance, best, request.most_specimens),
        smallest_p(goal, best.layout.specimens) if best else None,
        specimens_without_model(request.content, study.coverage) if kind == LIMIT else None,
        study.check.name, request.days, request.operators, seed, _cautions(request), plan_method(kind, request.paired),
        tuple(_source(key) for key in _source_keys(kind)),
    )  # fmt: skip
    return replace(answer, sentence=plan_sentence(answer), findings=plan_findings(answer))


def _wider(levels: Levels) -> Levels:
    """The same scatter, half as much again."""
    specimen, response, mating, reading = (
        _MORE * value for value in (levels.specimen, levels.response, levels.mating, levels.reading)
    )
    return Levels(specimen, response, mating, reading, levels.gain)


def _design(option: Option, planned: PlannedGoal, paired: bool) -> DesignAnswer:
    layout = option.layout
    cells = layout.specimens * len(planned.conditions)
    return DesignAnswer(
        layout.specimens,
        layout.matings,
        layout.readings,
        layout.specimens if paired else cells,
        2 * cells * layout.matings * layout.readings,
        option.minutes,
        option.chance,
    )


def _most(chance: Chance, prices: Prices, most: int) -> Option:
    """All specimens there are, mated and read as often as is looked at."""
    layout = Layout(most, MOST_MATINGS, MOST_READINGS)
    return Option(layout, chance(layout), minutes(prices, layout))


def _curve(chance: Chance, best: Option | None, most: int) -> tuple[ChanceAnswer, ...]:
    """Chance against specimens, for one mating, for the best plan's matings, and for three."""
    end = min(most, max(2 * best.layout.specimens, 8)) if best else min(most, 40)
    steps = sorted({round(n) for n in np.linspace(2, end, min(_CURVE_POINTS, end - 1))})
    readings = best.layout.readings if best else 1
    several = sorted({1, 3, best.layout.matings if best else 1})
    return tuple(ChanceAnswer(n, m, readings, chance(Layout(n, m, readings))) for m in several for n in steps)


def _cautions(request: PlanRequest) -> tuple[str, ...]:
    cleaned = any("clean" in name.casefold() for name in request.conditions)
    return (UNPOWERED, CLEANER) if cleaned else (UNPOWERED,)


def _source_keys(kind: str) -> tuple[str, ...]:
    keys = {
        LIMIT: ("Natrella", "Wilks", "Satterthwaite"),
        EQUIVALENCE: ("Schuirmann", "Owen", "Satterthwaite"),
    }
    return keys.get(kind, ("Owen", "Satterthwaite"))


def _source(key: str) -> SourceAnswer:
    entry = source(key)
    return SourceAnswer(entry.key, entry.citation, entry.standing)
