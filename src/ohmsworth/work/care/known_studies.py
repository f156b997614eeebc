"""The use case of what is known: one comparison over several studies, and what a new lot would show."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from ohmsworth.errors import Fault, InputRefused, nearest_name, shorten
from ohmsworth.inference.comparisons import ComparisonResult, compare
from ohmsworth.inference.equivalence import tost_coverage, verdict_against_margin
from ohmsworth.inference.estimate import Estimate
from ohmsworth.inference.pooled import Between, Pooled, StudyEffect, left_out, pool_studies
from ohmsworth.inference.scale import antilog
from ohmsworth.inference.support import supported
from ohmsworth.report.answer import Bound, Interval, SourceAnswer
from ohmsworth.report.care.known_answer import (
    FORMAT,
    BetweenStudies,
    InOhm,
    KnownAnswer,
    StudyKnown,
    UnusedStudy,
    WithoutStudy,
)
from ohmsworth.report.care.known_pages import known_report, known_summary
from ohmsworth.report.care.known_sentences import known_findings, known_method, known_sentence, known_sources
from ohmsworth.report.document import Document
from ohmsworth.report.words import in_quotes
from ohmsworth.sources import source
from ohmsworth.work.condition_answers import known
from ohmsworth.work.ports import LoadedStudy
from ohmsworth.work.results import SEED, Results, find_results

#: Where studies do not agree on the coverage of their intervals.
_USUAL_COVERAGE = 0.95
_WHERE = "the studies"
#: Reads several study folders, each with its name; raises InputRefused with the faults of all.
LoadStudies = Callable[[Sequence[Path]], "tuple[NamedStudy, ...]"]


@dataclass(frozen=True, slots=True, eq=False)
class NamedStudy:
    """A study as read, and what it is called among others."""

    name: str
    loaded: LoadedStudy


@dataclass(frozen=True, slots=True)
class Compared:
    """The conditions of a study, and which of them is its reference; None where it has none."""

    conditions: tuple[str, ...]
    reference: str | None


@dataclass(frozen=True, slots=True)
class ToldKnown:
    """An answer with its report and what of it fits a terminal."""

    answer: KnownAnswer
    report: Document
    summary: Document


@dataclass(frozen=True, slots=True, eq=False)
class _Said:
    """What one study says of the comparison."""

    name: str
    results: Results
    found: ComparisonResult
    effect: StudyEffect
    base: Estimate


def report_known(studies: Sequence[NamedStudy], of: str = "", against: str = "") -> ToldKnown:
    """Say what studies know together, with the report; as `known_studies`."""
    answer = known_studies(studies, of, against)
    return ToldKnown(answer, known_report(answer), known_summary(answer))


def known_studies(studies: Sequence[NamedStudy], of: str = "", against: str = "") -> KnownAnswer:
    """Say what studies know together of one comparison.

    Parameters
    ----------
    studies
        One or more.
    of, against
        The two conditions; "" takes the pair, with the studies' reference, that the most of them have.

    Raises
    ------
    InputRefused
        When the pair cannot be told, no study has it, or resistances have no logarithm.
    """
    pair = _pair(studies, of, against)
    said: list[_Said] = []
    unused: list[UnusedStudy] = []
    faults: list[Fault] = []
    for study in studies:
        try:
            one = _said(study, *pair)
        except InputRefused as refused:
            faults += [replace(fault, where=f"{study.name}: {fault.where}") for fault in refused.faults]
            continue
        if isinstance(one, str):
            unused.append(UnusedStudy(study.name, one))
        else:
            said.append(one)
    if not faults and not said:
        told = "; ".join(f"{one.name}: {one.why}" for one in unused)
        faults.append(Fault(_WHERE, told, "a study that says something of the two", "Add one that does."))
    if faults:
        raise InputRefused(tuple(faults))
    return _told(said, unused, pair)


def pairs_of(studies: Sequence[Compared]) -> dict[tuple[str, str], int]:
    """Pairs of a condition and a study's reference, each with the number of studies that have both, the most first."""
    order: Counter[tuple[str, str]] = Counter()
    for study in studies:
        if study.reference in study.conditions:
            order.update((name, study.reference) for name in study.conditions if name != study.reference)
    pairs: dict[frozenset[str], tuple[str, str]] = {}
    for pair, _ in order.most_common():
        pairs.setdefault(frozenset(pair), pair)
    having = {pair: sum(set(pair) <= set(study.conditions) for study in studies) for pair in pairs.values()}
    return dict(sorted(having.items(), key=lambda item: -item[1]))


def _conditions(study: NamedStudy) -> tuple[str, ...]:
    return study.loaded.table.condition.names


def _pair(studies: Sequence[NamedStudy], of: str, against: str) -> tuple[str, str]:
    """The two conditions, as asked or as most studies have them."""
    names = tuple(dict.fromkeys(name for study in studies for name in _conditions(study)))
    faults = []
    for option, name in (("--of", of), ("--against", against)):
        if name and name not in names:
            near = nearest_name(name, names)
            mend = f"Did you mean {shorten(near)}?" if near else "Write it as in the studies."
            some = "one of " + ", ".join(shorten(one, 30) for one in names[:8])
            faults.append(Fault(option, shorten(name), some, mend))
    if of and of == against:
        faults.append(
            Fault("--against", shorten(against), "another condition than --of", "Name the other one.")
        )
    if faults:
        raise InputRefused(tuple(faults))
    if of and against:
        return of, against
    compared = [Compared(_conditions(study), study.loaded.study.reference) for study in studies]
    pairs = {
        pair: number
        for pair, number in pairs_of(compared).items()
        if (not of or of in pair) and (not against or against in pair)
    }
    best = [pair for pair, number in pairs.items() if number == max(pairs.values())]
    if len(best) != 1:
        told = "; ".join(f"{in_quotes(a)} against {in_quotes(b)}" for a, b in best[:6])
        found = (
            f"{len(best)} comparisons in as many studies: {told}"
            if best
            else "no study with two conditions and a reference"
        )
        mend = "Name the two conditions with --of and --against."
        raise InputRefused((Fault(_WHERE, found, "one comparison that the most of them have", mend),))
    pair = best[0]
    return pair if pair[0] != against and pair[1] != of else (pair[1], pair[0])


def _said(study: NamedStudy, of: str, against: str) -> _Said | str:
    """What a study says of the two conditions, or why it does not count."""
    missing = [name for name in (of, against) if name not in _conditions(study)]
    if missing:
        return f"It has no {' and no '.join(in_quotes(name) for name in missing)}."
    results = find_results(replace(study.loaded, study=replace(study.loaded.study, scale="log")))
    names = results.table.condition.names
    numbers = [names.index(name) for name in (of, against)]
    if {one.condition for one in results.unsettled} & set(numbers):
        return "Its readings had not settled."
    by_number = {one.condition: one for one in results.conditions}
    engine = results.measured.engine
    if engine is None or not set(numbers) <= set(by_number):
        return "Its readings leave open how far they scatter."
    units = np.eye(engine.design.conditions)[numbers]
    if not supported(engine.design, *units):
        return "It has one specimen only under one of the two, which says nothing of their kind."
    first, second = (by_number[number] for number in numbers)
    found = compare(results.measured, first, second, None, study.loaded.study.coverage, SEED)
    if found is None or not found.parts.whole[2].standard_error > 0:
        return "Its readings leave open how far they scatter."
    between = found.parts.whole[2]
    effect = StudyEffect(study.name, between.value, between.standard_error, between.freedom)
    return _Said(study.name, results, found, effect, found.parts.whole[1])


def _told(said: Sequence[_Said], unused: Sequence[UnusedStudy], pair: tuple[str, str]) -> KnownAnswer:
    coverages = {one.results.study.coverage for one in said}
    coverage = coverages.pop() if len(coverages) == 1 else _USUAL_COVERAGE
    effects = [one.effect for one in said]
    pooled = pool_studies(effects, coverage)
    answer = KnownAnswer(
        format=FORMAT,
        of=pair[0],
        against=pair[1],
        sentence="",
        findings=(),
        coverage=coverage,
        studies=tuple(
            _study(one, weight, coverage) for one, weight in zip(said, pooled.weights, strict=True)
        ),
        unused=tuple(unused),
        together=_ratio(pooled.mean, coverage),
        log_mean=pooled.mean.value,
        standard_error=pooled.mean.standard_error,
        degrees_of_freedom=known(pooled.mean.freedom),
        p_value=pooled.mean.p_value(),
        guarded=pooled.guarded,
        between=None if pooled.between is None else _between(pooled.between),
        next_lot=None if pooled.next_study is None else _ratio(pooled.next_study, coverage),
        without=tuple(
            WithoutStudy(one.name, _ratio(one.pooled.mean, coverage), one.decides)
            for one in left_out(effects, coverage)
        ),
        in_ohm=_in_ohm(said, pooled, coverage),
        method=(),
        sources=(),
    )
    told = tuple(source(key) for key in known_sources(answer))
    return replace(
        answer,
        sentence=known_sentence(answer),
        findings=known_findings(answer),
        method=known_method(answer),
        sources=tuple(SourceAnswer(one.key, one.citation, one.standing) for one in told),
    )


def _study(one: _Said, weight: float, coverage: float) -> StudyKnown:
    effect, found = one.effect, one.found
    by_number = {c.condition: c.specimens for c in one.results.conditions}
    return StudyKnown(
        one.name,
        one.results.study.question,
        (by_number[found.of], by_number[found.against]),
        found.pairs,
        _ratio(Estimate(effect.value, effect.uncertainty**2, effect.freedom), coverage),
        effect.value,
        effect.uncertainty,
        known(effect.freedom),
        weight,
    )


def _ratio(log: Estimate, coverage: float) -> Interval:
    low, high = log.interval(coverage)
    return Interval(antilog(log.value), known(antilog(low)), known(antilog(high)))


def _between(found: Between) -> BetweenStudies:
    low, high = (end**0.5 for end in found.interval)
    return BetweenStudies(found.spread, low, known(high), found.square, found.p_value, found.share)


def _in_ohm(said: Sequence[_Said], pooled: Pooled, coverage: float) -> InOhm | None:
    """The same in ohm against the smallest margin of the studies; None where none has one."""
    margins = [one.results.margin for one in said if one.results.margin is not None]
    if not margins:
        return None
    margin = min(margins, key=lambda bound: bound.resistance)
    bases = [
        StudyEffect(one.name, one.base.value, max(one.base.standard_error, 1e-9), one.base.freedom)
        for one in said
    ]
    base = antilog(pool_studies(bases, coverage).mean.value)
    whole, verdict = _change(pooled.mean, base, margin, coverage, tost_coverage(coverage))
    if pooled.next_study is None:
        return InOhm(base, margin, whole, verdict, None, None)
    # A forecast is no test: what the whole interval says counts, the one that is shown.
    ahead, next_verdict = _change(pooled.next_study, base, margin, coverage, coverage)
    return InOhm(base, margin, whole, verdict, ahead, next_verdict)


def _change(
    log: Estimate, base: float, margin: Bound, coverage: float, judged: float
) -> tuple[Interval, str]:
    """A ratio as a change of a base, with its interval, and its verdict by the interval with the coverage `judged`."""
    ratio = _ratio(log, coverage)
    ends = [None if end is None else base * (end - 1) for end in (ratio.low, ratio.high)]
    low, high = (base * (antilog(end) - 1) for end in log.interval(judged))
    verdict = verdict_against_margin(low, high, margin.resistance)
    return Interval(base * ((ratio.value or 1.0) - 1), *ends), verdict
