"""What to do next about an answer, in the order in which it should be done."""

from __future__ import annotations

from collections.abc import Callable

from ohmsworth.advice import (
    Action,
    Compared,
    check_rows,
    for_comparisons,
    for_nothing,
    for_specimens,
    for_uncompared,
    for_uses,
    settle_contacts,
)
from ohmsworth.inference.conformity import OPEN, OVER
from ohmsworth.inference.equivalence import ENOUGH, TOO_SMALL
from ohmsworth.report.answer import STATED_MARGIN, ActionAnswer, Answer, ComparisonAnswer, SpecimenAnswer
from ohmsworth.report.sentences import best_condition, cheapest, in_doubt, is_past, worst_condition
from ohmsworth.report.words import listed, natural

#: Left out for a reason that needs no look at the bench sheet.
_EXPLAINED = ("SET_ASIDE", "STILL_MOVING", "CHECK_STANDARD")


def next_steps(answer: Answer) -> tuple[ActionAnswer, ...]:
    """Actions: mend the readings first, then the contacts, then the conclusion."""
    actions = [check_rows(w.rows, w.words, True) for w in in_doubt(answer)]
    actions += [
        check_rows(w.rows, w.words, False)
        for w in answer.warnings
        if w.set_aside and w.code not in _EXPLAINED
    ]
    moving = sorted({s.id for s in answer.specimens if s.state == "still moving"}, key=natural)
    if moving:
        powerful = any(w.code == "OVER_DRY_CURRENT" for w in answer.warnings)
        actions.append(settle_contacts(moving, powerful))
    actions += for_specimens(
        _which(answer, lambda s: s.verdict == OVER),
        _which(answer, lambda s: s.verdict == OPEN and s.probability_within is not None),
        _which(answer, lambda s: s.verdict == OPEN and s.probability_within is None),
        _harmless(answer),
    )
    actions += _conclusions(answer)
    return tuple(_told(action) for action in actions or [for_nothing(answer.limit is not None)])


def _conclusions(answer: Answer) -> list[Action]:
    """What the comparisons ask for, and the uses."""
    margin = answer.margin
    if margin is None or margin.source == STATED_MARGIN:
        actions = for_comparisons(
            [_compared(c) for c in answer.comparisons], "as far as the stated margin goes"
        )
        return [for_uncompared(), *actions] if _uncompared(answer) else actions
    # What is past a use's threshold is not well because the others are no better.
    to_mend = any(c.verdict == ENOUGH for c in answer.comparisons)
    past = is_past(margin, (best_condition if to_mend else worst_condition)(answer))
    judged = [c for c in answer.comparisons if past is False or c.verdict != TOO_SMALL]
    actions = for_comparisons([_compared(c) for c in judged], "as far as the uses named go")
    if _uncompared(answer):
        actions.append(for_uncompared())
    if past is not False or not answer.comparisons:
        actions.append(for_uses(past))
    return actions


def _uncompared(answer: Answer) -> bool:
    return answer.reference is not None and not answer.comparisons


def _harmless(answer: Answer) -> str:
    """By what being over the limit makes no difference that matters; "" when it may make one."""
    margin, limit = answer.margin, answer.limit
    if margin is None or limit is None or any(c.verdict == ENOUGH for c in answer.comparisons):
        return ""
    stated = margin.source == STATED_MARGIN
    # A use says which resistance matters; a stated margin, which change does.
    most = margin.resistance + (limit.resistance if stated else 0.0)
    if any(s.high is None or s.high >= most for s in answer.specimens if s.verdict == OVER):
        return ""
    return "by the stated margin" if stated else "in the uses named"


def _which(answer: Answer, chosen: Callable[[SpecimenAnswer], bool]) -> str:
    """The chosen specimens in words, condition by condition."""
    parts = []
    for condition in answer.conditions:
        who = f"'{condition.condition}' contacts" if len(answer.conditions) > 1 else "contacts"
        mine = [s for s in answer.specimens if s.condition == condition.condition]
        names = sorted((s.id for s in mine if chosen(s)), key=natural)
        if len(names) == len(mine) > 2:
            parts.append(f"all {len(mine)} {who}")
        elif names:
            parts.append(listed(names) + (f" ({condition.condition})" if len(answer.conditions) > 1 else ""))
    return "; ".join(parts)


def _compared(found: ComparisonAnswer) -> Compared:
    needed = cheapest(found.settle)
    value, low, high = (
        v or 0.0 for v in (found.difference.value, found.difference.low, found.difference.high)
    )
    apart = low > 0 or high < 0 or found.verdict == ENOUGH
    return Compared(
        found.of,
        found.against,
        found.verdict,
        (found.of if value > 0 else found.against) if apart else "",
        found.margin is not None,
        (needed.specimens_per_condition, needed.matings_per_specimen) if needed else None,
    )


def _told(action: Action) -> ActionAnswer:
    return ActionAnswer(action.words, action.why, action.cautions)
