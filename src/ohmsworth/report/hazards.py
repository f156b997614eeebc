"""What has to be said before all else: contacts that reach a threshold of a use that needs a licence."""

from __future__ import annotations

from ohmsworth.report.answer import Answer, ConditionAnswer
from ohmsworth.report.use_answers import ThresholdAnswer, UseAnswer
from ohmsworth.report.words import in_quotes, listed
from ohmsworth.units import show

#: What stands beside the headline then.
STOP = "stop first"


def hazard_sentences(answer: Answer) -> list[str]:
    """A sentence for each use with a proviso whose first threshold some contacts reach, or may reach."""
    return [sentence for use in answer.uses if use.proviso and (sentence := _hazard(use, answer))]


def _hazard(use: UseAnswer, answer: Answer) -> str:
    reached = [t for t in use.thresholds if t.resistance is not None]
    first = min(reached, key=lambda t: t.resistance or 0.0, default=None)
    if first is None:
        return ""
    past = [in_quotes(c.condition) for c in answer.conditions if _reaches(c, first)]
    if not past:
        return ""
    begins = show(first.resistance or 0.0, "Ω", 2)
    return f"In {use.name} {listed(past)} may be past {begins}, where {first.words}."


def _reaches(condition: ConditionAnswer, threshold: ThresholdAnswer) -> bool:
    """Whether the condition's contacts are past a threshold, or its interval reaches it."""
    highest = condition.resistance if condition.high is None else max(condition.high, condition.resistance)
    return highest >= (threshold.resistance or 0.0)
