"""What resistances mean, in sentences."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ohmsworth.report.meaning import AskedAnswer, MeaningAnswer, ReachedAnswer
from ohmsworth.report.sentences import unmet, unmet_words
from ohmsworth.report.use_answers import ThresholdAnswer, UseAnswer
from ohmsworth.report.words import count, listed
from ohmsworth.units import show

#: So many uses, or things that happen, are told by name.
_TOLD = 3


def meaning_sentence(answer: MeaningAnswer) -> str:
    """The answer: what the circuits do not meet by themselves, in how many each resistance matters or which matters first.

    Where a use has a proviso it comes last, so that no number stands without it.
    """
    unmet_ones = _by_themselves(answer.uses)
    told = _asked(answer) if answer.asked else _first_of_all(answer)
    named = len(answer.uses) == 1 and not unmet_ones
    told = f"{_capital(answer.uses[0].name)}: {told}" if named else _capital(told)
    return " ".join([*unmet_ones, told, *_provisos(answer.uses)])


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
            told.append(f"{_capital(use.name)}: {'; '.join(words)}: no contact can mend that.")
    return told


def _provisos(uses: Sequence[UseAnswer]) -> list[str]:
    """What follows on any number, with the names of its uses where there are others."""
    named: dict[str, list[str]] = {}
    for use in uses:
        named.setdefault(use.proviso, []).append(use.name)
    if len(named) == 1:
        return [text for text in named if text]
    return [
        f"{_capital(listed(names))}: {text[:1].lower()}{text[1:]}" for text, names in named.items() if text
    ]


def _first_of_all(answer: MeaningAnswer) -> str:
    """The threshold with the smallest resistance."""
    among = _uses(answer)
    first = min(_known(answer), key=lambda one: one[0], default=None)
    if first is None:
        other = "another" if any(unmet(use) for use in answer.uses) else "a"
        return f"no contact resistance below a megohm reaches {other} threshold{among and f' in {among}'}."
    ohm, use, threshold = first
    return f"the first threshold{among and f' in {among}'} lies at {show(ohm, 'Ω', 2)}: {_at(use, threshold, answer)}."


def _asked(answer: MeaningAnswer) -> str:
    """Resistances with the same outcome together."""
    by_outcome: dict[tuple[str, str], list[str]] = {}
    for one in answer.asked:
        by_outcome.setdefault(_outcome(one, answer), []).append(one.name)
    return "; ".join(f"{listed(names)} {verb[len(names) > 1]}" for verb, names in by_outcome.items()) + "."


def _outcome(one: AskedAnswer, answer: MeaningAnswer) -> tuple[str, str]:
    """What one resistance does, and the same of several."""
    reached, among = _by_contacts(one), _uses(answer)
    if not reached:
        other = "no other threshold" if one.reached else "no threshold"
        where = among and f" in {among}"
        return f"reaches {other}{where}", f"reach {other}{where}"
    if not among:
        words = _joined([r.words for r in reached])
        return f"is past where {words}", f"are past where {words}"
    names = list(dict.fromkeys(r.use for r in reached))
    if len(names) == len(answer.uses):
        return f"matters in all {among}", f"matter in all {among}"
    told = f"in {len(names)} of {among} ({listed(names, _TOLD)})"
    return f"matters {told}", f"matter {told}"


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
    """Everything that each resistance is past in the only use, with where that begins."""
    told = []
    for one in answer.asked:
        reached = _by_contacts(one)
        if reached:
            tails = dict.fromkeys(_parted(r.words)[1] for r in reached)
            past = "; ".join(_past(r) for r in reached)
            told.append(f"{one.name} is past this: {past}{''.join(tails)}.")
    return told


def _past(reached: ReachedAnswer) -> str:
    begins = "" if reached.resistance is None else f", from {show(reached.resistance, 'Ω', 2)}"
    return f"{_parted(reached.words)[0]}{begins} ({reached.position})"


def _uses_reached(answer: MeaningAnswer) -> list[str]:
    """The uses in which each resistance is past a threshold, with where the first of those begins."""
    by_uses: dict[str, list[str]] = {}
    for one in answer.asked:
        first: dict[str, str] = {}
        for r in _by_contacts(one):
            begins = "beyond a megohm" if r.resistance is None else show(r.resistance, "Ω", 2)
            first.setdefault(r.use, f"{r.use} ({begins})")
        if first:
            by_uses.setdefault(listed(list(first.values()), 12), []).append(one.name)
    return [
        f"{listed(names)} {'is' if len(names) == 1 else 'are'} past where these begin to suffer: {uses}."
        for uses, names in by_uses.items()
    ]


def _by_contacts(one: AskedAnswer) -> list[ReachedAnswer]:
    """What a resistance is past that ideal contacts are not."""
    return [reached for reached in one.reached if not reached.by_itself]


def _next(answer: MeaningAnswer, ohm: float) -> list[str]:
    """The first threshold beyond the largest resistance asked about."""
    beyond = [one for one in _known(answer) if one[0] > ohm]
    if not beyond:
        return []
    at, use, threshold = min(beyond, key=lambda one: one[0])
    told = f"Next comes {show(at, 'Ω', 2)}: {_at(use, threshold, answer)}."
    return [f"{told} {use.proviso}".rstrip()]


def _known(answer: MeaningAnswer) -> list[tuple[float, UseAnswer, ThresholdAnswer]]:
    """Every threshold that a resistance reaches."""
    return [(t.resistance, use, t) for use in answer.uses for t in use.thresholds if t.resistance is not None]


def _at(use: UseAnswer, threshold: ThresholdAnswer, answer: MeaningAnswer) -> str:
    where = f"{use.name}, " if len(answer.uses) > 1 else ""
    return f"{where}{threshold.words} ({threshold.position})"


def _uses(answer: MeaningAnswer) -> str:
    """``9 uses``; nothing where there is only one."""
    return count(len(answer.uses), "use") if len(answer.uses) > 1 else ""


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
