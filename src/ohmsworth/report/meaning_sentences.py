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
    """Each resistance with what it reaches, and what comes next."""
    found = [_reached(one) for one in answer.asked if one.reached]
    if answer.asked:
        largest = max(one.resistance for one in answer.asked)
        found += _next(answer, largest)
    return tuple(found)


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


def _reached(one: AskedAnswer) -> str:
    told = [_past(r) for r in one.reached]
    return f"{one.name}: {listed(told, 4)}."


def _past(reached: ReachedAnswer) -> str:
    if reached.resistance is None:
        return f"{reached.use}: {reached.words} already with ideal contacts"
    return f"{reached.use}: {reached.words}, from {show(reached.resistance, 'Ω', 2)} ({reached.position})"


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
