"""What resistances mean, in sentences."""

from __future__ import annotations

from ohmsworth.report.meaning import AskedAnswer, MeaningAnswer, ReachedAnswer
from ohmsworth.report.words import count, listed
from ohmsworth.units import show


def meaning_sentence(answer: MeaningAnswer) -> str:
    """The answer in a sentence: in how many uses each resistance matters, or which matters first."""
    if not answer.asked:
        return _first_of_all(answer)
    return f"{_capital('; '.join(_asked(one, answer) for one in answer.asked))}."


def meaning_findings(answer: MeaningAnswer) -> tuple[str, ...]:
    """Each resistance with what it is past, and what comes next."""
    single = len(answer.uses) == 1
    found = [_of_one(one) if single else _by_use(one) for one in answer.asked if one.reached]
    if answer.asked:
        found += _next(answer, max(one.resistance for one in answer.asked))
    return (*found, *dict.fromkeys(use.proviso for use in answer.uses if use.proviso))


def _first_of_all(answer: MeaningAnswer) -> str:
    listed_ = [
        (t.resistance, use.name, t) for use in answer.uses for t in use.thresholds if t.resistance is not None
    ]
    if not listed_:
        return f"No contact resistance below a megohm reaches a threshold in {_uses(len(answer.uses))}."
    ohm, name, threshold = min(listed_, key=lambda one: one[0])
    where = f"in {_uses(len(answer.uses))} " if len(answer.uses) > 1 else ""
    return (
        f"What matters first {where}begins at {show(ohm, 'Ω', 2)}: {name}, {threshold.words} "
        f"({threshold.position})."
    )


def _asked(one: AskedAnswer, answer: MeaningAnswer) -> str:
    names = _names(one.reached)
    if len(answer.uses) == 1:
        words = [r.words for r in one.reached]
        return (
            f"at {one.name} {listed(words, 3)}"
            if words
            else f"{one.name} reaches no threshold of {answer.uses[0].name}"
        )
    if not names:
        return f"{one.name} reaches no threshold in {_uses(len(answer.uses))}"
    if len(names) == len(answer.uses):
        return f"{one.name} matters in all {_uses(len(answer.uses))}"
    told = listed(names, 3)
    return f"{one.name} matters in {len(names)} of {_uses(len(answer.uses))} ({told})"


def _of_one(one: AskedAnswer) -> str:
    """Everything that a resistance is past in the only use."""
    return f"{one.name}: {'; '.join(_past(reached) for reached in one.reached)}."


def _by_use(one: AskedAnswer) -> str:
    """The uses of which a resistance is past the first threshold, with where that begins."""
    first: dict[str, ReachedAnswer] = {}
    for reached in one.reached:
        first.setdefault(reached.use, reached)
    told = [
        f"{name} ({'by itself' if reached.resistance is None else show(reached.resistance, 'Ω', 2)})"
        for name, reached in first.items()
    ]
    return f"{one.name} is past where these begin to suffer: {listed(told, 12)}."


def _past(reached: ReachedAnswer) -> str:
    if reached.resistance is None:
        return f"{reached.words} already with ideal contacts"
    return f"{reached.words}, from {show(reached.resistance, 'Ω', 2)} ({reached.position})"


def _next(answer: MeaningAnswer, ohm: float) -> list[str]:
    """The first threshold beyond the largest resistance asked about."""
    beyond = [
        (t.resistance, use.name, t) for use in answer.uses for t in use.thresholds if t.resistance is not None
    ]
    beyond = [one for one in beyond if one[0] > ohm]
    if not beyond:
        return []
    at, name, threshold = min(beyond, key=lambda one: one[0])
    return [f"Next comes {show(at, 'Ω', 2)}: {name}, {threshold.words} ({threshold.position})."]


def _names(reached: tuple[ReachedAnswer, ...]) -> list[str]:
    return list(dict.fromkeys(one.use for one in reached))


def _uses(number: int) -> str:
    return count(number, "use")


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
