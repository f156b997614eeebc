"""A folder of the bench in, what the bench is worth out."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from ohmsworth.advice import bench as advice
from ohmsworth.advice.actions import Action
from ohmsworth.inference.budget import REMEDIES
from ohmsworth.inference.control import LOOK
from ohmsworth.inference.control.verdict import FEWEST, USUAL_FIRST
from ohmsworth.inference.gauge import chances, smallest_difference
from ohmsworth.readings.doubt import Doubt
from ohmsworth.report.answer import ActionAnswer, Bound, BudgetAnswer, SourceAnswer, WarningAnswer
from ohmsworth.report.fitness import (
    FORMAT,
    AbilityAnswer,
    AnovaAnswer,
    ComponentAnswer,
    DifferenceAnswer,
    FitnessAnswer,
    StudyAnswer,
    ToldAnswer,
)
from ohmsworth.report.fitness_method import fitness_method, fitness_sources
from ohmsworth.report.fitness_sentences import fitness_findings, fitness_sentence
from ohmsworth.sources import source
from ohmsworth.work.bench_results import BenchResults, find_bench_results
from ohmsworth.work.day_verdict import control_answer, day_verdict
from ohmsworth.work.ports import LoadedBench

_TRIALS = (1, 2, 3, 5, 10)


def fitness_study(loaded: LoadedBench) -> FitnessAnswer:
    """Say what the bench is worth today.

    Raises
    ------
    InputRefused
        When the readings cannot be used as they are.
    """
    return compose_fitness(find_bench_results(loaded))


def compose_fitness(results: BenchResults) -> FitnessAnswer:
    """Write the results down."""
    study = results.study
    verdict, reasons = day_verdict(study, results.checks, results.control)
    budget = _budget(results)
    answer = FitnessAnswer(
        format=FORMAT,
        sentence="",
        verdict=verdict,
        reasons=reasons,
        findings=(),
        scale=study.scale,
        coverage=study.coverage,
        limit=Bound(study.limit.resistance, study.limit.source) if study.limit else None,
        level=results.level,
        control=control_answer(study, results.checks, results.control),
        study=_study(results),
        ability=_ability(results),
        differences=_differences(results),
        budget=budget,
        warnings=_warnings(results),
        actions=tuple(ActionAnswer(a.words, a.why, a.cautions) for a in _actions(results, verdict, budget)),
        method=fitness_method(study, results.gauge, results.control),
        sources=tuple(
            SourceAnswer(found.key, found.citation, found.standing)
            for found in map(source, fitness_sources(results.gauge, results.control, study.limit is not None))
        ),
    )
    return replace(answer, sentence=fitness_sentence(answer), findings=fitness_findings(answer))


def _study(results: BenchResults) -> StudyAnswer | None:
    found = results.gauge
    if found is None:
        return None
    unit = results.level if results.study.scale == "log" else 1.0
    named = (
        ("repeatability", found.repeatability),
        ("reproducibility", found.reproducibility),
        ("of it, operators", found.operator),
        ("of it, specimen × operator", found.interaction),
        ("repeatability and reproducibility", found.bench),
        ("between specimens", found.specimen),
        ("total", found.total),
    )
    alone = found.operators == 1
    components = tuple(
        ComponentAnswer(name, size, size * unit, 100 * size / found.total)
        for name, size in named
        if size is not None and not (alone and name == "repeatability and reproducibility")
    )
    rows = tuple(
        AnovaAnswer(r.source, r.freedom, r.squares, r.mean_square, r.f, r.p_value, r.raw)
        for r in found.anova or ()
    )
    return StudyAnswer(
        found.form, found.specimens, found.operators, found.trials, components, found.categories, rows or None
    )


def _ability(results: BenchResults) -> AbilityAnswer | None:
    found, study = results.ability, results.study
    if found is None:
        return None
    told = chances(found, study.scale, study.coverage)
    return AbilityAnswer(
        found.ohm,
        found.freedom if np.isfinite(found.freedom) else None,
        found.ratio,
        found.within_up_to,
        found.over_from,
        found.right_below,
        found.right_above,
        tuple(ToldAnswer(t.value, t.within, t.close, t.over) for t in told),
    )


def _differences(results: BenchResults) -> tuple[DifferenceAnswer, ...]:
    """From the study's repeatability, else from the scatter of the check standard."""
    found, coverage = results.gauge, results.study.coverage
    if found is not None:
        size, freedom = found.repeatability, found.repeat_freedom
    elif results.control is not None:
        part = next(p for p in results.parts if p.source.startswith("scatter"))
        size, freedom = part.uncertainty, part.freedom
    else:
        return ()
    listed = []
    for trials in _TRIALS:
        least = smallest_difference(size, freedom, trials, coverage)
        if results.study.scale == "log":
            relative = math.expm1(min(least, 700.0))
            listed.append(DifferenceAnswer(trials, relative * results.level, relative))
        else:
            share = least / abs(results.level) if results.level else None
            listed.append(DifferenceAnswer(trials, least, share))
    return tuple(listed)


def _budget(results: BenchResults) -> tuple[BudgetAnswer, ...]:
    total = sum(p.uncertainty**2 for p in results.parts)
    unit = results.level if results.study.scale == "log" else 1.0
    remedies = {**REMEDIES, **advice.BENCH_REMEDIES}
    return tuple(
        BudgetAnswer(p.source, p.uncertainty * unit, p.uncertainty**2 / total, remedies[p.source])
        for p in results.parts
    )


def _warnings(results: BenchResults) -> tuple[WarningAnswer, ...]:
    doubts = list(results.doubts)
    if results.unused:
        named = ", ".join(f"'{name}'" for name in results.unused[:8])
        doubts.append(
            Doubt("UNUSED_COLUMN", f"not used: {named}.", (), "Correct the heading if it was meant.")
        )
    found = [
        WarningAnswer(d.code, d.words, d.rows, d.mend, bool(d.rows) and results.left_out.issuperset(d.rows))
        for d in doubts
    ]
    return tuple(found)


def _actions(results: BenchResults, verdict: str, budget: tuple[BudgetAnswer, ...]) -> list[Action]:
    checks, charted, home = results.checks, results.control, results.study.home
    actions: list[Action] = []
    if checks is None or (charted is None and len(checks.value) < FEWEST):
        actions.append(advice.begin_checks(0 if checks is None else len(checks.value), USUAL_FIRST, home))
    elif charted is None:
        actions.append(advice.finer_digit())
    elif verdict == LOOK:
        actions += advice.look_first(suspects_meter=True)
    else:
        actions.append(advice.read_again_tomorrow())
    if charted is not None and charted.limits.first < USUAL_FIRST:
        actions.append(advice.begin_checks(charted.limits.first, USUAL_FIRST, home))
    if results.gauge is None:
        actions.append(advice.make_study(home))
    if not results.meters_stated:
        actions.append(advice.state_meters(home))
    if budget:
        actions.append(advice.improve(budget[0].source, budget[0].share, budget[0].reduce_by))
    return actions
