"""The same inference at every tone: what conditions are, and how they differ, over frequency."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ohmsworth.consequence.measured_impedance import MeasuredImpedance
from ohmsworth.inference.comparisons import ComparisonResult, compare, hold_together
from ohmsworth.inference.conditions import ConditionResult, condition_result
from ohmsworth.inference.measured import Measured, measure, with_meters
from ohmsworth.inference.over_tones import coverage_of_each_tone, independent_tones, tone_correlation
from ohmsworth.inference.scale import Interval, difference_in_ohm, ratio, to_ohm
from ohmsworth.readings.factors import compared
from ohmsworth.readings.study import Study
from ohmsworth.readings.table import Array, Codes, ReadingTable, distinct_pairs
from ohmsworth.resistance import Resistances
from ohmsworth.resistance.impedance.of_contacts import Impedances, reactances_at, resistances_at
from ohmsworth.work.ports import LoadedImpedances
from ohmsworth.work.results import SEED, Results


@dataclass(frozen=True, slots=True, eq=False)
class AtTone:
    """What is found at one tone.

    Parameters
    ----------
    tone
        Its number.
    measured, conditions, comparisons
        Of R, as for readings of direct current; None and empty where a take's R has no logarithm.
    reactance
        Mean X of each condition, on the linear scale.
    """

    tone: int
    measured: Measured | None
    conditions: tuple[ConditionResult, ...]
    comparisons: tuple[ComparisonResult, ...]
    reactance: tuple[ConditionResult, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Together:
    """Intervals that hold at all tones at once, one pair a tone, and as how many independent tones they count."""

    intervals: tuple[Interval | None, ...]
    tones: float


@dataclass(frozen=True, slots=True, eq=False)
class OverTones:
    """The takes of a study, the rows of them that take part, and what is found at every tone."""

    loaded: LoadedImpedances
    used: Codes
    each: tuple[AtTone, ...]


def over_tones(results: Results) -> OverTones | None:
    """The inference at every tone; None for a study without takes."""
    loaded = None if results.loaded is None else results.loaded.impedances
    if loaded is None or results.loaded is None:
        return None
    used = results.used if results.loaded.tone is not None else np.arange(len(loaded.found.table))
    margin = results.margin.resistance if results.margin else None
    return OverTones(loaded, used, at_each_tone(results.study, loaded.found, used, margin))


def impedance_of(over: OverTones, condition: str) -> MeasuredImpedance | None:
    """A condition's impedance: median or mean R and mean X, and the same with both ends of R; None where a tone lacks it."""
    names = over.loaded.found.table.condition.names
    if condition not in names:
        return None
    number = names.index(condition)
    if any(not one.conditions for one in over.each):
        return None
    each = [one.conditions[number] for one in over.each]
    reactance = np.array([one.reactance[number].value for one in over.each])
    ends = [[one.value, one.low, one.high] for one in each]
    known = [
        [value if end is None else end for end in row]
        for value, row in zip([c.value for c in each], ends, strict=True)
    ]
    return MeasuredImpedance(over.loaded.found.frequency, np.maximum(np.array(known).T, 0.0) + 1j * reactance)


def at_each_tone(
    study: Study, found: Impedances, used: Codes, margin: float | None = None
) -> tuple[AtTone, ...]:
    """Conditions and comparisons at every tone.

    Parameters
    ----------
    study
        Its scale, scatter, limit, reference and coverage; factors are compared one by one.
    used
        Rows of the takes that take part.
    margin
        Smallest change that matters in ohm, or None.
    """
    return tuple(_at(study, found, k, used, margin) for k in range(len(found.frequency)))


def _at(study: Study, found: Impedances, tone: int, used: Codes, margin: float | None) -> AtTone:
    limit = study.limit.resistance if study.limit else None
    there = resistances_at(found, tone, used)
    reactance = _conditions(measure(reactances_at(found, tone, used), "linear", study.scatter), None, study)
    if study.scale == "log" and not (there.value > 0).all():
        return AtTone(tone, None, (), (), reactance)
    measured = measure(there, study.scale, study.scatter)
    conditions = _conditions(measured, limit, study)
    return AtTone(
        tone,
        measured,
        conditions,
        _comparisons(study, found.table, measured, conditions, margin),
        reactance,
    )


def _conditions(measured: Measured, limit: float | None, study: Study) -> tuple[ConditionResult, ...]:
    return tuple(
        condition_result(measured, c, limit, study.coverage) for c in range(measured.design.conditions)
    )


def _comparisons(
    study: Study,
    table: ReadingTable,
    measured: Measured,
    conditions: tuple[ConditionResult, ...],
    margin: float | None,
) -> tuple[ComparisonResult, ...]:
    names = table.condition.names
    if study.reference not in names or len(conditions) < 2:
        return ()
    pairs = compared(study, table, names.index(study.reference))
    made = [
        compare(measured, conditions[of], conditions[against], margin, study.coverage, SEED)
        for of, against in pairs
    ]
    return tuple(hold_together(measured, [one for one in made if one is not None], study.coverage, SEED))


def condition_together(
    study: Study, each: tuple[AtTone, ...], found: Impedances, used: Codes, condition: int
) -> Together:
    """Intervals of a condition's median or mean that hold at all tones at once."""
    there = [
        one for one in each if one.measured is not None and one.conditions[condition].estimate is not None
    ]
    coverage, tones = _coverage(
        study,
        found,
        used,
        [one.tone for one in there],
        (condition,),
        [one.conditions[condition].freedom for one in there],
    )
    intervals: dict[int, Interval] = {}
    for one in there:
        result = one.conditions[condition]
        assert result.estimate is not None
        intervals[one.tone] = to_ohm(study.scale, with_meters(result.estimate, result.parts), coverage)[2]
    return Together(tuple(intervals.get(one.tone) for one in each), tones)


def comparison_together(
    study: Study, each: tuple[AtTone, ...], found: Impedances, used: Codes, number: int
) -> Together:
    """Intervals of a comparison's ratio (log) or difference (linear) that hold at all tones at once."""
    there = [one for one in each if number < len(one.comparisons)]
    if not there:
        return Together((None,) * len(each), 1.0)
    first = there[0].comparisons[number]
    coverage, tones = _coverage(
        study,
        found,
        used,
        [one.tone for one in there],
        (first.of, first.against),
        [one.comparisons[number].freedom for one in there],
    )
    intervals: dict[int, Interval | None] = {}
    for one in there:
        parts = one.comparisons[number].parts
        if study.scale == "log":
            intervals[one.tone] = ratio(study.scale, *parts.whole, coverage, parts.scatter)[1]
        else:
            intervals[one.tone] = difference_in_ohm(study.scale, *parts.whole, coverage)[1]
    return Together(tuple(intervals.get(one.tone) for one in each), tones)


def _coverage(
    study: Study,
    found: Impedances,
    used: Codes,
    tones: list[int],
    conditions: tuple[int, ...],
    freedoms: list[float | None],
) -> tuple[float, float]:
    """Coverage of each interval, and as how many independent tones that counts."""
    if len(tones) < 2:
        return study.coverage, 1.0
    departures, freedom = _departures(study, [resistances_at(found, k, used) for k in tones], conditions)
    fewest = min(n if n is not None else np.inf for n in freedoms)
    each = coverage_of_each_tone(tone_correlation(departures, freedom), fewest, study.coverage, SEED)
    return each, independent_tones(each, study.coverage, len(tones))


def _departures(study: Study, there: list[Resistances], conditions: tuple[int, ...]) -> tuple[Array, int]:
    """What specimens depart by from their condition at each tone, or their differences from the mean difference."""
    value = np.column_stack([np.log(one.value) if study.scale == "log" else one.value for one in there])
    pairs, cell = distinct_pairs(there[0].specimen.codes, there[0].condition.codes)
    count = np.bincount(cell)
    means = np.column_stack([np.bincount(cell, column) / count for column in value.T])
    groups = [
        dict(zip(pairs[pairs[:, 1] == c, 0].tolist(), means[pairs[:, 1] == c], strict=True))
        for c in conditions
    ]
    both = [s for s in groups[0] if len(groups) == 2 and s in groups[1]]
    parts = (
        [np.array([groups[0][s] - groups[1][s] for s in both])]
        if both
        else [np.array(list(group.values())) for group in groups]
    )
    centred = [part - part.mean(0) for part in parts]
    return np.concatenate(centred), sum(len(part) - 1 for part in parts)
