"""The measured sample of a lot: each piece's verdict, the lot's, and what the guard band does to single pieces."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from ohmsworth.inference.conformity import OPEN, OVER, WITHIN, guard_factor
from ohmsworth.inference.lots import share_bounds, share_estimate, share_upper_bound
from ohmsworth.inference.lots.variables import VariablesPlan
from ohmsworth.inference.lots.verdicts import (
    REJECT,
    Counted,
    LotVerdict,
    Values,
    judge_counts,
    judge_values,
    undecided_by_movement,
)
from ohmsworth.inference.measured import meter_parts
from ohmsworth.inference.risk import POLICIES, Population, global_risks, guard_for_risk
from ohmsworth.readings.lot_request import BY_CONFIDENCE, LotRequest
from ohmsworth.readings.table import Array, Labels
from ohmsworth.report.lot_answer import GuardPoint, LotMeasuredAnswer, PieceRiskAnswer
from ohmsworth.work.lot_plan import LotPlan
from ohmsworth.work.ports import LoadedStudy
from ohmsworth.work.results import Results

#: Between a connector's name and its contact's, while each contact is judged by itself.
JOINED = " · "


@dataclass(frozen=True, slots=True, eq=False)
class Piece:
    """One piece of the sample by its worst contact: value and uncertainty on the scale of analysis; which entry it is."""

    name: str
    value: float
    uncertainty: float
    verdict: str
    entry: int


@dataclass(frozen=True, slots=True, eq=False)
class Judged:
    """The lot's verdict and what it rests on."""

    pieces: tuple[Piece, ...]
    verdict: LotVerdict
    measured: LotMeasuredAnswer
    risks: tuple[PieceRiskAnswer, ...]
    guard_curve: tuple[GuardPoint, ...]


def by_contact(loaded: LoadedStudy) -> LoadedStudy:
    """The study with each contact of a connector as a specimen of its own: one bad contact makes a bad connector."""
    table = loaded.table
    if table.contact is None:
        return loaded
    names = zip(table.specimen.codes.tolist(), table.contact.codes.tolist(), strict=True)
    texts = [f"{table.specimen.names[s]}{JOINED}{table.contact.names[c]}" for s, c in names]
    return replace(loaded, table=replace(table, specimen=Labels.of(texts), contact=None))


def judge_sample(results: Results, request: LotRequest, found: LotPlan, several: bool) -> Judged:
    """Judge the lot by its measured sample.

    Parameters
    ----------
    results
        Of the study (with each contact apart).
    request, found
        What is asked, and the plan.
    several
        Whether pieces have several contacts.
    """
    assert results.study.limit is not None
    limit = _scaled(results, results.study.limit.resistance)
    code = _condition(results, request)
    worst = _worst(results, code, several)
    values = np.array([p.value for p in worst])
    noise = np.array([p.uncertainty for p in worst])
    population = _population(values, noise)
    factor = _guard(results, request, population, limit)
    moving = any(one.condition == code for one in results.unsettled)
    # What does not settle is judged by its lowest readings, under whatever guard band.
    pieces = worst if moving else [replace(p, verdict=_verdict(p, request, factor, limit)) for p in worst]
    counted = Counted(*(sum(p.verdict == word for p in pieces) for word in (WITHIN, OVER, OPEN)))
    shared = _shared(results, code)
    sample = _values(values, noise, shared, factor)
    if isinstance(found.plan, VariablesPlan):
        verdict = judge_values(sample, found.plan, limit, found.shares, request.risks)
        verdict = undecided_by_movement(verdict) if moving else verdict
        measured = _by_values(results, counted, verdict, sample, limit)
    else:
        verdict = judge_counts(counted, found.plan, found.shares, request.risks, request.size)
        verdict = undecided_by_movement(verdict) if moving and verdict.verdict != REJECT else verdict
        measured = _by_counts(results, counted, verdict)
    risks = _piece_risks(results, request, population, limit, factor)
    return Judged(tuple(pieces), verdict, measured, risks, _guard_curve(population, limit, factor))


def _scaled(results: Results, ohm: float) -> float:
    return float(np.log(ohm)) if results.study.scale == "log" else ohm


def _condition(results: Results, request: LotRequest) -> int:
    return 0 if request.condition is None else results.table.condition.names.index(request.condition)


def _worst(results: Results, code: int, several: bool) -> list[Piece]:
    """Each piece by its contact of the highest resistance."""
    found, names = results.specimens, results.table.specimen.names
    logarithmic = results.study.scale == "log"
    worst: dict[str, Piece] = {}
    for i in np.flatnonzero(found.condition == code).tolist():
        whole = names[found.specimen[i]]
        name = whole.rpartition(JOINED)[0] if several else whole
        ohm, u = float(found.value[i]), float(found.uncertainty[i])
        value, spread = (float(np.log(ohm)), u / ohm) if logarithmic else (ohm, u)
        piece = Piece(name, value, spread, found.verdicts[i], i)
        if name not in worst or piece.value > worst[name].value:
            worst[name] = piece
    return list(worst.values())


def _population(values: Array, noise: Array) -> Population | None:
    """Pieces like these: their true values, freed of the measurement's scatter; None where nothing is known of either."""
    if len(values) < 3 or not np.isfinite(noise).all() or values.std(ddof=1) == 0:
        return None
    u2, s2 = float((noise**2).mean()), float(values.var(ddof=1))
    return Population(float(values.mean()), float(np.sqrt(max(s2 - u2, 0.01 * s2))), float(np.sqrt(u2)))


def _guard(results: Results, request: LotRequest, population: Population | None, limit: float) -> float:
    """Guard band in standard uncertainties; a wanted risk for which too little is known falls back on the confidence."""
    policy = request.guard
    if isinstance(policy, str) and policy != BY_CONFIDENCE:
        return POLICIES[policy]
    if isinstance(policy, float) and population is not None and population.uncertainty > 0:
        return max(guard_for_risk(population, limit, policy) / population.uncertainty, 0.0)
    return guard_factor(results.study.coverage)


def _verdict(piece: Piece, request: LotRequest, factor: float, limit: float) -> str:
    """The piece's verdict under the guard band; the study's own where that is by confidence (Student's t)."""
    if request.guard == BY_CONFIDENCE:
        return piece.verdict
    if factor == 0:
        return WITHIN if piece.value <= limit else OVER
    if not np.isfinite(piece.uncertainty):
        return OPEN
    width = factor * piece.uncertainty
    return WITHIN if piece.value <= limit - width else OVER if piece.value > limit + width else OPEN


def _shared(results: Results, code: int) -> float:
    """Standard uncertainty from the meters that all pieces share, on the scale of analysis."""
    parts = meter_parts(results.measured, np.flatnonzero(results.measured.design.condition == code))
    return float(np.sqrt(sum(part.uncertainty**2 for part in parts)))


def _values(values: Array, noise: Array, shared: float, factor: float) -> Values:
    """The sample for a plan that measures; a single piece has no standard deviation."""
    deviation = float(values.std(ddof=1)) if len(values) > 1 else 0.0
    own = (
        float(np.sqrt(max(float(np.nanmean(noise**2)) - shared**2, 0.0))) if np.isfinite(noise).any() else 0.0
    )
    return Values(float(values.mean()), deviation, len(values), factor * shared, min(own, deviation))


def _by_counts(results: Results, counted: Counted, verdict: LotVerdict) -> LotMeasuredAnswer:
    n, confidence = counted.measured, results.study.coverage
    low = share_bounds(counted.over, n, confidence)[0]
    high = share_bounds(counted.over + counted.close, n, confidence)[1]
    held = (counted.within, counted.over, counted.close, verdict.more, verdict.number)
    return LotMeasuredAnswer(n, *held, None, None, None, counted.over / n, low, high, confidence)


def _by_values(
    results: Results, counted: Counted, verdict: LotVerdict, sample: Values, limit: float
) -> LotMeasuredAnswer:
    """With the mean moved by the guard band, so that the bound of the share holds what the meters may hide."""
    n, confidence = sample.sample, results.study.coverage
    held = (counted.within, counted.over, counted.close, verdict.more, verdict.number)
    distance, (least, most) = sample.distance(limit), sample.ends(limit)
    if sample.deviation == 0:
        share = float(sample.mean > limit)
        return LotMeasuredAnswer(n, *held, None, None, None, share, None, 1.0, confidence)
    high = share_upper_bound(least, n, confidence)
    known = most if np.isfinite(most) else None
    return LotMeasuredAnswer(
        n, *held, distance, least, known, share_estimate(distance, n), None, high, confidence
    )


def _piece_risks(
    results: Results, request: LotRequest, population: Population | None, limit: float, factor: float
) -> tuple[PieceRiskAnswer, ...]:
    """What each guard band would do to single pieces like these; nothing where their scatter or uncertainty is not known."""
    if population is None or population.uncertainty == 0:
        return ()
    policies = dict(POLICIES)
    chosen = next((name for name, value in policies.items() if np.isclose(value, factor, atol=5e-4)), None)
    if chosen is None:
        chosen = f"{100 * request.guard:g} % risk" if isinstance(request.guard, float) else f"{factor:.3f} u"
        policies[chosen] = factor
    told = []
    for name, value in sorted(policies.items(), key=lambda item: item[1]):
        width = value * population.uncertainty
        risks = global_risks(population, -np.inf, limit, width)
        end = float(np.exp(limit - width)) if results.study.scale == "log" else limit - width
        told.append(PieceRiskAnswer(name, value, end, risks.consumer, risks.producer, name == chosen))
    return tuple(told)


def _guard_curve(population: Population | None, limit: float, factor: float) -> tuple[GuardPoint, ...]:
    """Both risks over the width of the guard band."""
    if population is None or population.uncertainty == 0:
        return ()
    points = []
    for guard in np.linspace(0.0, max(3.0, 1.2 * factor), 25).tolist():
        risks = global_risks(population, -np.inf, limit, guard * population.uncertainty)
        points.append(GuardPoint(guard, risks.consumer, risks.producer))
    return tuple(points)
