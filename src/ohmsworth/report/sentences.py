"""The answer in words: one sentence that a customer understands, then the findings behind it."""

from __future__ import annotations

import math

from ohmsworth.inference.conformity import OPEN as CLOSE
from ohmsworth.inference.conformity import OVER, WITHIN
from ohmsworth.inference.equivalence import ENOUGH, TOO_SMALL
from ohmsworth.report.answer import STATED_MARGIN, Answer, Bound, ComparisonAnswer, ConditionAnswer, UseAnswer
from ohmsworth.report.words import count, estimate, like, listed, p_value, times
from ohmsworth.units import show, show_percent, show_stated


def leading_sentence(answer: Answer) -> str:
    """The answer, in a sentence or two."""
    parts = []
    main = main_comparison(answer)
    if main is not None:
        parts.append(_compared(main, answer))
    if answer.limit is not None:
        parts.append(_limited(answer))
    if not parts:
        parts = [_plain(condition) for condition in answer.conditions[:3]]
    return " ".join(parts)


def main_comparison(answer: Answer) -> ComparisonAnswer | None:
    """The comparison that says most: the one with the largest difference."""
    return max(answer.comparisons, key=lambda c: abs(c.difference.value or 0.0), default=None)


def _compared(found: ComparisonAnswer, answer: Answer) -> str:
    return f"{_difference(found)} {_judged(found, answer)}"


def _difference(found: ComparisonAnswer) -> str:
    value, low, high = found.difference.value or 0.0, found.difference.low, found.difference.high
    if low is not None and high is not None and low < 0 < high and (found.p_value > 0.05):
        reach = max(abs(low), abs(high))
        return (
            f"'{found.of}' and '{found.against}' contacts cannot be told apart: "
            f"the difference is less than {show(reach, 'Ω', 2)} either way."
        )
    word = "more" if value > 0 else "less"
    amount = like(abs(value), low or 0.0, high or 0.0) if low is not None else show(abs(value), "Ω")
    ratio = found.ratio
    if ratio.value is None:
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
    if not found.settle:
        return ", and the difference lies too near it for measuring to decide"
    needed = found.settle[0]
    return f"; {count(needed.specimens_per_condition, 'specimen')} a condition would probably settle it"


def _limited(answer: Answer) -> str:
    """How many specimens are within the limit."""
    assert answer.limit is not None
    limit = f"the limit of {show_stated(answer.limit.resistance, 'Ω')}"
    several = len(answer.conditions) > 1
    sentences = []
    for condition in answer.conditions[:4]:
        mine = [s for s in answer.specimens if s.condition == condition.condition]
        who = f"'{condition.condition}' contacts" if several else "contacts"
        sentences.append(_tally([s.verdict or "" for s in mine], who))
    if not several:
        return f"{sentences[0][0].upper()}{sentences[0][1:]} {limit}."
    return f"Against {limit}: {'; '.join(s.removesuffix(' of') for s in sentences)}."


def _tally(verdicts: list[str], who: str) -> str:
    total = len(verdicts)
    parts = [(word, verdicts.count(word)) for word in (WITHIN, OVER, CLOSE)]
    present = [(word, n) for word, n in parts if n]
    if len(present) == 1:
        word = present[0][0]
        if total == 1:
            return f"the one {who.removesuffix('s')} measured is {word}"
        return f"all {total} {who} are {word}"
    return f"of {total} {who} " + ", ".join(f"{n} {'is' if n == 1 else 'are'} {word}" for word, n in present)


def _plain(condition: ConditionAnswer) -> str:
    who = "these contacts" if condition.condition == "all" else f"'{condition.condition}' contacts"
    return (
        f"The {condition.statistic} resistance of {who} is "
        f"{estimate(condition.resistance, condition.low, condition.high)}."
    )


def findings(answer: Answer) -> tuple[str, ...]:
    """The findings, one sentence each, in the order of the path."""
    found = [condition_sentence(c, answer) for c in answer.conditions]
    found += [comparison_sentence(c) for c in answer.comparisons]
    found += [use_sentence(use, answer) for use in answer.uses]
    return tuple(found)


def condition_sentence(condition: ConditionAnswer, answer: Answer) -> str:
    """What was found of one condition."""
    who = "The contacts" if condition.condition == "all" else f"'{condition.condition}'"
    text = (
        f"{who}: {condition.statistic} {estimate(condition.resistance, condition.low, condition.high)} "
        f"from {count(condition.specimens, 'specimen')}"
    )
    if answer.limit is not None and condition.probability_next_over is not None:
        text += (
            f"; the next mating of another such contact is over {show_stated(answer.limit.resistance, 'Ω')} "
            f"with a probability of {show_percent(condition.probability_next_over)}"
        )
    return text + "."


def comparison_sentence(found: ComparisonAnswer) -> str:
    """What was found of one comparison, with its test."""
    how = f"{count(found.pairs, 'specimen')} before and after" if found.paired else "separate specimens"
    difference = found.difference
    text = f"'{found.of}' against '{found.against}' ({how}): difference " + estimate(
        difference.value or 0.0, difference.low, difference.high
    )
    if found.ratio.value is not None:
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
    worst = max(answer.conditions, key=lambda c: c.resistance)
    if not reached:
        return f"{use.name}: no contact resistance below a megohm reaches a threshold."
    first = min(reached, key=lambda t: t.resistance or math.inf)
    assert first.resistance is not None
    name = "the contacts" if worst.condition == "all" else f"'{worst.condition}' contacts"
    factor = first.resistance / worst.resistance if worst.resistance > 0 else math.inf
    text = (
        f"{use.name}: first, {first.words} ({first.position}) at {show(first.resistance, 'Ω', 2)} a contact"
    )
    if factor >= 1:
        return f"{text}, {_about(factor)} times what {name} have."
    return f"{text}; {name} are past that."


def _about(factor: float) -> str:
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
        f"{'the contacts' if e.subject == 'all' else repr(e.subject)} {show(e.length.value or 0.0, 'm', 2)}"
        for e in answer.equivalent_length
        if e.conductor == wire and e.subject in names
    ]
    return f"As lengths of {wire} wire: {listed(parts)}."
