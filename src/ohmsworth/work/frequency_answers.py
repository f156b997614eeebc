"""What a study's takes say over frequency, written down for the answer."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from ohmsworth.inference.conditions import ConditionResult
from ohmsworth.report.answer import AtFrequencyAnswer, FrequenciesAnswer, WarningAnswer
from ohmsworth.report.frequencies_answer import (
    ComparisonCurveAnswer,
    ConditionCurveAnswer,
)
from ohmsworth.report.frequencies_words import apart_sentence
from ohmsworth.report.takes_measured import measured_method
from ohmsworth.report.words import listed
from ohmsworth.resistance.impedance.of_contacts import USUAL, nearest_tone
from ohmsworth.units import show
from ohmsworth.work.beside_direct import beside_direct, without_direct
from ohmsworth.work.condition_answers import comparison_answer, condition_answer, known
from ohmsworth.work.results import Results
from ohmsworth.work.takes_measured import takes_measured
from ohmsworth.work.tone_results import (
    OverTones,
    Together,
    comparison_together,
    condition_together,
)


def frequencies_answer(results: Results, over: OverTones) -> FrequenciesAnswer:
    """All that the takes say."""
    assert results.loaded is not None
    found = over.loaded.found
    tone = results.loaded.tone
    conditions = range(len(found.table.condition.names))
    curves = tuple(_condition_curve(results, over, c) for c in conditions)
    number = max((len(one.comparisons) for one in over.each), default=0)
    comparisons = tuple(_comparison_curve(results, over, n) for n in range(number))
    return FrequenciesAnswer(
        len(over.used),
        None if tone is None else float(found.frequency[tone]),
        _listed(found.frequency),
        _at_asked(results, over),
        curves,
        comparisons,
        beside_direct(results, over),
        (*_remarks(results, over, comparisons), *without_direct(results, over)),
        takes_measured(results, over),
    )


def tones_method(answer: FrequenciesAnswer | None) -> tuple[str, ...]:
    """What the method says of intervals at many tones at once, and of how the takes were measured."""
    if answer is None:
        return ()
    together = (
        "Intervals that hold at all tones at once are by the largest of as many Student's t, simulated with the tones' own "
        "correlation, taken cautiously."
    )
    return (*([together] if len(answer.frequency) > 1 else []), *measured_method(answer.measured))


def unexplained(answer: FrequenciesAnswer | None) -> tuple[WarningAnswer, ...]:
    """The doubt that tones and direct current tell different things."""
    apart = [] if answer is None else [one for one in answer.direct if not one.explained]
    if not apart:
        return ()
    named = listed([f"'{one.condition}'" for one in apart])
    words = f"Tones and direct current disagree by more than their uncertainties explain in {named}; direct current governs."
    return (WarningAnswer("DIRECT_CURRENT_DISAGREES", words, (), " ".join(apart[0].causes[:2]), False),)


def _at_asked(results: Results, over: OverTones) -> tuple[AtFrequencyAnswer, ...]:
    found = over.loaded.found
    told: dict[int, AtFrequencyAnswer] = {}
    for hertz in over.loaded.asked or (USUAL,):
        tone = nearest_tone(found.frequency, hertz)
        here = over.each[tone]
        # Takes have no times, so that nothing of them can be seen to move.
        there = replace(results, table=found.table, used=over.used, unsettled=())
        told.setdefault(
            tone,
            AtFrequencyAnswer(
                hertz,
                float(found.frequency[tone]),
                tuple(condition_answer(there, one) for one in here.conditions),
                tuple(
                    comparison_answer(replace(there, conditions=here.conditions), one)
                    for one in here.comparisons
                ),
            ),
        )
    return tuple(told.values())


def _condition_curve(results: Results, over: OverTones, condition: int) -> ConditionCurveAnswer:
    study, found = results.study, over.loaded.found
    together = condition_together(study, over.each, found, over.used, condition)
    there = [one.conditions[condition] if one.conditions else None for one in over.each]
    reactance = [one.reactance[condition] for one in over.each]
    low, high = _ends(together)
    return ConditionCurveAnswer(
        found.table.condition.names[condition],
        "median" if study.scale == "log" else "mean",
        tuple(None if one is None else one.value for one in there),
        _of(there, "low"),
        _of(there, "high"),
        low,
        high,
        together.tones,
        tuple(one.value for one in reactance),
        _of(reactance, "low"),
        _of(reactance, "high"),
    )


def _of(results: list[ConditionResult | None] | list[ConditionResult], end: str) -> tuple[float | None, ...]:
    return tuple(None if one is None else known(getattr(one, end)) for one in results)


def _ends(together: Together) -> tuple[tuple[float | None, ...], tuple[float | None, ...]]:
    low = tuple(None if pair is None else known(pair[0]) for pair in together.intervals)
    return low, tuple(None if pair is None else known(pair[1]) for pair in together.intervals)


def _comparison_curve(results: Results, over: OverTones, number: int) -> ComparisonCurveAnswer:
    names, ratios = over.loaded.found.table.condition.names, results.study.scale == "log"
    together = comparison_together(results.study, over.each, over.loaded.found, over.used, number)
    there = [one.comparisons[number] if number < len(one.comparisons) else None for one in over.each]
    first = next(one for one in there if one is not None)
    pairs = [
        None if one is None else (one.ratio_interval if ratios else one.difference_interval) for one in there
    ]
    low, high = _ends(together)
    return ComparisonCurveAnswer(
        names[first.of],
        names[first.against],
        "ratio" if ratios else "difference",
        tuple(None if one is None else known(one.ratio if ratios else one.difference) for one in there),
        tuple(None if pair is None else known(pair[0]) for pair in pairs),
        tuple(None if pair is None else known(pair[1]) for pair in pairs),
        low,
        high,
        together.tones,
    )


def _remarks(
    results: Results, over: OverTones, comparisons: tuple[ComparisonCurveAnswer, ...]
) -> tuple[str, ...]:
    frequency, coverage = over.loaded.found.frequency, f"{100 * results.study.coverage:g} %"
    said = []
    if len(frequency) > 1:
        told = f"{coverage} interval at each tone holds at that tone by itself. Of {len(frequency)} tones looked at"
        said.append(
            f"The {told}, one or another is off by chance. The wider intervals hold at all of them at once with {coverage}."
        )
    if len(frequency) > 1:
        said += [
            apart_sentence(_listed(frequency), one, _fewest_freedom(over, number))
            for number, one in enumerate(comparisons)
        ]
    without = [show(float(frequency[one.tone]), "Hz") for one in over.each if one.measured is None]
    if without:
        said.append(
            f"At {listed(without)} the R of a take is zero or less and has no logarithm: no median is told there. Longer takes, "
            'or scale = "linear", tell more.'
        )
    return tuple(said)


def _fewest_freedom(over: OverTones, number: int) -> float:
    """The fewest degrees of freedom that a comparison has at any tone."""
    found = [one.comparisons[number].freedom for one in over.each if number < len(one.comparisons)]
    return min(found)


def _listed(values: np.ndarray) -> tuple[float, ...]:
    return tuple(float(v) if math.isfinite(v) else math.nan for v in values)
