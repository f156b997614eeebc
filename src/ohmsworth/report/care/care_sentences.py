"""What is said of care for one contact: the sentence, what stands beside it, what would change it, the method."""

from __future__ import annotations

from ohmsworth.advice.care import FAILURE, LABOUR, LEAVE, MATTERS
from ohmsworth.advice.courses import MEASURE
from ohmsworth.report.care.care_answer import (
    CareAnswer,
    ChangeAnswer,
    HelpAnswer,
    NextLookAnswer,
    OptionAnswer,
    TrendAnswer,
)
from ohmsworth.report.words import capital, count, listed, p_value, times
from ohmsworth.units import show_percent, show_pm, show_stated

#: Contacts that were read twice with nothing done in between; in the records under LEAVE.
_UNTREATED = "leaving them alone"
#: What to begin with, as somebody is told, and the doing of it.
_WORDS = {
    LEAVE: ("Leave it", "leaving it"),
    MEASURE: ("Measure it again first, on several matings", "measuring it again"),
    "exercise": ("Exercise it, mated and unmated five times", "exercising"),
    "wipe": ("Wipe it dry", "wiping"),
    "clean": ("Clean it", "cleaning"),
    "re-lubricate": ("Lubricate it anew", "lubricating"),
    "re-terminate": ("Terminate it anew", "terminating anew"),
    "replace": ("Replace the connector", "replacing the connector"),
}
#: Where jobs do not differ the next one is like all: not told a second time.
_TOLD_APART = 1.02
#: Money from here on is told without its hundredths.
_LARGE = 1000.0


def money(value: float, currency: str) -> str:
    """An amount in the shop's money.

    Examples
    --------
    >>> money(12.5, "€"), money(1250.4, "€"), money(0.0, "")
    ('12.50 €', '1 250 €', '0')
    """
    text = "0" if value == 0 else f"{value:.2f}" if value < _LARGE else f"{value:,.0f}".replace(",", " ")
    return f"{text} {currency}".strip()


def option_words(name: str) -> str:
    """What to begin with, in words."""
    return _WORDS[name][0]


def doing(name: str) -> str:
    """The doing of it."""
    return _WORDS[name][1]


def care_sentence(answer: CareAnswer) -> str:
    """The answer first: what to do, why, and what it costs."""
    best = answer.options[0]
    reads = show_pm(answer.resistance, answer.standard_uncertainty, "Ω") if answer.standard_uncertainty else (
        show_stated(answer.resistance, "Ω")
    )  # fmt: skip
    limit = show_stated(float(f"{answer.limit.resistance:.3g}"), "Ω")
    state = (
        f"it reads {reads} (± is one standard uncertainty), it matters above {limit} ({answer.limit.source}), and the chance "
        f"that it does is {show_percent(answer.chance_matters)}"
    )
    cost = money(best.cost, answer.currency)
    if best.name == LEAVE:
        return f"Leave it: {state}. Leaving it is expected to cost {cost}{_beside(answer)}."
    left = next(option for option in answer.options if option.name == LEAVE)
    then = "" if best.name == MEASURE else ", then read it again"
    return (
        f"{best.words}{then}: {state}. Beginning so is expected to cost {_range(best, answer)}, leaving it "
        f"{money(left.cost, answer.currency)}."
    )


def _beside(answer: CareAnswer) -> str:
    others = answer.options[1:]
    if not others:
        return ""
    return f"; the next best, {doing(others[0].name)}, {money(others[0].cost, answer.currency)}"


def _range(option: OptionAnswer, answer: CareAnswer) -> str:
    low, high, cost = (money(value, answer.currency) for value in (option.low, option.high, option.cost))
    return cost if low == high else f"{cost} ({low} to {high})"


def maker_words(answer: CareAnswer) -> str:
    """What the maker says, which comes first."""
    maker = answer.maker
    if not maker.stated:
        return (
            "Before anything is done: look up what the connector's maker allows. Nothing of it is stated here, and those "
            "instructions prevail over this advice."
        )
    said = " ".join(f"“{text.strip()}”" for text in maker.words)
    forbids = f" forbids {listed([doing(name) for name in maker.forbids])}" if maker.forbids else ""
    told = f" says: {said}" if said else ""
    if not told and not forbids:
        return f"{capital(maker.who)} forbids none of what is weighed here."
    both = " and" if told and forbids else ""
    return f"{capital(maker.who)}{forbids}{both}{told}{'' if told else '.'} These instructions prevail."


def care_findings(answer: CareAnswer) -> tuple[str, ...]:
    """What stands beside the sentence."""
    best = answer.options[0]
    found: list[str] = []
    if best.then:
        rest = ", then ".join(doing(name) for name in best.then)
        found.append(f"If it is still above the limit, go on with {rest}, and read it after each.")
    if len(answer.options) > 1:
        found.append(
            f"How sure that is: with all that the shop's records and the first guesses leave open, this is the cheapest way to "
            f"begin in {100 * best.cheapest:.0f} of 100 draws."
        )
    found += [switch.words for switch in answer.switches]
    found += [help_words(one) for one in answer.helps if one.cases]
    found += [change_words(one) for one in answer.changes]
    found.append(look_words(answer.next_look, answer.why_no_look))
    found += [f"Not weighed: {doing(one.name)}. {one.why}" for one in answer.left_out]
    return tuple(found)


def help_words(one: HelpAnswer) -> str:
    """How often a remedy helped, and what that leads one to expect."""
    return (
        f"{capital(doing(one.name))} left {one.good} of the shop's {count(one.cases, 'contact')} good that mattered: the next "
        f"time it helps with a chance of {show_percent(one.chance)} ({show_percent(one.low)} to {show_percent(one.high)})."
    )


def change_words(one: ChangeAnswer) -> str:
    """What a remedy did to the resistance."""
    what = capital(_UNTREATED if one.name == LEAVE else doing(one.name))
    over = f"{count(one.contacts, 'contact')}{f' of {one.jobs} jobs' if one.jobs > 1 else ''}"
    text = f"{what} left {times(one.ratio, one.low, one.high)} the resistance, over {over}"
    if one.low is None or one.high is None:
        return f"{text}: one contact says nothing of others."
    if one.low <= 1 <= one.high:
        text += "; that it changes anything is not shown"
    if one.next_low is not None and one.next_high is not None and one.next_high > one.high * _TOLD_APART:
        text += f"; in a next job {times(one.ratio, one.next_low, one.next_high).partition(' (')[2].rstrip(')')} times"
    return f"{text}."


def look_words(look: NextLookAnswer | None, why_not: str) -> str:
    """When to look again, or why that is not known."""
    if look is None:
        return why_not
    after = f" after {doing(look.after)}" if look.after else ""
    if look.before_each_use:
        return f"Next look{after}: before each use. It may matter within a day, so that a date is of no use."
    if look.soonest is None:
        return f"Next look{after}: nothing known asks for one."
    reason = {
        "air": "by the air it is kept in, for silver that nothing rubs",
        "trend": "by the trend of its own readings",
        "history": "its history says nothing beyond that day",
    }[look.reason or "air"]
    if look.reason == "history":
        return f"Next look{after}: on {look.soonest} at the latest; {reason}."
    until = f"surely by {look.latest}" if look.latest else "it is not known by when it surely does"
    return f"Next look{after}: on {look.soonest}. From then on it may matter, {until} ({reason})."


def yearly_words(trend: TrendAnswer) -> str:
    """What a year does by the line."""
    change = times(trend.per_year, trend.per_year_low, trend.per_year_high)
    return f"In a year the resistance becomes {change} itself."


def switch_words(what: str, value: float, at: float, instead: str, currency: str) -> str:
    """What would change the advice, in words."""
    more = at > value
    then = f"the cheapest would be {doing(instead)}"
    if what == MATTERS:
        return (
            f"Were the chance that it matters {'above' if more else 'below'} {show_percent(at)} (it is {show_percent(value)}), "
            f"{then}."
        )
    if what in (LABOUR, FAILURE):
        thing = "an hour of labour" if what == LABOUR else "a contact that fails at the customer"
        told = f"{'more' if more else 'less'} than {money(at, currency)} (it is {money(value, currency)})"
        return f"If {thing} cost {told}, {then}."
    return (
        f"If {doing(what)} helped {'more' if more else 'less'} often than {show_percent(at)} (expected: {show_percent(value)}), "
        f"{then}."
    )


def change_note(one: ChangeAnswer) -> str:
    """The exact test, for a table."""
    return p_value(one.exact_p_value)


def care_method(answer: CareAnswer) -> tuple[tuple[str, ...], list[str]]:
    """How it was reckoned, and keys of the sources."""
    coverage = f"{100 * answer.coverage:g} %"
    method = [
        "The chance that it matters is that of its resistance being above the limit, from what was read and how well.",
        (
            "Cost is expected cost: labour and parts of what is done, the test after each, what follows while it still matters, "
            "and the price of a failure times the chance to end with one. The best course is found over all orders of the "
            "remedies, none used twice; it is taken for granted that the test tells rightly."
        ),
        (
            f"The {coverage} intervals of the costs hold what is not known of how often remedies help, as draws from what the "
            "records leave open. They are no forecast of what this one contact will cost."
        ),
        (
            "How often a remedy helps: a first guess worth two cases (common practice), and every recorded contact that was "
            "above the limit before it; it helped where the contact was not above the limit afterwards. Record failures too: "
            "records of successes alone teach nothing."
        ),
    ]
    keys = ["JCGM106", "least-cost-testing", "Bayes-Laplace", "practice"]
    if answer.changes:
        method.append(
            "Before and after: the mean of the logarithms of after over before, each contact its own control, Student's t; "
            "several jobs are pooled with what they differ by. Contacts that are picked because they read high come down a "
            "little by themselves when read again: outcomes under 'leave', of contacts read twice and left alone, show how much."
        )
        keys += ["Fisher-sign-flip", "PattersonThompson", "HartungKnapp", "KnappHartung-guard"]
    if answer.trend is not None:
        method.append(
            "The trend is a straight line through the logarithms of the readings since the last treatment, followed no further "
            f"than the history is long; the limit is reached between the days where the {coverage} interval of the next reading "
            "comes to it."
        )
        keys += ["Fieller", "GraybillIyer"]
    if answer.next_look is not None and answer.next_look.reason == "air":
        method.append(
            "By the air: the film that the class of air grows on bare silver, at its fastest and its slowest, and what such a "
            "film adds where nothing rubs it through, at most and at least. A contact that wipes as it is mated may wait."
        )
        keys += ["ISA71.04", "TamaiKuranaga", "tarnish-memory"]
    return tuple(method), list(dict.fromkeys(keys))
