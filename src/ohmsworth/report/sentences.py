"""The answer in words: one sentence that a customer understands, then the findings behind it."""

from __future__ import annotations

import math
from collections.abc import Sequence

from ohmsworth.inference.conformity import OPEN as CLOSE
from ohmsworth.inference.conformity import OVER, WITHIN
from ohmsworth.inference.equivalence import ENOUGH, OPEN, TOO_SMALL
from ohmsworth.report.answer import (
    STATED_MARGIN,
    Answer,
    Bound,
    ComparisonAnswer,
    ConditionAnswer,
    NeededAnswer,
    UseAnswer,
    WarningAnswer,
)
from ohmsworth.report.words import count, estimate, in_quotes, like, listed, p_value, times
from ohmsworth.units import show, show_percent, show_stated

#: Doubts that turn an answer around when the readings they are about stay in it.
_GRAVE = ("UNIT_SLIP", "SLIP_OR_FAULT", "SWAPPED", "TWO_WIRE")
_MOST_CONDITIONS = 4


def leading_sentence(answer: Answer) -> str:
    """The answer, in a few sentences."""
    parts = (
        ["Look at the warnings first: some readings in this answer are in doubt."] if in_doubt(answer) else []
    )
    main = main_comparison(answer)
    if main is not None:
        parts.append(f"{_difference(main, answer.coverage)} {_judged(main, answer)}")
    elif answer.reference is not None:
        parts.append(
            "The conditions cannot be compared: no reading was repeated, or the repeated ones are all equal."
        )
    known = [s for s in answer.specimens if s.probability_within is not None]
    if main is None and not known:
        parts += [_plain(condition) for condition in answer.conditions[:_MOST_CONDITIONS]]
    if answer.limit is not None:
        parts.append(_limited(answer) if known else _unjudged(answer.limit))
    if answer.margin is not None and answer.margin.source != STATED_MARGIN:
        worst = worst_condition(answer)
        if main is None:
            parts.append(f"What would matter is {_reach(answer.margin, worst)}.")
        elif main.verdict != ENOUGH and is_past(answer.margin, worst) is not False:
            parts.append(f"By themselves {_past_words(answer.margin, worst)}.")
    return " ".join(parts)


def in_doubt(answer: Answer) -> list[WarningAnswer]:
    """Grave doubts about readings that are still in the answer, though their owner has not said to keep them."""
    return [w for w in answer.warnings if w.code in _GRAVE and not w.set_aside and w.what_to_do != "Nothing."]


def main_comparison(answer: Answer) -> ComparisonAnswer | None:
    """The comparison that says most: the gravest verdict, and of those the largest difference."""
    gravity = (TOO_SMALL, OPEN, ENOUGH)
    return max(
        answer.comparisons,
        key=lambda c: (gravity.index(c.verdict), abs(c.difference.value or 0.0)),
        default=None,
    )


def worst_condition(answer: Answer) -> ConditionAnswer:
    """The condition with the highest resistance."""
    return max(answer.conditions, key=lambda c: c.resistance)


def best_condition(answer: Answer) -> ConditionAnswer:
    """The condition with the lowest resistance."""
    return min(answer.conditions, key=lambda c: c.resistance)


def cheapest(settle: Sequence[NeededAnswer]) -> NeededAnswer | None:
    """The design with the least work: to make ready a specimen counts as two matings."""
    return min(settle, key=lambda n: n.specimens_per_condition * (2 + n.matings_per_specimen), default=None)


def _unjudged(limit: Bound) -> str:
    size = show_stated(limit.resistance, "Ω")
    return (
        f"Whether they are within the limit of {size} cannot be said: nothing is known about the uncertainty."
    )


def _difference(found: ComparisonAnswer, coverage: float) -> str:
    value, low, high = found.difference.value or 0.0, found.difference.low, found.difference.high
    if low is not None and high is not None and low < 0 < high and found.p_value > 1 - coverage:
        reach = max(abs(low), abs(high))
        return (
            f"'{found.of}' and '{found.against}' contacts cannot be told apart: "
            f"the difference is less than {show(reach, 'Ω', 2)} either way."
        )
    word = "more" if value > 0 else "less"
    amount = like(abs(value), low or 0.0, high or 0.0) if low is not None else show(abs(value), "Ω")
    ratio = found.ratio
    if ratio.value is None or ratio.low is None:
        return f"'{found.of}' contacts have {amount} {word} than '{found.against}' ones."
    return (
        f"'{found.of}' contacts have {times(ratio.value, ratio.low, ratio.high)} the resistance of "
        f"'{found.against}' ones, {amount} {word}."
    )


def _judged(found: ComparisonAnswer, answer: Answer) -> str:
    if answer.margin is None:
        return "Whether that matters cannot be said: nobody has said what change would."
    margin = margin_words(answer.margin)
    if found.verdict == TOO_SMALL:
        return f"That is {TOO_SMALL}; what would matter is {margin}."
    if found.verdict == ENOUGH:
        return f"That is {ENOUGH}; what matters is {margin}."
    return f"Whether that matters the readings cannot tell yet; what would matter is {margin}{_more(found)}."


def margin_words(margin: Bound) -> str:
    """The margin with where it comes from: ``a change of 3.7 Ω (microphone: hum rejection falls to 60 dB)``."""
    stated = margin.source == STATED_MARGIN
    size = show_stated(margin.resistance, "Ω") if stated else show(margin.resistance, "Ω", 2)
    return f"a change of {size}" if stated else f"a change of {size} ({margin.source})"


def _more(found: ComparisonAnswer) -> str:
    needed = cheapest(found.settle)
    if needed is None:
        return ", and the difference lies too near it for measuring to decide"
    assert needed is not None
    matings = count(needed.matings_per_specimen, "mating")
    return f"; {count(needed.specimens_per_condition, 'specimen')} a condition with {matings} each would probably settle it"


def _limited(answer: Answer) -> str:
    """How many specimens are within the limit."""
    assert answer.limit is not None
    limit = f"the limit of {show_stated(answer.limit.resistance, 'Ω')}"
    verdicts: dict[str, list[str]] = {c.condition: [] for c in answer.conditions}
    for s in answer.specimens:
        verdicts[s.condition].append(s.verdict or "")
    everyone = [word for mine in verdicts.values() for word in mine]
    if len(verdicts) == 1:
        told = _tally(everyone, "contacts")
        if len(set(everyone)) == 1 and CLOSE not in everyone:
            return f"{told[0].upper()}{told[1:]} {limit}."
    elif len(verdicts) > _MOST_CONDITIONS:
        told = _tally(everyone, f"contacts in {len(verdicts)} conditions")
    else:
        told = "; ".join(_tally(mine, f"'{name}' contacts") for name, mine in verdicts.items() if mine)
    return f"Against {limit}: {told}."


def _tally(verdicts: list[str], who: str) -> str:
    total = len(verdicts)
    parts = [(word, verdicts.count(word)) for word in (WITHIN, OVER, CLOSE)]
    present = [(word, n) for word, n in parts if n]
    if len(present) == 1:
        word = present[0][0]
        if total == 1:
            return f"the one {who.removesuffix('s')} measured is {word}"
        return f"{'both' if total == 2 else f'all {total}'} {who} are {word}"
    return f"of {total} {who} " + ", ".join(f"{n} {'is' if n == 1 else 'are'} {word}" for word, n in present)


def _plain(condition: ConditionAnswer) -> str:
    return (
        f"The {condition.statistic} resistance of {_contacts(condition)} is "
        f"{estimate(condition.resistance, condition.low, condition.high)}."
    )


def findings(answer: Answer) -> tuple[str, ...]:
    """The findings, one sentence each, in the order of the path."""
    found = [condition_sentence(c, answer) for c in answer.conditions]
    found += [comparison_sentence(c, _noun(answer)) for c in answer.comparisons]
    found += [use_sentence(use, answer) for use in answer.uses]
    return tuple(found)


def condition_sentence(condition: ConditionAnswer, answer: Answer) -> str:
    """What was found of one condition."""
    who = "The contacts" if condition.condition == "all" else f"'{condition.condition}'"
    text = (
        f"{who}: {condition.statistic} {estimate(condition.resistance, condition.low, condition.high)} "
        f"from {count(condition.specimens, _noun(answer))}"
    )
    if answer.limit is not None and condition.probability_next_over is not None:
        text += (
            f"; the next mating of another such contact is over {show_stated(answer.limit.resistance, 'Ω')} "
            f"with a probability of {show_percent(condition.probability_next_over)}"
        )
    return text + "."


def _noun(answer: Answer) -> str:
    """What is counted: specimens, or pairs where plugs and sockets were re-paired with each other."""
    return "pair" if any(s.level in ("plug", "socket") for s in answer.scatter) else "specimen"


def comparison_sentence(found: ComparisonAnswer, noun: str = "specimen") -> str:
    """What was found of one comparison, with its test."""
    how = f"the same {count(found.pairs, noun)} under both" if found.paired else f"separate {noun}s"
    difference = found.difference
    text = f"'{found.of}' against '{found.against}' ({how}): difference " + estimate(
        difference.value or 0.0, difference.low, difference.high
    )
    if found.ratio.value is not None and found.ratio.low is not None:
        text += f", {times(found.ratio.value, found.ratio.low, found.ratio.high)}"
    text += f"; p = {p_value(found.p_value)}".replace("= <", "<")
    if found.exact_p_value is not None and found.smallest_exact_p_value is not None:
        text += (
            f", exact p = {p_value(found.exact_p_value)} "
            f"(the smallest this design could give is {p_value(found.smallest_exact_p_value)})"
        ).replace("= <", "<")
    return f"{text}. Verdict: {found.verdict}."


def use_sentence(use: UseAnswer, answer: Answer) -> str:
    """What the worst condition does in a circuit, and how far off the first threshold is."""
    reached = [t for t in use.thresholds if t.resistance is not None]
    if not reached:
        return f"{use.name}: no contact resistance below a megohm reaches a threshold."
    first = min(reached, key=lambda t: t.resistance or math.inf)
    assert first.resistance is not None
    bound = Bound(first.resistance, f"{first.words}; {first.position}")
    return f"{use.name}: what matters first begins at {_reach(bound, worst_condition(answer))}."


def is_past(threshold: Bound, condition: ConditionAnswer) -> bool | None:
    """Whether a condition's contacts are past a use's threshold; None when their interval reaches across it."""
    low, high = ((condition.resistance if end is None else end) for end in (condition.low, condition.high))
    return True if low >= threshold.resistance else False if high < threshold.resistance else None


def _past_words(threshold: Bound, condition: ConditionAnswer) -> str:
    sure = is_past(threshold, condition)
    return f"{_contacts(condition)} {'are' if sure else 'may be'} past {show(threshold.resistance, 'Ω', 2)} a contact"


def _contacts(condition: ConditionAnswer) -> str:
    return "these contacts" if condition.condition == "all" else f"'{condition.condition}' contacts"


def _reach(threshold: Bound, worst: ConditionAnswer) -> str:
    """A threshold of a use, and how far from it the contacts of a condition are."""
    at = f"{show(threshold.resistance, 'Ω', 2)} a contact ({threshold.source})"
    past, name = is_past(threshold, worst), _contacts(worst)
    if past is not False:
        return f"{at}; {name} {'are' if past else 'may be'} past that"
    if worst.resistance <= 0:
        return f"{at}, far above what {name} have"
    return f"{at}, {_about(threshold.resistance / worst.resistance)} times what {name} have"


def _about(factor: float) -> str:
    if factor > 1e6:
        return "more than a million"
    if factor < 10:
        return f"{factor:.1f}"
    digits = 1 - math.floor(math.log10(factor))
    return f"{round(factor, digits):,.0f}".replace(",", " ")


def heading_verdict(answer: Answer) -> str:
    """The verdict word for the head of the report: the comparison's, or the specimens' worst."""
    main = main_comparison(answer)
    if main is not None:
        return main.verdict
    verdicts = [s.verdict for s in answer.specimens]
    return next((word for word in (OVER, CLOSE, WITHIN) if word in verdicts), "")


def length_sentence(answer: Answer) -> str:
    """The measured contacts as lengths of wire."""
    if not answer.equivalent_length:
        return ""
    wire = answer.equivalent_length[0].conductor
    names = {c.condition for c in answer.conditions}
    parts = [
        f"{in_quotes(e.subject)} {show(e.length.value or 0.0, 'm', 2)}"
        for e in answer.equivalent_length
        if e.conductor == wire and e.subject in names
    ]
    return f"As lengths of {wire} wire: {listed(parts)}."
