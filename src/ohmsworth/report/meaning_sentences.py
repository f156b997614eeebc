"""What resistances mean, in sentences."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ohmsworth.report.meaning import AskedAnswer, MeaningAnswer, ReachedAnswer
from ohmsworth.report.use_answers import ThresholdAnswer, UseAnswer
from ohmsworth.report.use_words import provisos, unmet, unmet_words
from ohmsworth.report.words import capital, count, listed
from ohmsworth.units import show

#: So many uses, or things that happen, are told by name.
_TOLD = 3
#: A threshold where a resistance reaches it, with its use.
_Known = tuple[float, UseAnswer, ThresholdAnswer]


def meaning_sentence(answer: MeaningAnswer) -> str:
    """The answer: what circuits do not meet by themselves, in how many each resistance matters or which matters first.

    Of uses that no number may release, only where the first threshold lies and what is past it; never what is below.
    """
    free = [use for use in answer.uses if not use.proviso]
    bound = [use for use in answer.uses if use.proviso]
    told = _by_themselves(answer.uses)
    if free:
        sentence = _asked(answer.asked, free) if answer.asked else _first_of_all(free)
        named = len(free) == 1 and not any(unmet(use) for use in free)
        told.append(f"{capital(free[0].name)}: {sentence}" if named else capital(sentence))
    told += [f"{capital(use.name)}: {_bound(use, answer.asked)}" for use in bound]
    return " ".join([*told, *provisos(bound)])


def meaning_findings(answer: MeaningAnswer) -> tuple[str, ...]:
    """Each resistance with what it is past, what comes next, and what the bands of the curves hold."""
    found = _all_reached(answer) if len(answer.uses) == 1 else _uses_reached(answer)
    if answer.asked:
        found += _next(answer, max(one.resistance for one in answer.asked))
    if answer.spread is not None:
        found.append(
            f"The bands of the curves hold 95 % of sets of contacts that scatter by {100 * answer.spread:.3g} % "
            "about each resistance."
        )
    return tuple(found)


def _by_themselves(uses: Iterable[UseAnswer]) -> list[str]:
    """What circuits are past with ideal contacts already."""
    told = []
    for use in uses:
        words = list(dict.fromkeys(unmet_words(use, t) for t in unmet(use)))
        if words:
            told.append(f"{capital(use.name)}: {'; '.join(words)}: no contact can mend that.")
    return told


def _first_of_all(uses: Sequence[UseAnswer]) -> str:
    """The threshold with the smallest resistance."""
    among = _among(uses)
    first = min(_known(uses), key=lambda one: one[0], default=None)
    if first is None:
        other = "another" if any(unmet(use) for use in uses) else "a"
        return f"no contact resistance below a megohm reaches {other} threshold{among}."
    ohm, use, threshold = first
    where = f"{use.name}, " if among else ""
    return f"the first threshold{among} lies at {show(ohm, 'Ω', 2)}: {where}{_words(threshold)}."


def _asked(asked: Sequence[AskedAnswer], uses: Sequence[UseAnswer]) -> str:
    """Resistances with the same outcome together."""
    by_outcome: dict[tuple[str, str], list[str]] = {}
    for one in asked:
        by_outcome.setdefault(_outcome(one, uses), []).append(one.name)
    return "; ".join(f"{listed(names)} {verb[len(names) > 1]}" for verb, names in by_outcome.items()) + "."


def _outcome(one: AskedAnswer, uses: Sequence[UseAnswer]) -> tuple[str, str]:
    """What one resistance does in `uses`, and the same of several."""
    among, reached = _among(uses), _by_contacts(one, uses)
    if not reached:
        other = "no other threshold" if any(unmet(use) for use in uses) else "no threshold"
        return f"reaches {other}{among}", f"reach {other}{among}"
    if not among:
        words = _joined(r.words for r in reached)
        return f"is past where {words}", f"are past where {words}"
    names = list(dict.fromkeys(r.use for r in reached))
    if len(names) == len(uses):
        return f"matters in all{among.removeprefix(' in')}", f"matter in all{among.removeprefix(' in')}"
    told = f"in {len(names)} of{among.removeprefix(' in')} ({listed(names, _TOLD)})"
    return f"matters {told}", f"matter {told}"


def _bound(use: UseAnswer, asked: Sequence[AskedAnswer]) -> str:
    """Where the first threshold of a use lies, and which resistances are past it."""
    first = min(_known([use]), key=lambda one: one[0], default=None)
    lies = (
        "no threshold lies between a microohm and a megohm"
        if first is None
        else f"the first threshold lies at {show(first[0], 'Ω', 2)} ({first[2].words}; {first[2].position})"
    )
    past = [one.name for one in asked if _by_contacts(one, [use])]
    are = "is" if len(past) == 1 else "are"
    return f"{lies}; {listed(past)} {are} past it." if past else f"{lies}."


def _joined(words: Iterable[str]) -> str:
    """The first of `words`, each once, and once what all of them end with: "a: stop" and "b: stop" are "a and b: stop"."""
    parts = [_parted(one) for one in dict.fromkeys(words)]
    tails = {tail for _, tail in parts}
    if len(tails) > 1:
        return listed([body + tail for body, tail in parts], _TOLD)
    return listed([body for body, _ in parts], _TOLD) + tails.pop()


def _parted(words: str) -> tuple[str, str]:
    """What happens, and what it asks for."""
    body, mark, rest = words.partition(": ")
    return body, mark + rest


def _all_reached(answer: MeaningAnswer) -> list[str]:
    """What each resistance is past in the only use, with where that begins: what a smaller one is past too is told once."""
    told = []
    before: list[ReachedAnswer] = []
    for one in sorted(answer.asked, key=lambda one: one.resistance):
        reached = _by_contacts(one, answer.uses)
        too = bool(before) and all(r in reached for r in before)
        new = [r for r in reached if not (too and r in before)]
        if new:
            told.append(f"{one.name} is past this{' too' if too else ''}: {_all_past(new)}.")
        elif reached:
            told.append(f"{one.name} is past the same.")
        before = reached
    return told


def _all_past(reached: Sequence[ReachedAnswer]) -> str:
    tails = dict.fromkeys(_parted(r.words)[1] for r in reached)
    return "; ".join(_past(r) for r in reached) + "".join(tails)


def _past(reached: ReachedAnswer) -> str:
    begins = "" if reached.resistance is None else f", from {show(reached.resistance, 'Ω', 2)}"
    return f"{_parted(reached.words)[0]}{begins} ({reached.position})"


def _uses_reached(answer: MeaningAnswer) -> list[str]:
    """The uses in which each resistance is past a threshold, with where the first of those begins."""
    by_uses: dict[str, list[str]] = {}
    for one in answer.asked:
        first: dict[str, str] = {}
        for r in _by_contacts(one, answer.uses):
            begins = "beyond a megohm" if r.resistance is None else show(r.resistance, "Ω", 2)
            first.setdefault(r.use, f"{r.use} ({begins})")
        if first:
            by_uses.setdefault(listed(list(first.values()), 12), []).append(one.name)
    return [
        f"{listed(names)} {'is' if len(names) == 1 else 'are'} past where these begin to suffer: {uses}."
        for uses, names in by_uses.items()
    ]


def _by_contacts(one: AskedAnswer, uses: Sequence[UseAnswer]) -> list[ReachedAnswer]:
    """What a resistance is past in `uses` that ideal contacts are not."""
    named = {use.name for use in uses}
    return [reached for reached in one.reached if reached.use in named and not reached.by_itself]


def _next(answer: MeaningAnswer, ohm: float) -> list[str]:
    """The first threshold beyond the largest resistance asked about."""
    beyond = [one for one in _known(answer.uses) if one[0] > ohm]
    if not beyond:
        return []
    at, use, threshold = min(beyond, key=lambda one: one[0])
    where = f"{use.name}, " if len(answer.uses) > 1 else ""
    told = f"Next comes {show(at, 'Ω', 2)}: {where}{_words(threshold)}."
    return [f"{told} {use.proviso}".rstrip()]


def _known(uses: Sequence[UseAnswer]) -> list[_Known]:
    """Every threshold that a resistance reaches."""
    return [(t.resistance, use, t) for use in uses for t in use.thresholds if t.resistance is not None]


def _words(threshold: ThresholdAnswer) -> str:
    return f"{threshold.words} ({threshold.position})"


def _among(uses: Sequence[UseAnswer]) -> str:
    """`` in 9 uses``; nothing where there is only one."""
    return f" in {count(len(uses), 'use')}" if len(uses) > 1 else ""
