"""What an answer leans on of past studies: their scatter, gathered; and what difference it made, written down."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from ohmsworth.inference.comparisons import ComparisonResult, compare
from ohmsworth.inference.conditions import ConditionResult, condition_result
from ohmsworth.inference.conformity import verdict
from ohmsworth.inference.engine import Engine, own_estimate
from ohmsworth.inference.history import Leant, speaks
from ohmsworth.inference.measured import Measured
from ohmsworth.inference.rebuilt import History, PastScatter, lean_on
from ohmsworth.report.answer import Answer, HistoryAnswer, Interval, LeantAnswer
from ohmsworth.report.document import LineFigure
from ohmsworth.report.history import history_picture
from ohmsworth.units import LARGEST
from ohmsworth.work.past_scatter import scatter_found
from ohmsworth.work.ports import LoadedStudy
from ohmsworth.work.results import SEED, Results, find_results


def history_of(loaded: LoadedStudy) -> History | None:
    """The scatter of the past studies that a study names; None where it names none.

    A past study's condition stands for the one of the same name; a condition that no past study names takes all of theirs.
    """
    if not loaded.history:
        return None
    names = loaded.table.condition.names
    by_name: list[list[PastScatter]] = [[] for _ in names]
    pooled: list[PastScatter] = []
    studies, specimens = [], 0
    for name, past in loaded.history:
        results = find_results(past)
        engine = results.measured.engine
        if engine is None or "specimen" not in [level.name for level in engine.design.levels]:
            continue
        studies.append(name)
        specimens += len(np.unique(engine.design.specimen))
        pooled.append(_scatter(engine, list(range(engine.design.conditions))))
        for number, condition in enumerate(results.conditions):
            same = results.table.condition.names[condition.condition]
            if same in names:
                by_name[names.index(same)].append(_scatter(engine, [number]))
    past_of = tuple(tuple(mine or pooled) for mine in by_name)
    return History(past_of, loaded.study.coverage, tuple(studies), specimens, tuple(map(bool, by_name)))


def _scatter(engine: Engine, conditions: list[int]) -> PastScatter:
    found = scatter_found(engine, conditions)
    return PastScatter({f.level: f.variance for f in found}, {f.level: f.weight for f in found})


def history_answer(results: Results, history: History | None) -> HistoryAnswer | None:
    """What leaning on the history changed; None where the study names none."""
    if history is None:
        return None
    engine, names = results.measured.engine, results.table.condition.names
    every = dict(zip(names, history.namesakes, strict=True))
    told: tuple[LeantAnswer, ...] = ()
    if engine is not None:
        measured = replace(results.measured, engine=replace(engine, history=None))
        alone = [
            condition_result(measured, c.condition, _limit(results), results.study.coverage)
            for c in results.conditions
        ]
        means = [_mean(results, history, c, a) for c, a in zip(results.conditions, alone, strict=True)]
        differences = [_difference(results, history, measured, c, alone) for c in results.comparisons]
        told = tuple(one for one in (*means, *differences) if one is not None)
    strangers = tuple(name for name, same in every.items() if not same)
    return HistoryAnswer(history.studies, history.specimens, strangers if history.studies else (), told)


def _limit(results: Results) -> float | None:
    return results.study.limit.resistance if results.study.limit else None


def _mean(
    results: Results, history: History, found: ConditionResult, alone: ConditionResult
) -> LeantAnswer | None:
    engine = results.measured.engine
    assert engine is not None
    own = own_estimate(engine, (found.condition,))
    leant = lean_on(history, engine.design, own.variance, own.freedom, (found.condition,))
    if leant is None or found.low is None or found.high is None or alone.low is None or alone.high is None:
        return None
    judged = verdict(alone.probability_within, results.study.coverage) if results.study.limit else None
    widths = [_width(results, ends) for ends in ((found.low, found.high), (alone.low, alone.high))]
    name = results.table.condition.names[found.condition]
    size = float(np.sqrt(found.specimens))
    return _told(
        leant, (name, None), size, own.variance, (alone.value, alone.low, alone.high), widths, judged
    )


def _difference(
    results: Results,
    history: History,
    measured: Measured,
    found: ComparisonResult,
    alone: list[ConditionResult],
) -> LeantAnswer | None:
    engine, names = measured.engine, results.table.condition.names
    assert engine is not None
    own = own_estimate(engine, (found.of, found.against))
    leant = lean_on(history, engine.design, own.variance, own.freedom, (found.of, found.against))
    study = results.study
    before = compare(measured, alone[found.of], alone[found.against], found.margin, study.coverage, SEED)
    if leant is None or before is None:
        return None
    pairs = [
        c.ratio_interval if study.scale == "log" and c.ratio_interval else c.difference_interval
        for c in (found, before)
    ]
    ends = (before.difference, *before.difference_interval)
    pair = names[found.of], names[found.against]
    widths = [_width(results, pair) for pair in pairs]
    return _told(leant, pair, 1.0, own.variance, ends, widths, before.verdict)


def picture_of(results: Results, history: History | None, answer: Answer) -> LineFigure | None:
    """The scatter of the condition whose history fits least, as a picture; None where no condition leans on one."""
    engine, told = results.measured.engine, answer.history
    means = [one for one in told.estimates if one.against is None] if told else []
    if engine is None or history is None or not means:
        return None
    one = min(means, key=lambda mean: mean.as_expected)
    number = results.table.condition.names.index(one.of)
    own = own_estimate(engine, (number,))
    leant = lean_on(history, engine.design, own.variance, own.freedom, (number,))
    assert leant is not None and one.expected.value is not None
    curves = {"this study alone": leant.alone, "past studies": leant.past, "both together": leant.density}
    return history_picture(one, answer, leant.ratio * one.expected.value, curves)


def _width(results: Results, ends: tuple[float, float]) -> float:
    """On the scale of analysis; ends beyond all numbers count as the largest."""
    low, high = ends
    if results.study.scale == "linear":
        return high - low
    return float(np.log(min(high, LARGEST)) - np.log(max(low, 1 / LARGEST)))


def _told(
    leant: Leant,
    pair: tuple[str, str | None],
    size: float,
    variance: float,
    alone: tuple[float, float, float],
    widths: list[float],
    judged: str | None,
) -> LeantAnswer:
    """One estimate's record; `size` makes of a standard error the scatter of one specimen's mean."""
    low, high = np.interp([0.025, 0.975], np.cumsum(leant.density), leant.ratio)
    unit = size * float(np.sqrt(leant.expected))
    reach = float(np.exp(1.96 * leant.spread))
    return LeantAnswer(
        *pair,
        size * float(np.sqrt(variance)),
        Interval(unit, unit / reach, unit * reach),
        Interval(float(leant.density @ leant.ratio) * unit, float(low) * unit, float(high) * unit),
        leant.weight,
        leant.proportion,
        leant.fits,
        speaks(leant),
        Interval(*alone),
        widths[0] / widths[1] if widths[1] > 0 else 1.0,
        judged,
    )
