"""The main use case: a study in, an answer out."""

from __future__ import annotations

import math

import numpy as np

from ohmsworth.inference.budget import budget
from ohmsworth.inference.comparisons import ComparisonResult
from ohmsworth.inference.conditions import CONTENT, ConditionResult
from ohmsworth.inference.conformity import verdict
from ohmsworth.inference.factors import FactorResult, InteractionResult, LevelComparison
from ohmsworth.inference.rebuilt import History
from ohmsworth.inference.withheld import unsettled_verdict
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
    ComparisonAnswer,
    ConditionAnswer,
    FactorAnswer,
    InteractionAnswer,
    Interval,
    LengthAnswer,
    LevelAnswer,
    LevelComparisonAnswer,
    NeededAnswer,
    ScatterAnswer,
    SourceAnswer,
    SpecimenAnswer,
    TestAnswer,
    WarningAnswer,
)
from ohmsworth.report.method import method_sentences, single_sentences, source_keys, told_level
from ohmsworth.report.sentences import findings, leading_sentence
from ohmsworth.sources import source
from ohmsworth.units import LARGEST
from ohmsworth.work.history import history_answer, history_of
from ohmsworth.work.how_read import largest_current, latest_states, one_mating, turns
from ohmsworth.work.next_steps import next_steps
from ohmsworth.work.ports import LoadedStudy
from ohmsworth.work.results import Results, find_results
from ohmsworth.work.single_specimens import part_answers, sensitivity_answers
from ohmsworth.work.study_cases import study_cases
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
    conditions = tuple(_condition(results, c) for c in results.conditions)
    comparisons = tuple(_comparison(results, c) for c in results.comparisons)
    specimens = _specimens(results)
    limit = Bound(study.limit.resistance, study.limit.source) if study.limit else None
    uses = tuple(use_answer(use, study_cases(results)) for use in results.uses)
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
        warnings=_warnings(results),
        actions=(),
        method=(
            *method_sentences(results.measured, results.resistances, study, results.margin is not None),
            *single_sentences(sensitivity, parts),
        ),
        sources=tuple(
            _source(key) for key in source_keys(results.measured, results.resistances, study, uses)
        ),
        largest_current=largest_current(table),
        factors=tuple(_factor(one) for one in results.factors),
        interactions=tuple(_interaction(one) for one in results.interactions),
        bench=results.day.bench,
        sensitivity=sensitivity,
        parts=parts,
        history=history_answer(results, history),
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


def _known(value: float | None) -> float | None:
    """None for what is no number, and for a size that only says that the data could not bound it."""
    return None if value is None or not abs(value) <= LARGEST else float(value)


def _specimens(results: Results) -> tuple[SpecimenAnswer, ...]:
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
            _known(found.uncertainty[i]),
            _known(found.low[i]),
            _known(found.high[i]),
            _known(found.freedom[i]),
            int(found.readings[i]),
            _known(found.probability[i]),
            found.verdicts[i] or None,
            MOVING if (s, c) in moved or c in restless else SETTLED,
            (s, c) in latest,
        )
        for i, (s, c) in enumerate(zip(found.specimen.tolist(), found.condition.tolist(), strict=True))
    )


def _condition(results: Results, found: ConditionResult) -> ConditionAnswer:
    study = results.study
    judged = verdict(found.probability_within, study.coverage) if study.limit else None
    moving = next((one for one in results.unsettled if one.condition == found.condition), None)
    if moving is not None and study.limit is not None:
        judged = unsettled_verdict(moving, study.limit.resistance)
    return ConditionAnswer(
        results.table.condition.names[found.condition],
        found.specimens,
        found.readings,
        "median" if study.scale == "log" else "mean",
        found.value,
        _known(found.uncertainty),
        _known(found.low),
        _known(found.high),
        _known(found.freedom),
        _known(found.tolerance),
        CONTENT,
        _known(found.probability_within),
        _known(found.probability_over),
        judged,
        *((MOVING, moving.movement, moving.lowest, moving.highest) if moving else ()),
    )


def _comparison(results: Results, found: ComparisonResult) -> ComparisonAnswer:
    names, exact = results.table.condition.names, found.exact
    present = min(results.conditions[c].specimens for c in (found.of, found.against))
    ratio_ends = found.ratio_interval or (None, None)
    return ComparisonAnswer(
        names[found.of],
        names[found.against],
        found.paired,
        found.pairs,
        Interval(found.difference, *found.difference_interval),
        Interval(found.ratio, *ratio_ends),
        _known(found.freedom),
        found.p_value,
        exact.p_value if exact else None,
        exact.smallest if exact else None,
        exact.complete if exact else None,
        found.margin,
        found.verdict,
        tuple(
            NeededAnswer(n.specimens, max(n.specimens - present, 0), n.matings, n.power) for n in found.settle
        ),
        *_together(found),
        _read_last(results, found),
    )


def _factor(found: FactorResult) -> FactorAnswer:
    return FactorAnswer(
        found.name,
        tuple(
            LevelAnswer(one.level, Interval(one.value, *map(_known, one.interval))) for one in found.levels
        ),
        tuple(_level_comparison(c) for c in found.comparisons),
        _test(found.test, found.p_value),
    )


def _level_comparison(found: LevelComparison) -> LevelComparisonAnswer:
    return LevelComparisonAnswer(
        found.of,
        found.against,
        Interval(found.difference, *found.difference_interval),
        Interval(found.ratio, *(found.ratio_interval or (None, None))),
        *_together(found),
        _known(found.freedom),
        found.p_value,
        found.verdict,
    )


def _interaction(found: InteractionResult) -> InteractionAnswer:
    ratio = None if found.ratio is None else Interval(found.ratio, *(found.ratio_interval or (None, None)))
    return InteractionAnswer(found.factors, _test(found.test, found.p_value), ratio)


def _test(test: tuple[float, int, float], p_value: float) -> TestAnswer:
    return TestAnswer(_known(test[0]), test[1], _known(test[2]), _known(p_value))


def _read_last(results: Results, found: ComparisonResult) -> str | None:
    """The condition that the same specimens were read in last; None where there is none, or most were not read again."""
    later = turns(results.table, results.used)
    for first, last in ((found.of, found.against), (found.against, found.of)):
        if found.paired and (first, last) in later and 2 * found.pairs > results.conditions[first].specimens:
            return results.table.condition.names[last]
    return None


def _together(found: ComparisonResult | LevelComparison) -> tuple[Interval | None, Interval | None]:
    """The difference and ratio with the intervals that hold for all comparisons at once."""
    if found.together is None:
        return None, None
    difference, ratio = found.together
    return Interval(found.difference, *difference), Interval(found.ratio, *(ratio or (None, None)))


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
        (names[c.condition], Interval(c.value, _known(c.low), _known(c.high))) for c in results.conditions
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
