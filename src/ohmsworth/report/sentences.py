"""The answer in words: one sentence that a customer understands, then the findings behind it."""

from __future__ import annotations

import math
from collections.abc import Sequence

from ohmsworth.inference.conformity import WITHIN
from ohmsworth.inference.control import FIT
from ohmsworth.inference.equivalence import ENOUGH, OPEN, TOO_SMALL
from ohmsworth.readings.unsettled import movement_words
from ohmsworth.report.against_limit import UNKNOWN, limit_sentence, verdict_word
from ohmsworth.report.answer import (
    MOVING,
    STATED_MARGIN,
    Answer,
    BenchAnswer,
    Bound,
    ComparisonAnswer,
    ConditionAnswer,
    NeededAnswer,
)
from ohmsworth.report.factors import averaged_comparisons, averaged_over, factor_sentences, one_contact
from ohmsworth.report.frequencies_lead import lead_words, otherwise_sentences
from ohmsworth.report.hazards import hazard_sentences
from ohmsworth.report.history import history_sentences
from ohmsworth.report.parts import part_sentences
from ohmsworth.report.sensitivity import sensitivity_sentences
from ohmsworth.report.states import (
    answered_at,
    beyond_signal,
    does_not_settle,
    helped,
    in_doubt,
    mostly_in_doubt,
    moving_conditions,
    worst_condition,
)
from ohmsworth.report.takes_measured import wet_sentences
from ohmsworth.report.use_answers import UseAnswer
from ohmsworth.report.use_words import provisos, unmet, unmet_words
from ohmsworth.report.words import (
    by_chance,
    count,
    estimate,
    in_quotes,
    like,
    listed,
    times,
    typical,
)
from ohmsworth.units import show, show_percent, show_stated

_MOST_CONDITIONS = 4
#: More conditions, or comparisons, than this are told together, and one by one in their table.
_MOST_SENTENCES = 6
#: A middle that is as near as this to the one specimen's own resistance is told as that.
_SAME = 0.01


def leading_sentence(answer: Answer) -> str:
    """The answer, in a few sentences."""
    parts = hazard_sentences(answer) + bench_warning(answer.bench) + _doubted(answer)
    parts += [unsettled_sentence(c) for c in moving_conditions(answer)[:_MOST_CONDITIONS]]
    main = main_comparison(answer)
    if main is not None and does_not_settle(main, answer):
        parts.append(_unsettled_difference(main, answer))
    elif main is not None:
        over = averaged_over(main, answer)
        averaged = f" (averaged over {over})" if over else ""
        parts.append(f"{_difference(main, answer.coverage, averaged)} {_judged(main, answer)}")
    elif answer.reference is not None:
        parts.append(
            "The conditions cannot be compared: no reading was repeated, or the repeated ones are all equal."
        )
    known = [s for s in answer.specimens if s.verdict and verdict_word(s) != UNKNOWN]
    if main is None and not known:
        parts += [_plain(c) for c in answer.conditions[:_MOST_CONDITIONS] if c.state != MOVING]
    if answer.limit is not None:
        parts.append(limit_sentence(answer) if known else _unjudged(answer, answer.limit))
        beyond = beyond_signal(answer)
        if beyond and any(s.verdict == WITHIN and s.latest for s in answer.specimens):
            used = ", and ".join(f"at the {what} used, up to {size}" for what, size in beyond.items())
            parts.append(f"Within is meant {used}; a small signal may meet another resistance.")
    if answer.margin is not None and answer.margin.source != STATED_MARGIN:
        worst = worst_condition(answer)
        past = is_past(answer.margin, worst)
        if main is None:
            parts.append(f"What would matter is {_reach(answer.margin, worst)}.")
        elif main.verdict != ENOUGH and (past or (past is None and worst.state != MOVING)):
            own = "itself" if worst.specimens == 1 else "themselves"
            parts.append(f"By {own} {_past_words(answer.margin, worst)}.")
    parts += otherwise_sentences(answer.frequencies)
    told = f"{lead_words(answer.frequencies)}{' '.join(parts)}"
    return " ".join([told, *provisos(answer.uses, told)])


def bench_in_doubt(bench: BenchAnswer | None) -> bool:
    """Whether the check standard's charts say that the bench is not as it was."""
    return bench is not None and bench.charted and bench.verdict != FIT


def bench_sentence(bench: BenchAnswer) -> str:
    """What the check standard says of the bench that the contacts were read on."""
    told = bench.sentence[0].lower() + bench.sentence[1:]
    return f"The bench, by {count(bench.checks, 'check')} of {bench.check_standard}: {told}"


def bench_note(bench: BenchAnswer) -> str:
    """The same in the fewest words, for the first page."""
    if bench.charted:
        return f"Bench: {bench.verdict} ({count(bench.checks, 'check')} of {bench.check_standard}, last {bench.last})."
    return f"Bench: not judged yet ({'; '.join(bench.reasons)})."


def bench_warning(bench: BenchAnswer | None) -> list[str]:
    """What leads where the bench is in doubt."""
    if bench is None or not bench_in_doubt(bench):
        return []
    return [f"{bench.sentence.rstrip('.')}. What follows holds only if the bench was right."]


def _doubted(answer: Answer) -> list[str]:
    if not in_doubt(answer):
        return []
    read = "readings" if answered_at(answer) is None else "takes"
    if mostly_in_doubt(answer):
        told = f"Check the {read} before anything else: most of them are in grave doubt"
        return [f"{told}, and what follows holds only if they are right."]
    return [f"Look at the warnings first: some {read} in this answer are in doubt."]


def main_comparison(answer: Answer) -> ComparisonAnswer | None:
    """The comparison that says most: the gravest verdict, and of those the largest difference.

    With several factors it is one of their levels, averaged over the other factors, unless what one does depends on another,
    or it takes several together to matter.
    """
    gravity = (TOO_SMALL, OPEN, ENOUGH)
    # What cannot be told because a condition does not settle says so itself, and hides no other comparison.
    told = [c for c in one_contact(answer) if c.verdict != OPEN or not does_not_settle(c, answer)]
    averaged = [] if moving_conditions(answer) else averaged_comparisons(answer)
    enough = [any(c.verdict == ENOUGH for c in some) for some in (averaged, told)]
    if averaged and enough != [False, True]:
        told = list(averaged)
    return max(
        told or answer.comparisons,
        key=lambda c: (gravity.index(c.verdict), abs(c.difference.value or 0.0)),
        default=None,
    )


def unsettled_sentence(condition: ConditionAnswer) -> str:
    """That a condition does not settle, and how far its readings move."""
    who, does = _contacts(condition), "does" if condition.specimens == 1 else "do"
    low, high = condition.lowest_reading or 0.0, condition.highest_reading or 0.0
    told = movement_words(condition.movement or 1.0).replace(
        "they", "its readings" if does == "does" else "the readings"
    )
    return (
        f"{who[:1].upper()}{who[1:]} {does} not settle: within one mating {told}, and in all they lie anywhere from "
        f"{show(low, 'Ω', 2)} to {show(high, 'Ω', 2)}. That itself is a finding: an average of such readings is no resistance."
    )


def _unsettled_difference(found: ComparisonAnswer, answer: Answer) -> str:
    """What can be said of a difference from contacts that do not settle."""
    pair = f"'{found.of}' and '{found.against}' contacts"
    if found.verdict == ENOUGH:
        return f"Even the lowest readings of what moves keep {pair} apart by more than matters. {_judged(found, answer)}"
    if answer.margin is None:
        return f"How far {pair} differ cannot be told before they settle."
    return (
        f"Whether {pair} differ by enough to matter cannot be told before they settle; what would matter is "
        f"{margin_words(answer.margin)}."
    )


def cheapest(settle: Sequence[NeededAnswer]) -> NeededAnswer | None:
    """The design with the least work: to make ready a specimen counts as two matings."""
    return min(settle, key=lambda n: n.specimens_per_condition * (2 + n.matings_per_specimen), default=None)


def _unjudged(answer: Answer, limit: Bound) -> str:
    """What can be said of the limit where no contact's own uncertainty is known."""
    size = f"the limit of {show_stated(limit.resistance, 'Ω')}"
    judged = [c for c in answer.conditions if c.verdict and c.low is not None]
    if not judged:
        who = "it is" if len(answer.specimens) == 1 else "they are"
        return f"Whether {who} within {size} cannot be said: nothing is known about the uncertainty."
    told = "; ".join(
        f"the {typical(c.statistic)} of {_contacts(c)} is {c.verdict}" for c in judged[:_MOST_CONDITIONS]
    )
    return f"Against {size}: {told}. Whether each contact is within it cannot be said: a contact's own uncertainty is not known."


def _difference(found: ComparisonAnswer, coverage: float, averaged: str) -> str:
    value, low, high = found.difference.value or 0.0, found.difference.low, found.difference.high
    if low is not None and high is not None and low < 0 < high and found.p_value > 1 - coverage:
        reach = max(abs(low), abs(high))
        return (
            f"'{found.of}' and '{found.against}' contacts cannot be told apart: "
            f"the difference is less than {show(reach, 'Ω', 2)} either way{averaged}."
        )
    word = "more" if value > 0 else "less"
    amount = like(abs(value), low or 0.0, high or 0.0) if low is not None else show(abs(value), "Ω")
    ratio = found.ratio
    if ratio.value is None or ratio.low is None:
        return f"'{found.of}' contacts have {amount} {word} than '{found.against}' ones{averaged}."
    return (
        f"'{found.of}' contacts have {times(ratio.value, ratio.low, ratio.high)} the resistance of "
        f"'{found.against}' ones, {amount} {word}{averaged}."
    )


def _judged(found: ComparisonAnswer, answer: Answer) -> str:
    if answer.margin is None:
        return "Whether that matters cannot be said: nobody has said what change would."
    margin = margin_words(answer.margin)
    if found.verdict == TOO_SMALL:
        return f"That is {TOO_SMALL}; what would matter is {margin}."
    if found.verdict == ENOUGH and found.read_last is not None:
        turn = "the change helped" if helped(found) else "the change made the same contacts worse"
        return f"That is {ENOUGH}: {turn}; what matters is {margin}."
    if found.verdict == ENOUGH:
        return f"That is {ENOUGH}; what matters is {margin}."
    return f"Whether that matters the readings cannot tell yet; what would matter is {margin}{_more(found, answer)}."


def margin_words(margin: Bound) -> str:
    """The margin with where it comes from: ``a change of 3.7 Ω (microphone: hum rejection falls to 60 dB)``."""
    stated = margin.source == STATED_MARGIN
    size = show_stated(margin.resistance, "Ω") if stated else show(margin.resistance, "Ω", 2)
    return f"a change of {size}" if stated else f"a change of {size} ({margin.source})"


def _more(found: ComparisonAnswer, answer: Answer) -> str:
    if averaged_over(found, answer):
        return ""  # how many would settle an average is not worked out
    needed = cheapest(found.settle)
    if needed is None:
        return ", and the difference lies too near it for measuring to decide"
    assert needed is not None
    matings = count(needed.matings_per_specimen, "mating")
    return f"; {count(needed.specimens_per_condition, 'specimen')} a condition with {matings} each would probably settle it"


def _plain(condition: ConditionAnswer) -> str:
    return (
        f"The {typical(condition.statistic)} of {_contacts(condition)} is "
        f"{estimate(condition.resistance, condition.low, condition.high)}."
    )


def findings(answer: Answer) -> tuple[str, ...]:
    """The findings, one sentence each, in the order of the path."""
    found = [unsettled_sentence(c) for c in moving_conditions(answer)]
    found += _condition_sentences(answer)
    found += factor_sentences(answer)
    found += _comparison_sentences(answer)
    found += [*sensitivity_sentences(answer), *part_sentences(answer)]
    found += wet_sentences(answer.frequencies.measured) if answer.frequencies else []
    found += [use_sentence(use, answer) for use in answer.uses]
    return (*found, *history_sentences(answer))


def _condition_sentences(answer: Answer) -> list[str]:
    """Each condition in a sentence; of more than anybody reads, the least and the most."""
    settled = [c for c in answer.conditions if c.state != MOVING]
    if len(settled) <= _MOST_SENTENCES:
        return [condition_sentence(c, answer) for c in settled]
    ends = [function(settled, key=lambda c: c.resistance) for function in (min, max)]
    least, most = (
        f"'{c.condition}' with {estimate(c.resistance, c.low, c.high)} from {count(c.specimens, _noun(answer))}"
        for c in ends
    )
    span = f"the lowest {typical(settled[0].statistic)} is that of {least}, the highest that of {most}"
    return [f"Of {len(settled)} conditions {span}; the table 'Conditions' has them all."]


def _comparison_sentences(answer: Answer) -> list[str]:
    """Each comparison in a sentence; of more than anybody reads, how many came out in which way."""
    if len(answer.comparisons) <= _MOST_SENTENCES:
        return [
            comparison_sentence(c, _noun(answer), c.verdict == OPEN and does_not_settle(c, answer))
            for c in answer.comparisons
        ]
    verdicts = [c.verdict for c in answer.comparisons]
    told = listed([f"{verdicts.count(v)} '{v}'" for v in (ENOUGH, OPEN, TOO_SMALL) if v in verdicts])
    return [f"Of {len(verdicts)} comparisons the verdicts are: {told}; the table 'Comparisons' has them all."]


def condition_sentence(condition: ConditionAnswer, answer: Answer) -> str:
    """What was found of one condition."""
    who = _named(condition).capitalize() if condition.condition == "all" else f"'{condition.condition}'"
    text = (
        f"{who}: {typical(condition.statistic)} {estimate(condition.resistance, condition.low, condition.high)} "
        f"from {count(condition.specimens, _noun(answer))}"
    )
    if answer.limit is not None and condition.probability_next_over is not None:
        text += (
            f"; the next mating of another such contact is over {show_stated(answer.limit.resistance, 'Ω')} "
            f"with a probability of {show_percent(condition.probability_next_over)}"
        )
    return f"{text}.{_borrowing(condition, answer)}"


def _borrowing(condition: ConditionAnswer, answer: Answer) -> str:
    """Why the middle of a kind of which one was read is not what was read of that one."""
    own = [s.resistance for s in answer.specimens if s.condition == condition.condition]
    if condition.specimens != 1 or len(own) != 1 or abs(own[0] - condition.resistance) <= _SAME * abs(own[0]):
        return ""
    side = "higher" if own[0] > condition.resistance else "lower"
    return (
        f" The one read has {show(own[0], 'Ω')}: it lies {side} than the others where all of them were read, and the typical "
        "resistance allows for that."
    )


def _noun(answer: Answer) -> str:
    """What is counted: specimens, or pairs where plugs and sockets were re-paired with each other."""
    return "pair" if any(s.level in ("plug", "socket") for s in answer.scatter) else "specimen"


def comparison_sentence(found: ComparisonAnswer, noun: str = "specimen", unsettled: bool = False) -> str:
    """What was found of one comparison, with its test."""
    how = f"the same {count(found.pairs, noun)} under both" if found.paired else f"separate {noun}s"
    difference = found.difference
    text = f"'{found.of}' against '{found.against}' ({how}): difference " + estimate(
        difference.value or 0.0, difference.low, difference.high
    )
    if found.ratio.value is not None and found.ratio.low is not None:
        text += f", {times(found.ratio.value, found.ratio.low, found.ratio.high)}"
    exact = ""
    if found.exact_p_value is not None and found.smallest_exact_p_value is not None:
        exact = (
            f" (counted out over every exchange of the {noun}s: {by_chance(found.exact_p_value)}, and with so few {noun}s it "
            f"could not be fewer than {by_chance(found.smallest_exact_p_value)})"
        )
    text += f"; chance alone makes one as large in {by_chance(found.p_value)} such studies{exact}"
    told = ", for contacts that do not settle have no average to compare" if unsettled else ""
    return f"{text}. Verdict: {found.verdict}{told}."


def use_sentence(use: UseAnswer, answer: Answer) -> str:
    """What the worst condition does in a circuit, and how far off the first threshold is."""
    passed = [unmet_words(use, t) for t in unmet(use)]
    first = "; ".join(passed) + (": no contact can mend that. " if passed else "")
    reached = [t for t in use.thresholds if t.resistance is not None]
    if not reached:
        return f"{use.name}: {first}no contact resistance below a megohm reaches {'another' if passed else 'a'} threshold."
    nearest = min(reached, key=lambda t: t.resistance or math.inf)
    assert nearest.resistance is not None
    if use.proviso:
        told = f"{show(nearest.resistance, 'Ω', 2)} ({nearest.words}; {nearest.position})"
        return f"{use.name}: {first}{'T' if first else 't'}he first threshold lies at {told}. {use.proviso}"
    bound = Bound(nearest.resistance, f"{nearest.words}; {nearest.position}")
    return f"{use.name}: {first}{'W' if first else 'w'}hat matters first begins at {_reach(bound, worst_condition(answer))}."


def is_past(threshold: Bound, condition: ConditionAnswer) -> bool | None:
    """Whether a condition's contacts are past a use's threshold; None when their interval reaches across it.

    What does not settle is past it where even its lowest readings, fallen as far again, are; and never clearly below.
    """
    if condition.state == MOVING:
        lowest = (condition.lowest_reading or 0.0) / (condition.movement or 1.0)
        return True if lowest >= threshold.resistance else None
    low, high = ((condition.resistance if end is None else end) for end in (condition.low, condition.high))
    return True if low >= threshold.resistance else False if high < threshold.resistance else None


def _past_words(threshold: Bound, condition: ConditionAnswer) -> str:
    sure = is_past(threshold, condition)
    return f"{_contacts(condition)} {_are(condition) if sure else 'may be'} past {show(threshold.resistance, 'Ω', 2)} a contact"


def _contacts(condition: ConditionAnswer) -> str:
    if condition.specimens == 1:
        return "this contact" if condition.condition == "all" else f"the one '{condition.condition}' contact"
    return "these contacts" if condition.condition == "all" else f"'{condition.condition}' contacts"


def _named(condition: ConditionAnswer) -> str:
    return (
        "the contact"
        if condition.condition == "all" and condition.specimens == 1
        else in_quotes(condition.condition)
    )


def _are(condition: ConditionAnswer) -> str:
    return "is" if condition.specimens == 1 else "are"


def _reach(threshold: Bound, worst: ConditionAnswer) -> str:
    """A threshold of a use, and how far from it the contacts of a condition are."""
    at = f"{show(threshold.resistance, 'Ω', 2)} a contact ({threshold.source})"
    past, name = is_past(threshold, worst), _contacts(worst)
    if past is None and worst.state == MOVING:
        return f"{at}; {name}, not settled, went up to {show(worst.highest_reading or 0.0, 'Ω', 2)} while they were read"
    if past is not False:
        return f"{at}; {name} {_are(worst) if past else 'may be'} past that"
    has = "has" if worst.specimens == 1 else "have"
    if worst.resistance <= 0:
        return f"{at}, far above what {name} {has}"
    return f"{at}, {_about(threshold.resistance / worst.resistance)} times what {name} {has}"


def _about(factor: float) -> str:
    if factor > 1e6:
        return "more than a million"
    if factor < 10:
        return f"{factor:.1f}"
    digits = 1 - math.floor(math.log10(factor))
    return f"{round(factor, digits):,.0f}".replace(",", " ")


def length_sentence(answer: Answer) -> str:
    """The measured contacts as lengths of wire."""
    if not answer.equivalent_length:
        return ""
    wire = answer.equivalent_length[0].conductor
    names = {c.condition: c for c in answer.conditions}
    parts = [
        f"{_named(names[e.subject])} {show(e.length.value or 0.0, 'm', 2)}"
        for e in answer.equivalent_length
        if e.conductor == wire and e.subject in names and names[e.subject].state != MOVING
    ]
    return f"As lengths of {wire} wire: {listed(parts)}." if parts else ""
