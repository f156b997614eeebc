"""How far things reach: a difference against what would matter, and the next contacts against the limit."""

from __future__ import annotations

from ohmsworth.report.answer import Answer, ComparisonAnswer
from ohmsworth.report.document import ConditionMark, EvidenceFigure
from ohmsworth.report.figures import side_by_side
from ohmsworth.report.words import listed, typical
from ohmsworth.units import show, show_percent

#: A bound so many times the value says only that there were too few specimens to have one.
BOUNDLESS = 300.0
_BAND = "too small to matter"


def margin_figure(answer: Answer) -> EvidenceFigure | None:
    """Each difference with its interval beside the band of what is too small to matter; None without a margin."""
    known = [c for c in answer.comparisons if c.margin is not None and c.difference.low is not None]
    if answer.margin is None or not known:
        return None
    reach = answer.margin.resistance
    marks = [ConditionMark(_BAND, 0.0, -reach, reach), *map(_mark, known)]
    told = listed([f"'{c.of}' against '{c.against}' is {c.verdict}" for c in known])
    where = "inside the band of what is too small to matter, wholly beyond it, or neither: cannot tell yet"
    return EvidenceFigure(
        "margin",
        f"Differences against the margin of {show(reach, 'Ω', 2)} either way: {told}.",
        f"Equivalence: {told}. A difference is {where}.",
        False,
        (),
        tuple(marks),
        mark_words="difference with interval",
    )


def _mark(found: ComparisonAnswer) -> ConditionMark:
    low, high = found.difference.low, found.difference.high
    assert low is not None
    assert high is not None
    return ConditionMark(f"{found.of} − {found.against}", found.difference.value or 0.0, low, high)


def next_figure(answer: Answer) -> EvidenceFigure | None:
    """From each condition's middle up to its tolerance bound, against the limit; None where no bound is known."""
    known = [
        (c.condition, c.resistance, c.tolerance_bound)
        for c in side_by_side(answer)
        if c.tolerance_bound is not None and c.tolerance_bound < BOUNDLESS * abs(c.resistance)
    ]
    if not known:
        return None
    content = show_percent(answer.conditions[0].tolerance_content)
    told = listed([f"{name} {show(bound, 'Ω', 2)}" for name, _, bound in known])
    return EvidenceFigure(
        "next-contacts",
        f"Where the next contacts of each kind lie: with {show_percent(answer.coverage)} confidence {content} of next matings "
        f"lie below: {told}.",
        f"The next contacts of each kind: with {show_percent(answer.coverage)} confidence, {content} of next matings of next "
        f"specimens lie below the upper end of the bar (tolerance bound): {told}.",
        answer.scale == "log" and all(middle > 0 for _, middle, _ in known),
        (),
        tuple(ConditionMark(name, middle, middle, bound) for name, middle, bound in known),
        (),
        answer.limit.resistance if answer.limit else None,
        f"{typical(answer.conditions[0].statistic)}, up to where next ones stay below",
    )
