"""A folder of the bench in, its fitness and the documents that tell it out."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ohmsworth.inference.gauge import chances
from ohmsworth.report.document import Document, EvidenceFigure
from ohmsworth.report.fitness import FitnessAnswer
from ohmsworth.report.fitness_figures import (
    budget_figure,
    check_charts,
    difference_figure,
    operators_figure,
    room_figure,
    words_figure,
)
from ohmsworth.report.fitness_pages import Pictures, fitness_report, fitness_summary
from ohmsworth.work.bench_results import BenchResults, find_bench_results
from ohmsworth.work.fitness_study import compose_fitness
from ohmsworth.work.ports import LoadedBench

#: Guard bands from the limit at which the chances are drawn.
_STEPS = tuple(float(step) for step in np.linspace(-3.5, 3.5, 71))


@dataclass(frozen=True, slots=True)
class ToldFitness:
    """What was found, the short document for a terminal, and the whole report."""

    answer: FitnessAnswer
    summary: Document
    report: Document


def report_fitness(loaded: LoadedBench) -> ToldFitness:
    """Say what a bench is worth and write its documents.

    Raises
    ------
    InputRefused
        When the readings cannot be used as they are.
    """
    results = find_bench_results(loaded)
    answer = compose_fitness(results)
    pictures = Pictures(
        check_charts(answer.control) if answer.control is not None else (),
        words_figure(answer, _curve(results)),
        _operators(results),
        budget_figure(answer),
        room_figure(answer),
        difference_figure(answer),
    )
    home = results.study.home
    return ToldFitness(
        answer, fitness_summary(answer, pictures, home), fitness_report(answer, pictures, home)
    )


def _curve(results: BenchResults) -> list[tuple[float, float, float, float]]:
    if results.ability is None:
        return []
    told = chances(results.ability, results.study.scale, results.study.coverage, _STEPS)
    return [(t.value, t.within, t.close, t.over) for t in told]


def _operators(results: BenchResults) -> EvidenceFigure | None:
    trials = results.trials
    if trials is None or trials.operator is None:
        return None
    listed = [
        (trials.operator.names[o], trials.specimen.names[s], value)
        for o, s, value in zip(
            trials.operator.codes.tolist(), trials.specimen.codes.tolist(), trials.value.tolist(), strict=True
        )
    ]
    limit = results.study.limit.resistance if results.study.limit else None
    return operators_figure(listed, results.study.scale == "log", limit)
