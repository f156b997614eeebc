"""What to do next about an answer, in the order in which it should be done."""

from __future__ import annotations

from ohmsworth.advice import Action, Compared, check_rows, for_comparisons, for_specimens, settle_contacts
from ohmsworth.inference.conformity import OPEN, OVER
from ohmsworth.inference.equivalence import TOO_SMALL
from ohmsworth.report.answer import ActionAnswer, Answer, ComparisonAnswer


def next_steps(answer: Answer) -> tuple[ActionAnswer, ...]:
    """Actions: mend the readings first, then the contacts, then the conclusion."""
    slips = [w for w in answer.warnings if w.set_aside and w.code not in ("SET_ASIDE", "STILL_MOVING")]
    actions = [check_rows(w.rows, w.words) for w in slips]
    moving = list(dict.fromkeys(s.id for s in answer.specimens if s.state == "still moving"))
    if moving:
        powerful = any(w.code == "OVER_DRY_CURRENT" for w in answer.warnings)
        actions.append(settle_contacts(moving, powerful))
    harmless = bool(answer.comparisons) and all(c.verdict == TOO_SMALL for c in answer.comparisons)
    actions += for_specimens(_judged(answer, OVER), _judged(answer, OPEN), harmless)
    actions += for_comparisons([_compared(c) for c in answer.comparisons])
    return tuple(_told(action) for action in actions)


def _judged(answer: Answer, verdict: str) -> list[str]:
    several = len(answer.conditions) > 1
    return [f"{s.id} ({s.condition})" if several else s.id for s in answer.specimens if s.verdict == verdict]


def _compared(found: ComparisonAnswer) -> Compared:
    cheapest = min(
        found.settle, key=lambda n: n.specimens_per_condition * (2 + n.matings_per_specimen), default=None
    )
    low, high = found.difference.low or 0.0, found.difference.high or 0.0
    worse = found.of if low > 0 else found.against if high < 0 else ""
    return Compared(
        found.of,
        found.against,
        found.verdict,
        worse,
        found.margin is not None,
        (cheapest.specimens_per_condition, cheapest.matings_per_specimen) if cheapest else None,
    )


def _told(action: Action) -> ActionAnswer:
    return ActionAnswer(action.words, action.why, action.cautions)
