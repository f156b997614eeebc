"""What a study's plan asks, brought onto the scale of analysis; or every reason why it cannot be."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.inference.planning import DETECT, EQUIVALENCE, LIMIT, Goal
from ohmsworth.readings.plan_request import PlanRequest
from ohmsworth.readings.study import Study
from ohmsworth.report.answer import Bound
from ohmsworth.work.past_scatter import Past
from ohmsworth.work.results import study_margin
from ohmsworth.work.uses import made_uses

PLAN = "study.toml, [plan]"


@dataclass(frozen=True, slots=True)
class PlannedGoal:
    """The goal on the scale of analysis, and what it was made of.

    Parameters
    ----------
    goal
        On the scale of analysis: logarithms, or fractions of `expected` on the linear scale.
    effect
        Planned difference as a fraction of the reference's resistance.
    expected, expected_source
        Ohm, and who says so; None where it was not needed.
    margin
        Smallest change that matters; None where it was not needed.
    conditions
        Names.
    """

    goal: Goal
    effect: float
    expected: float | None
    expected_source: str | None
    margin: Bound | None
    conditions: tuple[str, ...]


def planned_goal(study: Study, request: PlanRequest, pasts: Sequence[Past]) -> PlannedGoal:
    """Bring the request onto the scale of analysis.

    Raises
    ------
    InputRefused
        With everything that is missing or contradicts itself.
    """
    expected, source = _expected(study, request, pasts)
    margin = study_margin(study, made_uses(study.uses))
    faults = _faults(study, request, expected, margin)
    if faults:
        raise InputRefused(tuple(faults))
    effect = _effect(request, expected)
    used = margin if request.goal == EQUIVALENCE else None
    goal = Goal(
        request.goal,
        difference=float(np.log1p(effect)) if study.scale == "log" else effect,
        margins=_margins(study, used, expected),
        room=_room(study, request, expected),
        content=request.content,
        confidence=study.coverage,
        paired=request.paired,
        pooled=study.scatter == "equal",
    )
    return PlannedGoal(goal, effect, expected, source, used, request.conditions or ("all",))


def _expected(study: Study, request: PlanRequest, pasts: Sequence[Past]) -> tuple[float | None, str | None]:
    """Stated, else that of the reference (or of the only condition) in the first past study that has it."""
    if request.expected is not None:
        return request.expected, "stated in study.toml"
    wanted = study.reference or (request.conditions[0] if len(request.conditions) == 1 else None)
    for past in pasts:
        if wanted in past.resistance or len(past.resistance) == 1:
            value = past.resistance.get(wanted or "", next(iter(past.resistance.values())))
            return value, f"found in '{past.name}'"
    return None, None


def _effect(request: PlanRequest, expected: float | None) -> float:
    if request.effect_resistance is not None and expected is not None:
        return request.effect_resistance / expected
    return request.effect or 0.0


def _margins(study: Study, margin: Bound | None, expected: float | None) -> tuple[float, float]:
    if margin is None or expected is None:
        return -np.inf, np.inf
    share = margin.resistance / expected
    if study.scale == "linear":
        return -share, share
    return (float(np.log1p(-share)) if share < 1 else -np.inf), float(np.log1p(share))


def _room(study: Study, request: PlanRequest, expected: float | None) -> float:
    if request.goal != LIMIT or study.limit is None or expected is None:
        return np.inf
    share = study.limit.resistance / expected
    return float(np.log(share)) if study.scale == "log" else share - 1


def _faults(study: Study, request: PlanRequest, expected: float | None, margin: Bound | None) -> list[Fault]:
    faults = _condition_faults(study, request)
    if request.goal == LIMIT and study.limit is None:
        mend = 'Add [limit] with resistance = "3 mΩ" and its source.'
        faults.append(
            Fault("study.toml, key 'limit'", "no limit", "the limit that the lot is to be shown within", mend)
        )
    if request.goal == EQUIVALENCE and margin is None:
        mend = 'Add margin = "10 mΩ" above the first table, or a [[use]].'
        faults.append(Fault("study.toml, key 'margin'", "no margin, and no use", "what would matter", mend))
    if request.goal == DETECT and not (request.effect or request.effect_resistance):
        mend = 'Add effect = "20 %", the smallest difference that you want to see.'
        faults.append(Fault(f"{PLAN}, key 'effect'", "no effect", "a difference that is not zero", mend))
    needs = request.goal != DETECT or request.effect_resistance is not None
    if needs and expected is None:
        mend = 'Add expected = "2.5 mΩ", or name a past study with --from.'
        faults.append(Fault(f"{PLAN}, key 'expected'", "no such key", "the resistance that you expect", mend))
    if expected is not None and _effect(request, expected) <= -1:
        mend = "A resistance cannot fall by all of itself."
        faults.append(Fault(f"{PLAN}, key 'effect'", "a fall to zero or below", "less than 'expected'", mend))
    if request.goal == LIMIT and study.limit and expected and expected >= study.limit.resistance:
        mend = "No number of readings shows a lot within a limit that its middle is over."
        faults.append(Fault(f"{PLAN}, key 'expected'", "no less than the limit", "less than the limit", mend))
    return faults


def _condition_faults(study: Study, request: PlanRequest) -> list[Fault]:
    names = request.conditions
    where = f"{PLAN}, key 'conditions'"
    if request.goal == LIMIT:
        if len(names) > 1 or request.paired:
            found = f"{len(names)} conditions" if len(names) > 1 else f'assignment "{request.assignment}"'
            mend = "A lot is shown within its limit one condition at a time."
            return [
                Fault(where if len(names) > 1 else f"{PLAN}, key 'assignment'", found, "one condition", mend)
            ]
        return []
    if len(names) < 2:
        found = f"{len(names)} condition{'s' if len(names) != 1 else ''}"
        return [Fault(where, found, "two conditions or more", 'Add conditions = ["new", "tarnished"].')]
    if study.reference not in names:
        found = (
            f"no reference among {', '.join(names[:6])}"
            if study.reference is None
            else f"'{study.reference}'"
        )
        mend = f'Add reference = "{names[0][:40]}" above the first table, or whichever the others are compared against.'
        return [Fault("study.toml, key 'reference'", found, "one of the plan's conditions", mend)]
    return []
