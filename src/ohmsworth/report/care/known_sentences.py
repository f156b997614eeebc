"""What several studies know together, in words: honest where they are few."""

from __future__ import annotations

import math

from ohmsworth.inference.equivalence import OPEN
from ohmsworth.report.answer import Interval
from ohmsworth.report.care.known_answer import InOhm, KnownAnswer
from ohmsworth.report.words import by_chance, capital, count, estimate, in_quotes, listed, times
from ohmsworth.units import show, show_percent, show_stated

#: From this many studies on they show how they differ; below it the intervals are wide for want of studies.
_ENOUGH = 4


def known_sentence(answer: KnownAnswer) -> str:
    """The answer first."""
    of, against, number = in_quotes(answer.of), in_quotes(answer.against), len(answer.studies)
    whole = answer.together
    who = "One study alone" if number == 1 else f"{capital(_number(number))} studies together"
    text = f"{who}: {of} contacts have {_times(whole)} the resistance of {against} ones"
    if whole.low is not None and whole.high is not None and whole.low <= 1 <= whole.high:
        text += "; which of both is the higher is not known"
    if answer.next_lot is None:
        return f"{text}. It says nothing of how studies differ, and so nothing of a new lot."
    return f"{text}. In a new lot it would be {_ends(answer.next_lot)} times.{_matters(answer)}"


def _number(number: int) -> str:
    words = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
    return words[number] if number < len(words) else str(number)


def _times(ratio: Interval) -> str:
    return times(ratio.value, ratio.low, ratio.high)


def _ends(ratio: Interval) -> str:
    return times(ratio.value, ratio.low, ratio.high).partition(" (")[2].rstrip(")")


def _matters(answer: KnownAnswer) -> str:
    found = answer.in_ohm
    if found is None or found.next_verdict is None:
        return ""
    if found.next_verdict == OPEN:
        return " Whether that matters there cannot be told yet."
    return f" There that is {found.next_verdict}."


def known_findings(answer: KnownAnswer) -> tuple[str, ...]:
    """What stands beside the sentence."""
    found = [_few(answer)] if len(answer.studies) < _ENOUGH else []
    if answer.between is not None:
        found.append(_between(answer))
    found.append(_alone(answer))
    if answer.guarded:
        found.append(
            "The studies agree better than their own uncertainties lead one to expect, by luck or because they are not "
            "independent of one another: the interval is not narrowed for that."
        )
    if answer.in_ohm is not None:
        found.append(_in_ohm(answer, answer.in_ohm))
    found += [f"Not counted: {one.name}. {one.why}" for one in answer.unused]
    return tuple(words for words in found if words)


def _few(answer: KnownAnswer) -> str:
    number = len(answer.studies)
    if number == 1:
        return "A second study, of another lot or on another day, is worth more now than many more readings in this one."
    if number == 2:
        return (
            "Two studies show hardly anything of how studies differ, so that the intervals are as wide as they get: a third one "
            "narrows them most."
        )
    return "Three studies show little of how studies differ: every further one narrows the intervals much."


def _between(answer: KnownAnswer) -> str:
    between = answer.between
    assert between is not None
    if between.spread == 0:
        text = "The studies differ no more than their own uncertainties explain"
        if between.high is not None:
            text += f"; true ratios might still differ by {_factor(between.high)} from study to study"
        return f"{text}."
    ends = (
        f"{_factor(between.low)} or more"
        if between.high is None
        else f"{_factor(between.low)} to {_factor(between.high)}"
    )
    return (
        f"From study to study the true ratio differs by about {_factor(between.spread)} ({ends}, one standard deviation), more "
        f"than the studies' own uncertainties explain: chance alone does as much in {by_chance(between.p_value)}. "
        f"{show_percent(between.share)} of what the ratios scatter lies between studies."
    )


def _factor(spread: float) -> str:
    """A spread of logarithms as people say it."""
    if spread < math.log(1.5):
        return f"{100 * math.expm1(spread):.0f} %"
    factor = math.exp(min(spread, 700.0))
    return f"a factor of {factor:.1f}" if factor < 1000 else "a factor of more than 1000"


def _alone(answer: KnownAnswer) -> str:
    """Which study carries the conclusion by itself."""
    if not answer.without:
        return ""
    carrying = [one for one in answer.without if one.decides]
    if not carrying:
        return f"No study carries the conclusion alone: it stays when any one of the {len(answer.without)} is left out."
    if len(carrying) == len(answer.without):
        return (
            "The conclusion, which of both is the higher, hangs on every one of the studies: it changes whichever is left out, "
            "as it does where they are few."
        )
    told = [f"'{one.name}' (without it {_times(one.ratio)})" for one in carrying]
    return (
        f"The conclusion, which of both is the higher, would change without {listed(told)}: look at "
        f"{'it' if len(told) == 1 else 'them'} before you believe it."
    )


def _in_ohm(answer: KnownAnswer, found: InOhm) -> str:
    limit = show_stated(float(f"{found.margin.resistance:.3g}"), "Ω")
    whole = _ohms(found.difference)
    middle = ", the middle of the studies," if len(answer.studies) > 1 else ""
    text = (
        f"For contacts with {show(found.base, 'Ω')} when {in_quotes(answer.against)}{middle} that is a change of {whole}: "
        f"{found.verdict} (what matters is {limit}, {found.margin.source})."
    )
    if found.next_lot is None:
        return text
    return f"{text} In a new lot of such contacts: {_ohms(found.next_lot)}, {found.next_verdict}."


def _ohms(difference: Interval) -> str:
    return estimate(difference.value or 0.0, difference.low, difference.high)


def known_method(answer: KnownAnswer) -> tuple[str, ...]:
    """How it was reckoned."""
    method = [
        (
            "Each study is answered by itself, on logarithms: the ratio of both conditions with all that its specimens, matings, "
            "readings and meters leave open. Its standard error is then taken as known, which is bold for a study of two or "
            "three specimens."
        ),
    ]
    if len(answer.studies) > 1:
        method += [
            (
                "Studies may differ in truth: the variance between them is found by REML, the common ratio is their mean "
                "weighted by both variances, and its interval is Hartung and Knapp's, never narrower than the studies' own "
                f"uncertainties allow ({count(len(answer.studies) - 1, 'degree')} of freedom)."
            ),
            (
                "A new lot: the true ratio of one more study like these, with the variance between them and Student's t of "
                f"{count(max(len(answer.studies) - 2, 1), 'degree')} of freedom. It holds for lots that are like those studied."
            ),
            "Left out: all of it again without each study in turn.",
        ]
    if answer.in_ohm is not None:
        method.append(
            "In ohm: the ratio times the middle of the studies' resistances under the second condition, taken as known, against "
            "the smallest margin of the studies: by two one-sided tests for all together, by the whole interval for a new lot."
        )
    return tuple(method)


def known_sources(answer: KnownAnswer) -> list[str]:
    """Keys of the sources."""
    keys = ["KenwardRoger"]
    if len(answer.studies) > 1:
        keys += [
            "PattersonThompson",
            "HartungKnapp",
            "KnappHartung-guard",
            "Cochran1954",
            "HigginsThompson",
            "Higgins2009",
        ]
        keys.append("Viechtbauer2007")
    return keys + (["Schuirmann"] if answer.in_ohm is not None else [])
