"""Leave it, exercise it, clean it, terminate it anew, replace it: what is to be expected to cost least, and what decides that.

The chance that a contact matters is the chance that its resistance is above the margin, from what was read and how well. The
cheapest course follows from it (`courses.py`). What a maker's instructions forbid is never among the courses: they prevail.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from itertools import pairwise

from scipy import optimize

from ohmsworth.advice.actions import Action
from ohmsworth.advice.cautions import UNPOWERED
from ohmsworth.advice.courses import MEASURE, Course, Prices, best_courses, pays_above
from ohmsworth.advice.remedies import Remedy, times_left
from ohmsworth.errors import ArgumentFault
from ohmsworth.inference.conformity import probability_within
from ohmsworth.inference.outcomes import Outcomes, Prior
from ohmsworth.materials.span import Span
from ohmsworth.units import show_percent

#: The name of the course that does nothing.
LEAVE = "leave"
#: What is varied: prices by this factor either way, chances over their interval of this coverage; in so many steps.
FACTOR, COVERAGE, _STEPS = 2.0, 0.9, 24
#: Inputs that may change the best course, beside the chance that each remedy helps.
MATTERS, LABOUR, FAILURE = "chance that it matters", "labour", "cost of failure"


@dataclass(frozen=True, slots=True)
class Found:
    """A contact as found: ohm, standard uncertainty, degrees of freedom."""

    resistance: float
    uncertainty: float
    freedom: float = math.inf

    def __post_init__(self) -> None:
        if not math.isfinite(self.resistance):
            raise ArgumentFault("resistance", self.resistance, "a resistance in ohm")
        if not (math.isfinite(self.uncertainty) and self.uncertainty >= 0):
            raise ArgumentFault("uncertainty", self.uncertainty, "ohm, zero or more")
        if not self.freedom > 0:
            raise ArgumentFault("freedom", self.freedom, "more than zero")


@dataclass(frozen=True, slots=True)
class Option:
    """One way to begin, with the best that follows.

    Parameters
    ----------
    name
        Of the first remedy, MEASURE or LEAVE.
    course
        What follows it while the contact still matters, and what all of it is expected to cost.
    pays_above
        Chance that the contact matters from which it costs less than leaving it; None where it never does, and for leaving.
    times_left
        How often the plating bears it yet; None where nothing is stated.
    """

    name: str
    course: Course
    pays_above: float | None
    times_left: Span | None


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A remedy that is not among the options, and why, as a sentence."""

    name: str
    why: str


@dataclass(frozen=True, slots=True)
class Switch:
    """An input that would change the best way to begin.

    Parameters
    ----------
    what
        MATTERS, LABOUR, FAILURE or the name of a remedy, whose chance to help is meant.
    value
        As it is now.
    at
        Where the best changes, the nearest such place within what was looked at.
    instead
        What is best beyond.
    """

    what: str
    value: float
    at: float
    instead: str


@dataclass(frozen=True, slots=True)
class Care:
    """What to do with one contact.

    Parameters
    ----------
    chance_matters
        That its resistance is above the margin.
    options
        The cheapest first.
    left_out
        What must not be done, or is of no use.
    switches
        What would change the first of the options.
    remedies
        Those of the options.
    """

    chance_matters: float
    options: tuple[Option, ...]
    left_out: tuple[LeftOut, ...]
    switches: tuple[Switch, ...]
    remedies: tuple[Remedy, ...]

    @property
    def best(self) -> Option:
        """What is to be expected to cost least."""
        return self.options[0]


def advise_care(
    found: Found,
    margin: float,
    remedies: Sequence[Remedy],
    prices: Prices,
    plating: Span | None = None,
    done: Mapping[str, int] | None = None,
) -> Care:
    """Rank what can be done with a contact by what it is to be expected to cost.

    Parameters
    ----------
    found
        The contact as found.
    margin
        Ohm above which it matters in the customer's circuit.
    remedies
        What the shop can do.
    prices
        Of time, and of leaving a contact that matters.
    plating
        Metre of plating when new; None where it is not known.
    done
        How often each remedy has been used on this contact, by name.
    """
    if not (math.isfinite(margin) and margin > 0):
        raise ArgumentFault("margin", margin, "a resistance above 0 ohm")
    chance = 1 - float(probability_within(found.resistance, found.uncertainty, found.freedom, margin))
    left = {one.name: _times(one, plating, done or {}) for one in remedies}
    out = [LeftOut(one.name, why) for one in remedies if (why := _why_not(one, left[one.name]))]
    allowed = tuple(one for one in remedies if one.name not in {gone.name for gone in out})
    options = []
    for course in best_courses(chance, allowed, prices):
        name = course.names[0] if course.names else LEAVE
        pays = None if name == LEAVE else pays_above(name, allowed, prices)
        options.append(Option(name, course, pays, left.get(name)))
    return Care(chance, tuple(options), tuple(out), _switches(chance, allowed, prices), allowed)


def _times(remedy: Remedy, plating: Span | None, done: Mapping[str, int]) -> Span | None:
    return None if plating is None else times_left(plating, remedy, done.get(remedy.name, 0))


def _why_not(remedy: Remedy, left: Span | None) -> str:
    if remedy.forbidden_by:
        return f"{remedy.forbidden_by[:1].upper()}{remedy.forbidden_by[1:]} instructions forbid it, and they prevail."
    if left is not None and left.high < 1:
        return "There is not plating enough left for it, even at best."
    return ""


def _switches(chance: float, remedies: tuple[Remedy, ...], prices: Prices) -> tuple[Switch, ...]:
    """What changes the best way to begin, each input by itself."""

    def if_it_matters(p: float) -> str:
        return _begin(p, remedies, prices)

    def at_labour(price: float) -> str:
        return _begin(chance, remedies, replace(prices, labour=price))

    def at_failure(price: float) -> str:
        return _begin(chance, remedies, replace(prices, failure=price))

    found = _nearest(MATTERS, chance, (0.0, 1.0), if_it_matters)
    found += _nearest(LABOUR, prices.labour, (prices.labour / FACTOR, prices.labour * FACTOR), at_labour)
    found += _nearest(FAILURE, prices.failure, (prices.failure / FACTOR, prices.failure * FACTOR), at_failure)
    for one in remedies:
        mean, (low, high) = one.chance.mean, one.chance.interval(COVERAGE)
        ends = max(min(low, mean), 1e-9), min(max(high, mean), 1 - 1e-9)
        found += _nearest(
            one.name, mean, ends, partial(_begin_if_it_helps, one.name, chance, remedies, prices)
        )
    return tuple(found)


def _begin(chance: float, remedies: Sequence[Remedy], prices: Prices) -> str:
    """The name of the best way to begin."""
    names = best_courses(chance, remedies, prices)[0].names
    return names[0] if names else LEAVE


def _begin_if_it_helps(
    name: str, chance: float, remedies: Sequence[Remedy], prices: Prices, helps: float
) -> str:
    """The same, were the chance that one remedy helps another one; only the mean of a chance counts."""
    told = Prior(helps, 1.0)
    varied = [replace(one, prior=told, seen=Outcomes(0, 0)) if one.name == name else one for one in remedies]
    return _begin(chance, varied, prices)


def _nearest(
    what: str, value: float, ends: tuple[float, float], best: Callable[[float], str]
) -> list[Switch]:
    """The nearest change of the best on either side of the value, if any within the ends."""
    now = best(value)
    found = []
    for end in ends:
        places = [value + (end - value) * i / _STEPS for i in range(_STEPS + 1)]
        for near, far in pairwise(places):
            if best(far) == now:
                continue
            at = optimize.bisect(
                lambda x: 1.0 if best(x) == now else -1.0, near, far, xtol=1e-9 * abs(end - value)
            )
            found.append(Switch(what, value, float(at), best(far)))
            break
    return found


def for_care(care: Care) -> list[Action]:
    """What to do, step by step, with why, the cautions beside each step, and the test that closes the job."""
    begin = _leave(care) if care.best.name == LEAVE else [*_begin_with(care), _retest(care)]
    return begin + [Action(f"Do not use '{gone.name}' on this contact.", gone.why) for gone in care.left_out]


def _doing(care: Care) -> dict[str, str]:
    """The doing of each way to begin, in words."""
    return {MEASURE: "measuring again", **{one.name: one.doing for one in care.remedies}}


def _leave(care: Care) -> list[Action]:
    chances = [(option.pays_above, option.name) for option in care.options if option.pays_above is not None]
    why = "nothing that may be done to it would pay"
    if chances:
        at, name = min(chances)
        why = f"{_doing(care)[name]} would pay above {show_percent(at)}"
    matters = f"The chance that the contact matters is {show_percent(care.chance_matters)}"
    return [Action("Leave this contact as it is.", f"{matters}; {why}.")]


def _begin_with(care: Care) -> list[Action]:
    """The first remedy with its steps, or measuring again."""
    best, doing = care.best, _doing(care)
    pays = f"{doing[best.name][:1].upper()}{doing[best.name][1:]} pays"
    why = (
        f"{pays} when the chance that the contact matters is above {show_percent(best.pays_above or 0.0)}; it is "
        f"{show_percent(care.chance_matters)}."
    )
    if best.name == MEASURE:
        return [
            Action("Measure it again before anything is done to it, on several matings.", why, (UNPOWERED,))
        ]
    remedy = next(one for one in care.remedies if one.name == best.name)
    thin = best.times_left is not None and best.times_left.low < 1
    wear = ("It may go through the plating: look at it under a magnifier first.",) if thin else ()
    steps = [Action(step.words, f"About {step.minutes:g} min.", step.cautions) for step in remedy.steps]
    return [Action(f"{remedy.words}.", why, wear), *steps]


def _retest(care: Care) -> Action:
    """The test that closes the job, and what follows where it does not."""
    course, doing = care.best.course, _doing(care)
    then = [doing[name] for name in course.names[1:]]
    further = f" If it still is, go on with {', then '.join(then)}, and test after each." if then else ""
    left = show_percent(course.chance_bad)
    ends = f"Of such contacts {left} would still matter at the end: do not hand those over."
    closed = "the job is closed when it is not above the margin."
    if care.best.name == MEASURE:
        return Action(
            f"Read at dry-circuit level: {closed}{further.replace('still is', 'is')}", ends, (UNPOWERED,)
        )
    return Action(f"Read it again at dry-circuit level: {closed}{further}", ends, (UNPOWERED,))
