"""The main use case: a study in, an answer out."""

from __future__ import annotations

import math

import numpy as np

from ohmsworth.inference.budget import budget
from ohmsworth.inference.factors import FactorResult, InteractionResult, LevelComparison
from ohmsworth.inference.rebuilt import History
from ohmsworth.materials import conductor_from_text, equivalent_length
from ohmsworth.readings.ambient import ambient_temperature
from ohmsworth.readings.doubt import Doubt
from ohmsworth.readings.home import Home
from ohmsworth.report.answer import (
    FORMAT,
    MOVING,
    SETTLED,
    Answer,
    Bound,
    BudgetAnswer,
    FactorAnswer,
    InteractionAnswer,
    Interval,
    LengthAnswer,
    LevelAnswer,
    LevelComparisonAnswer,
    ScatterAnswer,
    SourceAnswer,
    SpecimenAnswer,
    TestAnswer,
    WarningAnswer,
)
from ohmsworth.report.method import method_sentences, single_sentences, source_keys, told_level
from ohmsworth.report.sentences import findings, leading_sentence
from ohmsworth.report.states import current_of_takes
from ohmsworth.sources import source
from ohmsworth.work.condition_answers import comparison_answer, condition_answer, known, together
from ohmsworth.work.frequency_answers import frequencies_answer, tones_method, unexplained
from ohmsworth.work.history import history_answer, history_of
from ohmsworth.work.how_read import largest_current, latest_states, one_mating
from ohmsworth.work.next_steps import next_steps
from ohmsworth.work.ports import LoadedStudy
from ohmsworth.work.results import Results, find_results
from ohmsworth.work.single_specimens import part_answers, sensitivity_answers
from ohmsworth.work.study_cases import study_cases
from ohmsworth.work.tone_results import over_tones
from ohmsworth.work.use_answers import use_answer


def answer_study(loaded: LoadedStudy) -> Answer:
    """Answer a study.

    Raises
    ------
    InputRefused
        When the readings cannot be used as they are.
    """
    history = history_of(loaded)
    return compose(find_results(loaded, history), history)


def compose(results: Results, history: History | None = None) -> Answer:
    """Write the results down as an answer, and what leaning on past studies changed in it."""
    study, table = results.study, results.table
    conditions = tuple(condition_answer(results, c) for c in results.conditions)
    comparisons = tuple(comparison_answer(results, c) for c in results.comparisons)
    specimens = specimen_answers(results)
    limit = Bound(study.limit.resistance, study.limit.source) if study.limit else None
    over = over_tones(results)
    uses = tuple(use_answer(use, study_cases(results, over)) for use in results.uses)
    frequencies = None if over is None else frequencies_answer(results, over)
    subject, lines = _budget(results)
    sensitivity, parts = sensitivity_answers(results), part_answers(results)
    answer = Answer(
        format=FORMAT,
        question=study.question,
        sentence="",
        findings=(),
        scale=study.scale,
        coverage=study.coverage,
        reference=study.reference if len(conditions) > 1 else None,
        limit=limit,
        margin=results.margin,
        ambient=ambient_temperature(study, table),
        rows=len(table),
        rows_used=len(results.used),
        resistances=len(results.resistances),
        specimens=specimens,
        conditions=conditions,
        comparisons=comparisons,
        scatter=_scatter(results),
        budget_of=subject,
        budget=lines,
        equivalent_length=_lengths(results),
        uses=uses,
        warnings=(*_warnings(results), *unexplained(frequencies)),
        actions=(),
        method=(
            *method_sentences(
                results.measured,
                results.resistances,
                study,
                results.table.resistance is not None,
                results.margin is not None,
            ),
            *single_sentences(sensitivity, parts),
            *tones_method(frequencies),
        ),
        sources=tuple(
            _source(key) for key in source_keys(results.measured, results.resistances, study, uses)
        ),
        largest_current=largest_current(table) or current_of_takes(frequencies),
        factors=tuple(_factor(one) for one in results.factors),
        interactions=tuple(_interaction(one) for one in results.interactions),
        bench=results.day.bench,
        sensitivity=sensitivity,
        parts=parts,
        history=history_answer(results, history),
        frequencies=frequencies,
    )
    return _with_words(answer, study.home)


def _with_words(answer: Answer, home: Home) -> Answer:
    from dataclasses import replace

    return replace(
        answer,
        sentence=leading_sentence(answer),
        findings=findings(answer),
        actions=next_steps(answer, home),
    )


def specimen_answers(results: Results) -> tuple[SpecimenAnswer, ...]:
    """What is known of each specimen under each condition."""
    found, table = results.specimens, results.table
    moving = {row for doubt in results.doubts if doubt.code == "STILL_MOVING" for row in doubt.rows}
    rows = np.flatnonzero(np.isin(table.line, list(moving))) if moving else np.array([], int)
    moved = set(zip(table.specimen.codes[rows].tolist(), table.condition.codes[rows].tolist(), strict=True))
    restless = {one.condition for one in results.unsettled}
    latest = latest_states(table, results.used)
    return tuple(
        SpecimenAnswer(
            table.specimen.names[s],
            table.condition.names[c],
            float(found.value[i]),
            known(found.uncertainty[i]),
            known(found.low[i]),
            known(found.high[i]),
            known(found.freedom[i]),
            int(found.readings[i]),
            known(found.probability[i]),
            found.verdicts[i] or None,
            MOVING if (s, c) in moved or c in restless else SETTLED,
            (s, c) in latest,
        )
        for i, (s, c) in enumerate(zip(found.specimen.tolist(), found.condition.tolist(), strict=True))
    )


def _factor(found: FactorResult) -> FactorAnswer:
    return FactorAnswer(
        found.name,
        tuple(LevelAnswer(one.level, Interval(one.value, *map(known, one.interval))) for one in found.levels),
        tuple(_level_comparison(c) for c in found.comparisons),
        _test(found.test, found.p_value),
    )


def _level_comparison(found: LevelComparison) -> LevelComparisonAnswer:
    return LevelComparisonAnswer(
        found.of,
        found.against,
        Interval(found.difference, *found.difference_interval),
        Interval(found.ratio, *(found.ratio_interval or (None, None))),
        *together(found),
        known(found.freedom),
        found.p_value,
        found.verdict,
    )


def _interaction(found: InteractionResult) -> InteractionAnswer:
    ratio = None if found.ratio is None else Interval(found.ratio, *(found.ratio_interval or (None, None)))
    return InteractionAnswer(found.factors, _test(found.test, found.p_value), ratio)


def _test(test: tuple[float, int, float], p_value: float) -> TestAnswer:
    return TestAnswer(known(test[0]), test[1], known(test[2]), known(p_value))


def _scatter(results: Results) -> tuple[ScatterAnswer, ...]:
    engine = results.measured.engine
    if engine is None:
        return ()
    levels = {level.name: level for level in engine.design.levels}
    order = list(levels)
    found = []
    for component, variance in zip(engine.fit.components, engine.fit.variance.tolist(), strict=True):
        name, merged = told_level(levels[component.level], engine.design)
        condition, groups = None, levels[component.level].size
        if component.condition is not None:
            condition = results.table.condition.names[component.condition]
            member = engine.design.condition == component.condition
            groups = len(np.unique(levels[component.level].node[member]))
        found.append(
            (
                component.level,
                ScatterAnswer(name, condition, math.sqrt(variance), groups, merged),
            )
        )
    return tuple(scatter for _, scatter in sorted(found, key=lambda pair: order.index(pair[0])))


def _budget(results: Results) -> tuple[str, tuple[BudgetAnswer, ...]]:
    """The budget of the condition that the limit or the comparison hangs on: the one with the largest value."""
    subject = max(results.conditions, key=lambda c: c.value)
    lines = budget(results.measured, subject)
    return results.table.condition.names[subject.condition], tuple(
        BudgetAnswer(line.source, line.contribution, line.share, line.remedy) for line in lines
    )


def _lengths(results: Results) -> tuple[LengthAnswer, ...]:
    names = results.table.condition.names
    ambient = ambient_temperature(results.study, results.table)
    subjects = [
        (names[c.condition], Interval(c.value, known(c.low), known(c.high))) for c in results.conditions
    ]
    subjects += [
        (f"{names[c.of]} − {names[c.against]}", Interval(c.difference, *c.difference_interval))
        for c in results.comparisons
    ]
    return tuple(
        LengthAnswer(subject, wire, _length(interval, wire, ambient))
        for subject, interval in subjects
        for wire in results.study.wires
    )


def _length(resistance: Interval, wire: str, ambient: float) -> Interval:
    conductor = conductor_from_text(wire)

    def metres(ohm: float | None) -> float | None:
        return (
            None
            if ohm is None
            else math.copysign(float(equivalent_length(abs(ohm), conductor, ambient)), ohm)
        )

    return Interval(metres(resistance.value), metres(resistance.low), metres(resistance.high))


def _warnings(results: Results) -> tuple[WarningAnswer, ...]:
    given = results.study.set_aside
    found = [warning for doubt in results.doubts for warning in _doubted(results, doubt)]
    found += [
        WarningAnswer(
            "SET_ASIDE",
            f"set aside by the owner: {reason.rstrip('.') or 'no reason given'}.",
            (row,),
            "Nothing.",
            True,
        )
        for row, reason in given.items()
    ]
    if one_mating(results.table, results.used):
        found.append(
            WarningAnswer(
                "ONE_MATING",
                "no contact was mated a second time: how far re-mating changes it is not in the uncertainty of a contact.",
                (),
                "Mate each contact several times, and read it every time.",
                False,
            )
        )
    return tuple(found)


def _doubted(results: Results, doubt: Doubt) -> list[WarningAnswer]:
    """A doubt, told apart by what became of its rows: left out, kept by the owner, or still in the answer."""
    left_out = results.left_out
    keep = results.study.keep - left_out
    out = tuple(row for row in doubt.rows if row in left_out)
    kept = tuple(row for row in doubt.rows if row in keep)
    rest = tuple(row for row in doubt.rows if row not in left_out and row not in keep)
    found = []
    if out:
        found.append(WarningAnswer(doubt.code, doubt.words, out, doubt.mend, True))
    if kept:
        found.append(WarningAnswer(doubt.code, f"{doubt.words} Kept by the owner.", kept, "Nothing.", False))
    if rest or not doubt.rows:
        found.append(WarningAnswer(doubt.code, doubt.words, rest, doubt.mend, False))
    return found


def _source(key: str) -> SourceAnswer:
    entry = source(key)
    return SourceAnswer(entry.key, entry.citation, entry.standing)
