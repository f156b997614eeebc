"""A plan in words: what to do, what it takes, and how likely it is to settle the question."""

from __future__ import annotations

from ohmsworth.report.plan_answer import DesignAnswer, PlanAnswer
from ohmsworth.report.words import by_chance, count, listed
from ohmsworth.units import show, show_percent, show_stated

_READ = {1: "once", 2: "twice"}


def duration(minutes: float) -> str:
    """Minutes as somebody would say them.

    Examples
    --------
    >>> duration(45), duration(150), duration(1500)
    ('45 min', '2 h 30 min', '25 h')
    """
    whole = round(minutes)
    hours, rest = divmod(whole, 60)
    if hours == 0:
        return f"{whole} min"
    return f"{hours} h" if rest == 0 or hours >= 20 else f"{hours} h {rest} min"


def of_hundred(chance: float) -> str:
    """A chance as a number of studies.

    Examples
    --------
    >>> of_hundred(0.804), of_hundred(0.9996)
    ('80 of 100', '99 of 100')
    """
    return f"{min(round(100 * chance), 99)} of 100"


def design_words(design: DesignAnswer, paired: bool, several: bool) -> str:
    """What to lay out and do."""
    if not several:
        things = f"Take {count(design.specimens, 'specimen')}"
    elif paired:
        things = f"Take {count(design.specimens, 'specimen')} and measure each under every condition"
    else:
        things = (
            f"Take {count(design.specimens, 'specimen')} of each condition ({design.specimens_in_all} in all)"
        )
    mated = f"mate each {_times(design.matings)}" + (" in each condition" if paired else "")
    return f"{things}, {mated}, and read every mating {_times(design.readings)}, forward and reversed"


def _times(number: int) -> str:
    return _READ.get(number, f"{number} times")


def aim_words(answer: PlanAnswer) -> str:
    """What is reached, as the end of a sentence."""
    if answer.goal == "limit" and answer.limit and answer.content:
        expected = show_or_stated(answer)
        share = f"{100 * answer.content:g} % of all its matings"
        return f"a lot with a middle of {expected} is shown to lie within {_stated(answer.limit.resistance)} ({share})"
    effect = answer.effect or 0.0
    if answer.goal == "detect":
        return f"a difference of {percent(effect)} is seen"
    margin = _stated(answer.margin.resistance) if answer.margin else "the margin"
    truth = "contacts that do not differ" if effect == 0 else f"contacts that differ by {percent(effect)}"
    beyond = answer.margin and answer.expected and abs(effect) * answer.expected > answer.margin.resistance
    verdict = "differ enough to matter" if beyond else "differ too little to matter"
    return f"{truth} are shown to {verdict} (margin {margin})"


def show_or_stated(answer: PlanAnswer) -> str:
    """The expected resistance: as typed, or rounded where it was measured."""
    if answer.expected is None:
        return "what was expected"
    if answer.expected_source and answer.expected_source.startswith("stated"):
        return _stated(answer.expected)
    return show(answer.expected, "Ω")


def percent(share: float) -> str:
    """A signed share in percent."""
    return f"{100 * share:.3g} %".replace("-", "−")


def _stated(resistance: float) -> str:
    return show_stated(resistance, "Ω")


def plan_sentence(answer: PlanAnswer) -> str:
    """The plan in one sentence."""
    paired, several = answer.assignment != "separate", answer.goal != "limit"
    if answer.best is not None:
        best = answer.best
        words = design_words(best, paired, several)
        return f"{words}: about {duration(best.minutes)}, and in {of_hundred(best.chance)} such studies {aim_words(answer)}."
    wanted, most = show_percent(answer.chance_wanted), count(answer.most_specimens, "specimen")
    where = f" {'a condition' if several else ''}".rstrip()
    sentence = f"No plan with up to {most}{where} has a chance of {wanted} that {aim_words(answer)}"
    if answer.most is None:
        return f"{sentence}."
    matings = count(answer.most.matings, "mating")
    return f"{sentence}; with all of them and {matings} of each it is {show_percent(answer.most.chance)}."


def plan_findings(answer: PlanAnswer) -> tuple[str, ...]:
    """What stands behind the plan, a sentence each."""
    found = [_assumed(answer)]
    if answer.best is None:
        found.append(_what_would_help(answer))
    if answer.chance_if_wider is not None:
        found.append(
            f"If everything scatters half as much again as assumed, the chance falls to {show_percent(answer.chance_if_wider)}."
        )
    if answer.best and answer.half:
        half = answer.half
        found.append(
            f"With half the effort ({duration(half.minutes)}: {short_design(half)}) the best chance is "
            f"{show_percent(half.chance)}."
        )
    elif answer.best:
        found.append("Half the effort is too little for any study: two specimens a condition are the least.")
    found += _one_mating(answer)
    found += _tests(answer)
    if answer.check_standard:
        readings = 3 * answer.days
        minutes = readings * (answer.minutes_per_mating + answer.minutes_per_reading)
        found.append(
            f"The check standard '{answer.check_standard}' is read first, in the middle and last of each day: "
            f"{duration(minutes)} more, so that a bench that drifts shows."
        )
    return tuple(found)


def _assumed(answer: PlanAnswer) -> str:
    parts = [f"{s.level} {percent(s.standard_deviation)} ({s.source})" for s in answer.scatter]
    return f"It rests on this scatter (relative standard deviation): {listed(parts)}."


def _what_would_help(answer: PlanAnswer) -> str:
    what = {
        "detect": "a larger effect",
        "equivalence": "a margin further from the expected difference",
        "limit": "a lot further below the limit",
    }[answer.goal]
    return (
        f"What would help: less scatter, {what}, the same specimens under all conditions, or more specimens."
        if (answer.goal != "limit")
        else f"What would help: less scatter, {what}, or more specimens."
    )


def short_design(design: DesignAnswer) -> str:
    """``6 specimens × 2 matings × 1 reading``."""
    return " × ".join(
        [
            count(design.specimens, "specimen"),
            count(design.matings, "mating"),
            count(design.readings, "reading"),
        ]
    )


def _one_mating(answer: PlanAnswer) -> list[str]:
    if answer.best is None or answer.best.matings > 1:
        return []
    words = (
        "With one mating of each, the answer cannot say how far re-mating changes a contact, and warns of it; if the "
        "contacts are to be unplugged in use, take a plan with more matings."
    )
    return [words]


def _tests(answer: PlanAnswer) -> list[str]:
    found = []
    smallest = answer.smallest_exact_p_value
    if smallest is not None:
        can = "too often to speak for itself" if smallest > 0.05 else "seldom enough to speak for itself"
        often = by_chance(smallest)
        found.append(
            f"Counted out, chance alone makes the clearest result that this plan could give in {often} such studies: {can}."
        )
    if answer.specimens_without_model is not None and answer.content:
        found.append(
            f"Without trusting any model of the scatter it takes {answer.specimens_without_model} specimens, every one "
            f"within the limit, to show {100 * answer.content:g} % of the lot within it with "
            f"{100 * answer.confidence:g} % confidence."
        )
    return found


def plan_method(goal: str, paired: bool) -> tuple[str, ...]:
    """How the chance was worked out."""
    of = {
        "detect": "The chance is the power of the two-sided t test on specimens' means (non-central t).",
        "equivalence": "The chance is the exact power of two one-sided t tests on specimens' means.",
        "limit": "The chance is that the one-sided tolerance bound comes out below the limit (non-central t).",
    }[goal]
    unit = (
        "specimens' differences"
        if paired
        else "separate specimens, each condition with its own scatter from three on"
    )
    found = [of]
    if goal != "limit":
        found.append(f"Tests as the answer makes them: on {unit}.")
    found.append(
        "The meters' gain cancels in a comparison and counts against a limit; their counts are taken to show in the "
        "scatter of readings."
    )
    found.append(
        "The cheapest design is searched over specimens, up to 6 matings of each, and up to 4 readings of each mating."
    )
    return tuple(found)
