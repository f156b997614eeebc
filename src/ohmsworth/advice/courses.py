"""The cheapest course of remedies for a contact: try one, test again, try the next, or stop.

Known to matter, with the set S of remedies tried already:

    V(S) = min( F, min over r not in S of  c_r + t + (1 − q_r) V(S ∪ {r}) )

c_r labour and material of a remedy, t the test after it, q_r the chance that it leaves good a contact that mattered, F what it
costs to stop at a contact that matters. Before the first remedy it matters only with probability p:

    C(r) = c_r + t + (p (1 − q_r) + (1 − p) h_r) V({r}),   C(measure again) = t + p V({}),   C(leave) = p F.

h_r is the chance that r spoils a contact that did not matter. It is taken for granted that the test after a remedy tells
rightly, that no remedy is tried twice, and that how one turned out says nothing of the next. Then the mean chance is all that
counts of a chance that is not known for sure. Where F is beyond all else the best order is by (c_r + t)/q_r, the smallest first
(source: least-cost-testing).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from ohmsworth.advice.remedies import Remedy
from ohmsworth.errors import ArgumentFault

#: The course that begins with nothing but the test, made well enough to tell.
MEASURE = "measure again"
#: More remedies than this are more than a contact ever has, and too many sets of them to look at.
MOST_REMEDIES = 12


@dataclass(frozen=True, slots=True)
class Prices:
    """What time and trouble cost, in the shop's money.

    Parameters
    ----------
    labour
        An hour.
    failure
        A contact that matters and is left: a return, a repair under guarantee, a lost customer.
    retest_minutes
        The test after each remedy.
    """

    labour: float
    failure: float
    retest_minutes: float

    def __post_init__(self) -> None:
        for name in ("labour", "failure", "retest_minutes"):
            value = getattr(self, name)
            if not (math.isfinite(value) and value >= 0):
                raise ArgumentFault(name, value, "a finite number, zero or more")


@dataclass(frozen=True, slots=True)
class Costs:
    """Expected cost of a course, in the shop's money.

    Parameters
    ----------
    labour, material
        Of the first remedy, the test after it included; or of the test alone.
    further
        Of what follows if the first does not help.
    failing
        Of ending with a contact that matters.
    """

    labour: float
    material: float
    further: float
    failing: float

    @property
    def total(self) -> float:
        """All of it."""
        return self.labour + self.material + self.further + self.failing


@dataclass(frozen=True, slots=True)
class Course:
    """What to do first, and what next as long as the contact still matters.

    Parameters
    ----------
    names
        Remedies in their order, MEASURE perhaps before them; none: leave it.
    costs
        Expected.
    chance_bad
        That it ends with a contact that matters.
    """

    names: tuple[str, ...]
    costs: Costs
    chance_bad: float


@dataclass(frozen=True, slots=True)
class _Rest:
    """The best that can follow for a contact known to matter: what it costs beside failing, and how likely it fails."""

    names: tuple[str, ...]
    spent: float
    bad: float


def best_courses(chance_matters: float, remedies: Sequence[Remedy], prices: Prices) -> tuple[Course, ...]:
    """The best course that begins with each remedy, measuring again, and leaving it.

    The cheapest first; of equals what does less.

    Parameters
    ----------
    chance_matters
        That the contact as found matters, 0 to 1.
    remedies
        Those that are allowed, at most MOST_REMEDIES.
    prices
        Of time and of failing.
    """
    if not 0 <= chance_matters <= 1:
        raise ArgumentFault("chance_matters", chance_matters, "0 to 1")
    after = rest_of(remedies, prices)
    courses = [Course((), Costs(0.0, 0.0, 0.0, chance_matters * prices.failure), chance_matters)]
    courses += [_begun(i, chance_matters, remedies, prices, after) for i in (None, *range(len(remedies)))]
    return tuple(sorted(courses, key=lambda course: course.costs.total))


def _begun(
    index: int | None, chance: float, remedies: Sequence[Remedy], prices: Prices, after: _RestOf
) -> Course:
    """The best course that begins with a remedy, or (None) with measuring again."""
    if index is None:
        name, bad, rest = MEASURE, chance, after(frozenset())
        labour, material = prices.retest_minutes / 60 * prices.labour, 0.0
    else:
        remedy, rest = remedies[index], after(frozenset({index}))
        name, labour, material = remedy.name, labour_of(remedy, prices), remedy.material
        bad = chance * (1 - remedy.chance.mean) + (1 - chance) * remedy.harm
    costs = Costs(labour, material, bad * rest.spent, bad * rest.bad * prices.failure)
    return Course((name, *rest.names), costs, bad * rest.bad)


def pays_above(name: str, remedies: Sequence[Remedy], prices: Prices) -> float | None:
    """The chance that a contact matters from which a way to begin, and what best follows it, costs less than leaving it.

    None where it never pays: not even for a contact that surely matters.

    Parameters
    ----------
    name
        Of one of the remedies, or MEASURE.

    Notes
    -----
    Both costs are straight lines in the chance p, C(0) + p (C(1) − C(0)) and p F, and cross at
    p = C(0)/(F − C(1) + C(0)).
    """
    index = None if name == MEASURE else [one.name for one in remedies].index(name)
    after = rest_of(remedies, prices)
    none, sure = (_begun(index, p, remedies, prices, after).costs.total for p in (0.0, 1.0))
    if sure >= prices.failure:
        return None
    return none / (prices.failure - sure + none)


def rest_of(remedies: Sequence[Remedy], prices: Prices) -> _RestOf:
    """V(S) as a function of the set of remedies tried, each set looked at once."""
    if len(remedies) > MOST_REMEDIES:
        raise ArgumentFault("remedies", len(remedies), f"at most {MOST_REMEDIES}")
    names = [one.name for one in remedies]
    if len({*names, MEASURE}) != len(names) + 1:
        raise ArgumentFault("remedies", names, f"each name once, and none of them {MEASURE!r}")
    return _RestOf(remedies, prices)


class _RestOf:
    """Dynamic programming over sets of remedies, for a contact that is known to matter."""

    def __init__(self, remedies: Sequence[Remedy], prices: Prices) -> None:
        self._failure = prices.failure
        self._each = [
            (one.name, labour_of(one, prices) + one.material, 1 - one.chance.mean) for one in remedies
        ]
        self._best = cache(self._find)

    def __call__(self, tried: frozenset[int]) -> _Rest:
        return self._best(tried)

    def _find(self, tried: frozenset[int]) -> _Rest:
        best = _Rest((), 0.0, 1.0)
        for i, (name, cost, miss) in enumerate(self._each):
            if i in tried:
                continue
            then = self._best(tried | {i})
            one = _Rest((name, *then.names), cost + miss * then.spent, miss * then.bad)
            if self._value(one) < self._value(best):
                best = one
        return best

    def _value(self, rest: _Rest) -> float:
        return rest.spent + rest.bad * self._failure


def labour_of(remedy: Remedy, prices: Prices) -> float:
    """Labour of a remedy and of the test after it."""
    return (remedy.minutes + prices.retest_minutes) / 60 * prices.labour
