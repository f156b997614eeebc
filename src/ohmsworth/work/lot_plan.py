"""The plan of a lot: what was asked for turned into numbers to draw and accept by, beside the published table's."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ohmsworth.errors import ArgumentFault, Fault, InputRefused
from ohmsworth.inference.lots import (
    QUALITY_LIMITS,
    DoublePlan,
    Inspection,
    SinglePlan,
    VariablesPlan,
    accept_double,
    accept_single,
    accept_variables,
    average_sample,
    design_double,
    design_single,
    design_variables,
    inspection_after,
    published_plan,
    stepped,
)
from ohmsworth.readings.lot_request import LotRequest
from ohmsworth.readings.table import Array
from ohmsworth.report.lot_answer import CurvePoint, LotPlanAnswer, PublishedPlanAnswer

Plan = SinglePlan | DoublePlan | VariablesPlan
_POINTS = 121


@dataclass(frozen=True, slots=True)
class LotPlan:
    """The plan in force, the shares it was designed for, and the state of inspection."""

    inspection: Inspection
    shares: tuple[float, float]
    plan: Plan


def make_plan(request: LotRequest) -> LotPlan:
    """Design the plan for the next lot.

    Raises
    ------
    InputRefused
        When the shares lie too close together for any plan.
    """
    inspection = inspection_after(request.record)
    shares = stepped(request.shares, inspection)
    try:
        return LotPlan(inspection, shares, _design(request.method, request.double, shares, request))
    except ArgumentFault as error:
        found = f"{100 * shares[0]:.3g} % and {100 * shares[1]:.3g} % ({inspection} inspection)"
        mend = (
            'Draw them apart, allow larger risks, or count instead of measuring (method = "attributes"): '
            "a small lot can always be counted whole."
        )
        raise InputRefused((Fault("study.toml, [lot]", found, _wanted(error), mend),)) from error


def _wanted(error: ArgumentFault) -> str:
    return "shares " + str(error).partition("wanted ")[2]


def _design(method: str, double: bool, shares: tuple[float, float], request: LotRequest) -> Plan:
    if method == "variables":
        return design_variables(shares, request.risks, request.size)
    if double:
        return design_double(shares, request.risks, request.size)
    return design_single(shares, request.risks, request.size)


def accept_chance(plan: Plan, share: Array, size: int | None) -> Array:
    """Chance that a lot is accepted, whatever the kind of plan."""
    if isinstance(plan, VariablesPlan):
        return accept_variables(plan, share)
    if isinstance(plan, DoublePlan):
        return accept_double(plan, share, size)
    return accept_single(plan, share, size)


def told_plan(plan: Plan, request: LotRequest) -> LotPlanAnswer:
    """The plan as a record, with what it does at the shares that were asked for."""
    size = request.size
    good, bad = (float(v) for v in accept_chance(plan, np.array(_whole(request.shares, size)), size))
    drawn = float(plan.sample)
    if isinstance(plan, VariablesPlan):
        return LotPlanAnswer("variables", plan.sample, None, plan.k, None, None, None, drawn, good, bad)
    if isinstance(plan, DoublePlan) and plan.second > 0:
        drawn = float(average_sample(plan, _whole(request.shares, size)[0], size))
        return LotPlanAnswer(
            "double",
            plan.sample,
            plan.accepted,
            None,
            plan.rejected,
            plan.second,
            plan.accepted_both,
            drawn,
            good,
            bad,
        )
    return LotPlanAnswer(
        "single", plan.sample, plan.accepted, None, plan.accepted + 1, None, None, drawn, good, bad
    )


def _whole(shares: tuple[float, float], size: int | None) -> tuple[float, float]:
    """Shares as whole pieces of the lot: the acceptable one rounded down, the rejectable one up."""
    if size is None:
        return shares
    return float(np.floor(shares[0] * size + 1e-9) / size), float(np.ceil(shares[1] * size - 1e-9) / size)


def other_plans(found: LotPlan, request: LotRequest) -> tuple[LotPlanAnswer, ...]:
    """What the other kinds of plan would draw for the same risks."""
    others: list[LotPlanAnswer] = []
    mine = told_plan(found.plan, request)
    for method, double in (("attributes", False), ("attributes", True), ("variables", False)):
        try:
            told = told_plan(_design(method, double, found.shares, request), request)
        except ArgumentFault:
            continue
        if told.kind not in (mine.kind, *(other.kind for other in others)):
            others.append(told)
    return tuple(others)


def published_beside(found: LotPlan, request: LotRequest) -> PublishedPlanAnswer | None:
    """The published table's plan for a lot of this size; None without a size, or for shares below the table's."""
    plan = _published(found, request)
    if plan is None:
        return None
    limit, (single, rejected) = plan
    good, bad = (float(v) for v in _published_chance(single, request, np.array(request.shares)))
    return PublishedPlanAnswer(limit, single.sample, single.accepted, rejected, good, bad)


def _published(found: LotPlan, request: LotRequest) -> tuple[float, tuple[SinglePlan, int]] | None:
    limits = [limit for limit in QUALITY_LIMITS if limit <= request.shares[0] * (1 + 1e-9)]
    if request.size is None or not limits or found.inspection == "discontinued":
        return None
    return limits[-1], published_plan(request.size, limits[-1], found.inspection)


def _published_chance(plan: SinglePlan, request: LotRequest, share: Array) -> Array:
    """A sample larger than the lot is the whole lot."""
    size = request.size
    assert size is not None
    return accept_single(SinglePlan(min(plan.sample, size), plan.accepted), share, size)


def operating_curve(found: LotPlan, request: LotRequest) -> tuple[CurvePoint, ...]:
    """The chance to be accepted over the share that is over the limit."""
    last = min(max(2.5 * request.shares[1], 4 * request.shares[0]), 1.0)
    share = np.linspace(0.0, last, _POINTS)
    if request.size is not None:  # whole pieces only
        share = np.unique(np.rint(share * request.size) / request.size)
    chance = accept_chance(found.plan, share, request.size)
    published = _published(found, request)
    beside: list[float | None] = [None] * len(share)
    if published is not None:
        beside = [float(v) for v in _published_chance(published[1][0], request, share)]
    return tuple(CurvePoint(float(p), float(a), b) for p, a, b in zip(share, chance, beside, strict=True))
