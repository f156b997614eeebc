"""How contacts age, in words: which ages faster, or that it cannot be told yet."""

from __future__ import annotations

from ohmsworth.report.answer import Interval
from ohmsworth.report.care.ageing_answer import (
    UNTREATED,
    AgeingAnswer,
    AgeingDifference,
    By,
    Chosen,
    LevelAgeing,
)
from ohmsworth.report.words import capital, count, in_quotes, listed, times
from ohmsworth.units import decimals_for, show_interval, show_percent

FASTER, SLOWER, OPEN = "faster", "slower", "cannot tell yet"
#: Years between the ages of two levels from which on they may be the reason.
_AGE_APART = 1.0
#: Specimens of a level from which on a slope is not told to be of few.
_ENOUGH = 4
#: Levels of which all are named in a sentence.
_MOST_NAMED = 4


def contacts(by: By, name: str) -> str:
    """Contacts of a level in words."""
    if by == "treatment":
        return "contacts that were not treated" if name == UNTREATED else f"contacts after {in_quotes(name)}"
    if by == "age":
        return f"contacts {name}"
    if by in ("plating", "condition"):
        return f"{in_quotes(name)} contacts"
    return f"contacts of {'the lot ' if by == 'supplier lot' else ''}{in_quotes(name)}"


def per_year(ratio: Interval | None) -> str:
    """What a year does to the resistance, with its interval: as a change while it is no more than half or twice.

    Examples
    --------
    >>> per_year(Interval(1.0198, 1.0104, 1.0294)), per_year(Interval(1.4, 0.2, 9.0))
    ('+2.0 % (+1.0 to +2.9 %)', '1.4 times (0.2 to 9.0)')
    """
    if ratio is None:
        return "–"
    if not _is_change(ratio):
        return times(ratio.value, ratio.low, ratio.high)
    value, low, high = (100 * ((end or 0.0) - 1) for end in (ratio.value, ratio.low, ratio.high))
    decimals = min(max(decimals_for((high - low) / 4, 1), 0), 3) if high > low else 1
    text = f"{value:+.{decimals}f} % ({low:+.{decimals}f} to {high:+.{decimals}f} %)"
    return text.replace("-", "−")


def _is_change(ratio: Interval) -> bool:
    return all(end is not None and 0.5 <= end <= 2 for end in (ratio.value, ratio.low, ratio.high))


def _becomes(ratio: Interval | None) -> str:
    """The same as a clause after "the resistance"."""
    verb = "changes by" if ratio is not None and _is_change(ratio) else "becomes"
    return f"{verb} {per_year(ratio)}"


def ageing_sentence(answer: AgeingAnswer) -> str:
    """The answer first."""
    known = [one for one in answer.levels if one.per_year is not None]
    among = _among(answer.only)
    if not known:
        return (
            f"How contacts age by {answer.by} cannot be told yet{among}: that takes two specimens of a kind, each read on two "
            "days or more under the same condition."
        )
    if len(known) == 1:
        one = known[0]
        return f"{capital(contacts(answer.by, one.name))}{among}: in a year the resistance {_becomes(one.per_year)}."
    told = _told_apart(answer)
    if not told:
        names = listed([contacts(answer.by, one.name) for one in known], _MOST_NAMED)
        return f"Which ages faster cannot be told yet{among}: {names}. {_each(known)}"
    if len(known) == 2:
        fast, slow = _in_order(told[0])
        first, second = (next(one for one in known if one.name == name) for name in (fast, slow))
        faster = f"{capital(contacts(answer.by, fast))} age faster than {contacts(answer.by, slow)}{among}"
        lasts = f"; {in_quotes(slow)} lasts longer" if answer.by == "treatment" and slow != UNTREATED else ""
        both = f"of the first {_becomes(first.per_year)}, that of the second {_becomes(second.per_year)}"
        return f"{faster}{lasts}: in a year the resistance {both}."
    return _of_many(answer.by, known, told, among)


def _of_many(by: By, known: list[LevelAgeing], told: list[AgeingDifference], among: str) -> str:
    """The slowest of several, and what surely ages faster."""
    slowest = min(known, key=lambda one: one.log_slope or 0.0)
    behind = [fast for fast, slow in map(_in_order, told) if slow == slowest.name]
    words = f"{capital(contacts(by, slowest.name))} {'keep' if by == 'treatment' else 'age'}"
    words += f" {'best' if by == 'treatment' else 'slowest'}{among}: in a year the resistance {_becomes(slowest.per_year)}"
    if behind:
        return f"{words}. Surely faster age {listed([contacts(by, name) for name in behind], _MOST_NAMED)}."
    pairs = [f"{contacts(by, fast)} than {contacts(by, slow)}" for fast, slow in map(_in_order, told)]
    return f"{words}, though not surely. Surely faster age {listed(pairs, 3)}."


def _each(known: list[LevelAgeing]) -> str:
    if len(known) > _MOST_NAMED:
        return "The picture shows what a year does to each."
    told = [f"{in_quotes(one.name)} {per_year(one.per_year)}" for one in known]
    return f"What a year does to the resistance: {'; '.join(told)}."


def _among(only: tuple[Chosen, ...]) -> str:
    if not only:
        return ""
    return f" (of those with {listed([f'{one.what} {in_quotes(one.value)}' for one in only])})"


def _told_apart(answer: AgeingAnswer) -> list[AgeingDifference]:
    return [one for one in answer.differences if one.verdict != OPEN]


def _in_order(one: AgeingDifference) -> tuple[str, str]:
    """The faster and the slower of the two."""
    return (one.of, one.against) if one.verdict == FASTER else (one.against, one.of)


def ageing_findings(answer: AgeingAnswer) -> tuple[str, ...]:
    """What stands beside the sentence."""
    known = [one for one in answer.levels if one.per_year is not None]
    found = [_doubling(answer, one) for one in known[:_MOST_NAMED]]
    found += [_few(known), _ages(answer, known)]
    found += [
        f"Nothing can be told of {contacts(answer.by, one.name)}: {one.why}."
        for one in answer.levels
        if one.why
    ]
    if answer.unstated:
        what = {"age": "no day on which it was made or received"}.get(answer.by, f"no {answer.by}")
        found.append(
            f"Not counted: {count(answer.unstated, 'specimen')} whose card states {what}. Write it there, and "
            f"{'its' if answer.unstated == 1 else 'their'} readings count, those of earlier years too."
        )
    if answer.waiting:
        found.append(f"Not looked through yet: {answer.waiting} studies. Ask again, and they are.")
    return tuple(words for words in found if words)


def _doubling(answer: AgeingAnswer, one: LevelAgeing) -> str:
    if one.doubles is None or one.doubles.low is None or one.doubles.value is None:
        return ""
    subject = f"The resistance of {contacts(answer.by, one.name)} would be twice as high after"
    if one.doubles.high is None:
        return f"{subject} {_years(one.doubles.low)} at the soonest."
    ends = show_interval(one.doubles.low, one.doubles.high, "years")
    far = " That is far beyond what was followed." if one.doubles.low > 2 * one.followed else ""
    return f"{subject} some {_years(one.doubles.value)} ({ends}), if they go on so.{far}"


def _years(number: float) -> str:
    return f"{number:.0f} years" if number >= 10 else f"{number:.1f} years"


def _few(known: list[LevelAgeing]) -> str:
    few = [one for one in known if one.specimens < _ENOUGH]
    if not few:
        return ""
    told = [f"{in_quotes(one.name)} ({count(one.specimens, 'specimen')})" for one in few]
    return f"Few specimens: {listed(told)}. Further specimens narrow the intervals far more than further readings of these."


def _ages(answer: AgeingAnswer, known: list[LevelAgeing]) -> str:
    """That levels differ in age, where their cards say so."""
    if answer.by == "age":
        return ""
    aged = sorted((one.age, one.name) for one in known if one.age is not None)
    if len(aged) < 2 or aged[-1][0] - aged[0][0] < _AGE_APART:
        return ""
    (young, first), (old, last) = aged[0], aged[-1]
    return (
        f"They are not of one age: {contacts(answer.by, first)} were some {_years(young)} old in the middle of their readings, "
        f"{contacts(answer.by, last)} {_years(old)}. Where contacts age otherwise when young, part of a difference is that."
    )


def ageing_method(answer: AgeingAnswer) -> tuple[str, ...]:
    """How it was reckoned."""
    method = [
        (
            "All readings of a specimen on one day under one condition are one visit, however many matings, contacts and "
            "readings it has: they share the day. Logarithms of resistances by direct current; what was withdrawn or set aside "
            "is out."
        ),
        (
            "Only what changed within a specimen counts: each course, of one condition and from one treatment to the next, has a "
            "height of its own. For a specimen a year of age is a year of the calendar."
        ),
        "A treatment begins a new course: readings after it count from it, and what was read before counts by itself.",
        (
            "Specimens of a kind age differently: their slopes scatter about that of the kind, and their visits about their own "
            "straight line. Both variances by REML, intervals by Kenward and Roger's small-sample inference."
        ),
        "Each kind has its own scatter." if answer.own_scatter else "All kinds together have one scatter.",
        "What differs is what was seen in these specimens: kinds may differ in more than what they are told apart by.",
    ]
    if len(answer.differences) > 1:
        method.append(
            "A kind is told to age faster where the interval says so that holds for all "
            f"{len(answer.differences)} differences at once, with {show_percent(answer.coverage)}."
        )
    return tuple(method)


def ageing_sources(answer: AgeingAnswer) -> list[str]:
    """Keys of the sources."""
    keys = ["LairdWare", "PattersonThompson", "KenwardRoger"]
    return keys + (["Hayter1984"] if len(answer.differences) > 1 else [])
