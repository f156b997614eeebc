"""The fitness of a bench in words that a shop owner reads."""

from __future__ import annotations

from ohmsworth.inference.control import FIT, ControlResult
from ohmsworth.inference.control.verdict import BEYOND, CREEP, DRIFT
from ohmsworth.report.fitness import AbilityAnswer, ControlAnswer, FitnessAnswer, StudyAnswer
from ohmsworth.report.words import count
from ohmsworth.units import show, show_interval, show_percent, show_stated

#: Test uncertainty ratio from which, by custom, no guard band is asked for.
ENOUGH_RATIO = 4.0


def rule_words(name: str, charted: ControlResult, i: int) -> tuple[str, ...]:
    """Each rule that check number `i` breaks, in plain words; a jump alone is no reason to stop."""
    single, average, sums = charted.single, charted.average, charted.sums
    value = float(single.value[i])
    found = []
    for rule in charted.rules[i]:
        if rule == BEYOND:
            side, limit = (
                ("above the upper", single.upper)
                if value > single.upper
                else ("below the lower", single.lower)
            )
            found.append(
                f"the check of {name}, {show(value, 'Ω', 4)}, is {side} limit of {show(limit, 'Ω', 4)}"
            )
        elif rule == DRIFT:
            way = "high" if average.value[i] > average.upper[i] else "low"
            found.append(
                f"the weighted average of the last checks (EWMA) is too {way}: the bench has drifted"
            )
        elif rule == CREEP:
            way = "above" if sums.above[i] > sums.decision else "below"
            found.append(
                f"small differences have added up (CUSUM): the bench has for some time read {way} its centre"
            )
    return tuple(found)


def fitness_sentence(answer: FitnessAnswer) -> str:
    """The verdict with its reason, then what the bench can tell."""
    first = day_sentence(answer.verdict, answer.reasons, answer.control)
    return " ".join(part for part in (first, limit_sentence(answer)) if part)


def day_sentence(verdict: str, reasons: tuple[str, ...], control: ControlAnswer | None) -> str:
    """The verdict on the day with what it rests on."""
    if verdict != FIT:
        return f"Look first: {'; '.join(reasons)}."
    assert control is not None
    last = control.checks[-1]
    value = show(last.resistance, "Ω", 4)
    limits = show_interval(control.lower, control.upper, "Ω")
    return f"Fit today: the last check ({last.check}, {value}) is within its limits, {limits}, and shows no drift."


def limit_sentence(answer: FitnessAnswer) -> str:
    """Whether this bench can judge the limit, or ""."""
    if answer.limit is None:
        return ""
    limit = show_stated(answer.limit.resistance, "Ω")
    able = answer.ability
    if able is None:
        return f"Whether it can judge {limit} cannot be said: nothing is known of its uncertainty."
    if able.within_up_to is None:
        return f"It cannot judge {limit}: no reading is so low that its uncertainty leaves a clear 'within'."
    largest = show(able.within_up_to, "Ω")
    if able.test_uncertainty_ratio < 1:
        return f"It can hardly judge {limit}: only what reads {largest} or less gets a clear 'within'."
    who = "It" if answer.verdict == FIT else "Once it is fit, it"
    told = f"{who} can judge {limit}: what reads {largest} or less gets a clear 'within'"
    if answer.study is None:
        return f"{told}, as far as the check standard alone shows: re-mating and operators are not in it."
    return f"{told}."


def fitness_findings(answer: FitnessAnswer) -> tuple[str, ...]:
    """One sentence each: limit, smallest difference, operators, chart."""
    found = []
    if answer.ability is not None and answer.limit is not None:
        found += _ability_sentences(answer.ability, answer.coverage)
    if answer.differences:
        found.append(_difference_sentence(answer))
    if answer.study is not None:
        found.append(study_sentence(answer.study))
    if answer.control is not None:
        found.append(control_sentence(answer.control))
    return tuple(found)


def _ability_sentences(able: AbilityAnswer, coverage: float) -> list[str]:
    ratio = able.test_uncertainty_ratio
    custom = (
        "4 to 1 is the custom"
        if ratio >= ENOUGH_RATIO
        else "below the customary 4 to 1, so mind the guard band"
    )
    text = f"The test uncertainty ratio is {ratio:.{1 if ratio < 20 else 0}f} to 1 ({custom})."
    above = show(able.right_above, "Ω")
    if able.right_below is None:
        sure = f"A contact of {above} or more is told right at least {show_percent(coverage)} of the time; none below is."
    else:
        sure = (
            f"A contact of {show(able.right_below, 'Ω')} or less, or of {above} or more, is told right at least "
            f"{show_percent(coverage)} of the time; between them it is often too close to call."
        )
    return [text, sure]


def _difference_sentence(answer: FitnessAnswer) -> str:
    one = answer.differences[0]
    five = next(d for d in answer.differences if d.trials_each == 5)
    return (
        f"The smallest difference between two contacts that this bench sees four times in five is "
        f"{show(one.ohm, 'Ω', 2)} from one trial each, {show(five.ohm, 'Ω', 2)} from five."
    )


def study_sentence(study: StudyAnswer) -> str:
    """What repeatability and reproducibility are, and who makes the scatter."""
    sizes = {c.component: c for c in study.components}
    repeat = sizes["repeatability"]
    text = f"Repeated by one operator, a reading scatters by {show(repeat.ohm, 'Ω', 2)} (standard deviation)"
    other = sizes.get("reproducibility")
    if other is None:
        return f"{text}; with one operator nothing is known of others."
    if other.ohm == 0:
        text += "; between operators no difference shows"
    else:
        text += f"; from operator to operator by {show(other.ohm, 'Ω', 2)}"
    if study.distinct_categories is not None:
        told = min(study.distinct_categories, 999)
        kinds = "cannot be told apart" if told < 2 else f"fall into {told} distinct categories"
        text += f". These {count(study.specimens, 'specimen')} {kinds}"
    return text + "."


def control_sentence(control: ControlAnswer) -> str:
    """How many checks, and what stands out among them."""
    odd = [c for c in control.checks if any(r in (BEYOND, DRIFT, CREEP) for r in c.rules)]
    text = (
        f"{count(len(control.checks), 'check')} of {control.name}; the first {control.first} set the limits"
    )
    if not odd:
        return f"{text}. None stands out."
    return f"{text}. {count(len(odd), 'check')} {'stands' if len(odd) == 1 else 'stand'} out, last on {odd[-1].check}."
