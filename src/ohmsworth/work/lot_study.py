"""The use case of a lot: its plan before a sample is measured, its verdict after."""

from __future__ import annotations

from dataclasses import replace

from ohmsworth.advice.actions import Action
from ohmsworth.advice.bench import bench_moved
from ohmsworth.advice.lots import after_verdict, by_record, draw_sample, undecided
from ohmsworth.errors import ArgumentFault
from ohmsworth.inference.conformity import OPEN, OVER
from ohmsworth.inference.lots.verdicts import NOT_YET
from ohmsworth.readings.home import Home
from ohmsworth.readings.lot_request import LotRequest
from ohmsworth.readings.study import Study
from ohmsworth.report.answer import ActionAnswer, Bound, SourceAnswer, SpecimenAnswer
from ohmsworth.report.lot_answer import FORMAT, LotAnswer
from ohmsworth.report.lot_sentences import lot_findings, lot_method, lot_sentence, lot_sources
from ohmsworth.report.sentences import bench_in_doubt
from ohmsworth.sources import source
from ohmsworth.work.answer_study import compose
from ohmsworth.work.lot_plan import (
    LotPlan,
    make_plan,
    operating_curve,
    other_plans,
    published_beside,
    told_plan,
)
from ohmsworth.work.lot_sample import Judged, by_contact, judge_sample
from ohmsworth.work.ports import LoadedLot, LoadedStudy
from ohmsworth.work.results import find_results


def lot_study(loaded: LoadedLot) -> LotAnswer:
    """Plan or judge a lot.

    Raises
    ------
    InputRefused
        When no plan holds the risks, or the readings cannot be used as they are.
    ArgumentFault
        When the study has no lot or no limit.
    """
    request, study = loaded.study.lot, loaded.study
    if request is None or study.limit is None:
        raise ArgumentFault("study", study.question, "a study with a lot and a limit to judge it by")
    found = make_plan(request)
    answer = _planned(study, request, found)
    if loaded.sample is None:
        whole = request.size is not None and answer.plan is not None and answer.plan.sample >= request.size
        actions = by_record(found.inspection)
        if found.inspection != "discontinued":
            actions += draw_sample(found.plan.sample, whole, study.home)
        answer = replace(answer, actions=_told(actions))
    else:
        answer = _judged(answer, loaded.sample, request, found)
    return replace(
        answer,
        sentence=lot_sentence(answer),
        findings=lot_findings(answer, request.guard),
        method=lot_method(answer, request.guard),
    )


def _planned(study: Study, request: LotRequest, found: LotPlan) -> LotAnswer:
    """The answer as far as it needs no readings."""
    assert study.limit is not None
    return LotAnswer(
        format=FORMAT,
        question=study.question,
        sentence="",
        verdict=None,
        findings=(),
        scale=study.scale,
        coverage=study.coverage,
        limit=Bound(study.limit.resistance, study.limit.source),
        size=request.size,
        acceptable=request.shares[0],
        rejectable=request.shares[1],
        producer_risk=request.risks[0],
        consumer_risk=request.risks[1],
        inspection=found.inspection,
        lots_before=len(request.record),
        plan=told_plan(found.plan, request),
        others=other_plans(found, request),
        published=published_beside(found, request),
        curve=operating_curve(found, request),
        measured=None,
        piece_risks=(),
        guard_curve=(),
        specimens=(),
        warnings=(),
        actions=(),
        method=(),
        sources=tuple(_source(key) for key in lot_sources(request.method, bool(request.record))),
    )


def _judged(answer: LotAnswer, sample: LoadedStudy, request: LotRequest, found: LotPlan) -> LotAnswer:
    """The answer with the sample's verdict."""
    several = sample.table.contact is not None
    results = find_results(by_contact(sample))
    whole = compose(results)
    judged = judge_sample(results, request, found, several)
    moved = [bench_moved(home=sample.study.home)] if bench_in_doubt(whole.bench) else []
    return replace(
        answer,
        verdict=judged.verdict.verdict,
        measured=judged.measured,
        piece_risks=judged.risks,
        guard_curve=judged.guard_curve,
        specimens=_pieces(judged, whole.specimens),
        warnings=whole.warnings,
        actions=_told([*moved, *_next(judged, found, sample.study.home)]),
        bench=whole.bench,
    )


def _pieces(judged: Judged, specimens: tuple[SpecimenAnswer, ...]) -> tuple[SpecimenAnswer, ...]:
    """Each piece as its worst contact was measured, with the verdict under the lot's guard band."""
    return tuple(replace(specimens[p.entry], id=p.name, verdict=p.verdict) for p in judged.pieces)


def _next(judged: Judged, found: LotPlan, home: Home) -> list[Action]:
    over = [p.name for p in judged.pieces if p.verdict == OVER]
    close = [p.name for p in judged.pieces if p.verdict == OPEN]
    verdict = judged.verdict
    if verdict.verdict == NOT_YET:
        return [*undecided(verdict.why, verdict.more, close), *by_record(found.inspection)]
    return [*after_verdict(verdict.verdict, over, close, home), *by_record(found.inspection)]


def _told(actions: list[Action]) -> tuple[ActionAnswer, ...]:
    return tuple(ActionAnswer(a.words, a.why, a.cautions) for a in actions)


def _source(key: str) -> SourceAnswer:
    entry = source(key)
    return SourceAnswer(entry.key, entry.citation, entry.standing)
