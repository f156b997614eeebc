"""What is said of contacts against the limit: of those measured one by one, and of others of their kind."""

from __future__ import annotations

from ohmsworth.inference.conformity import OPEN as CLOSE
from ohmsworth.inference.conformity import OVER, WITHIN
from ohmsworth.report.answer import MOVING, Answer, ConditionAnswer, SpecimenAnswer
from ohmsworth.report.states import former, moving_conditions
from ohmsworth.report.words import in_quotes, listed
from ohmsworth.units import show_stated

#: More conditions than this are told together.
_MOST_CONDITIONS = 4
#: What stands for the verdict on a contact of which no uncertainty is known.
UNKNOWN = "not known"
#: What is said of a kind on which its specimens, each of them clear, leave the verdict open.
TOO_FEW = "too few specimens to say"
#: And where there is one specimen.
ONE_ALONE = "one specimen cannot say"


def limit_sentence(answer: Answer) -> str:
    """How many specimens are within the limit, and whether that may be said of others of their kind."""
    assert answer.limit is not None
    limit = f"the limit of {show_stated(answer.limit.resistance, 'Ω')}"
    verdicts: dict[str, list[str]] = {c.condition: [] for c in answer.conditions}
    for s in answer.specimens:
        verdicts[s.condition].append(verdict_word(s))
    everyone = [word for mine in verdicts.values() for word in mine]
    if len(verdicts) == 1:
        told = _tally(everyone, "contacts")
        if len(set(everyone)) == 1 and not {CLOSE, UNKNOWN} & set(everyone):
            return f"{told[0].upper()}{told[1:]} {limit}.{_too_few(answer)}"
    elif len(verdicts) > _MOST_CONDITIONS:
        now = [verdict_word(s) for s in answer.specimens if s.latest]
        as_now = " as they are now" if len(now) < len(everyone) else ""
        told = _tally(now, f"contacts in {len(verdicts)} conditions{as_now}")
    else:
        told = "; ".join(_by_state(answer, verdicts))
    return f"Against {limit}: {told}.{_not_passed(answer)}{_too_few(answer)}"


def _not_passed(answer: Answer) -> str:
    """Why contacts that do not settle are not judged by their average."""
    moving = {c.condition for c in moving_conditions(answer)}
    if not any(s.condition in moving and s.verdict == CLOSE for s in answer.specimens):
        return ""
    return " What does not settle is passed by no average."


def verdict_word(specimen: SpecimenAnswer) -> str:
    """The verdict on a specimen; one of which no uncertainty is known has none, but what moves is judged by how it moves."""
    judged = specimen.probability_within is not None or specimen.state == MOVING
    return (specimen.verdict or "") if judged else UNKNOWN


def _by_state(answer: Answer, verdicts: dict[str, list[str]]) -> list[str]:
    """The tally of each condition; of the same contacts, as they were and as they are now."""
    gone = former(answer)
    again = {s.id for s in answer.specimens if s.condition in gone}
    now = {s.condition for s in answer.specimens if s.latest and s.id in again} - gone
    were, are, others = [], [], []
    for name, mine in verdicts.items():
        if name in gone:
            were.append(f"as they were ('{name}') {_tally(mine, '', 'was', 'were')}")
        elif name in now:
            are.append(f"as they are now ('{name}') {_tally(mine, '')}")
        elif mine:
            others.append(_tally(mine, f"'{name}' contacts"))
    same = [*were, *are]
    return ([f"the same contacts, {', '.join(same)}"] if same else []) + others


def _tally(verdicts: list[str], who: str, one: str = "is", more: str = "are") -> str:
    total = len(verdicts)
    parts = [(word, verdicts.count(word)) for word in (WITHIN, OVER, CLOSE, UNKNOWN)]
    present = [(word, n) for word, n in parts if n]
    named = f" {who}" if who else ""
    if len(present) == 1:
        word = present[0][0]
        if total == 1:
            return f"the one{named.removesuffix('s')} measured {one} {word}"
        return f"{'both' if total == 2 else f'all {total}'}{named} {more} {word}"
    return f"of {total}{named} " + ", ".join(f"{n} {one if n == 1 else more} {word}" for word, n in present)


def _too_few(answer: Answer) -> str:
    """That the contacts measured, each of them clear, say nothing of others; of contacts as they are now."""
    gone = former(answer)
    few = [
        in_quotes(c.condition)
        for c in answer.conditions
        if c.condition not in gone and _is_too_few(c, answer)
    ]
    if not few:
        return ""
    whom = (
        "others like them"
        if few == ["the contacts"]
        else f"other contacts like {listed(few, _MOST_CONDITIONS)}"
    )
    return f" To say the same of {whom} takes more specimens."


def _is_too_few(condition: ConditionAnswer, answer: Answer) -> bool:
    """Whether each contact of a condition is on the same side of the limit, and their kind is not yet known to be."""
    words = {verdict_word(s) for s in _own(condition, answer)}
    return condition.verdict == CLOSE and len(words) == 1 and not words.isdisjoint((WITHIN, OVER))


def _own(condition: ConditionAnswer, answer: Answer) -> list[SpecimenAnswer]:
    return [s for s in answer.specimens if s.condition == condition.condition and s.verdict]


def these_and_kind(condition: ConditionAnswer, answer: Answer) -> tuple[str, str]:
    """The verdicts on the contacts of a condition, and on others of their kind, as two cells of a table.

    So that "all over" beside "too close to call" is no contradiction: the one is of the specimens measured, the other of the
    median or mean of the kind that they stand for.
    """
    words = [verdict_word(s) for s in _own(condition, answer)]
    if not words:
        return "–", condition.verdict or "–"
    if len(words) == 1:
        return words[0], ONE_ALONE
    parts = [(word, words.count(word)) for word in (WITHIN, OVER, CLOSE, UNKNOWN) if word in words]
    whole = "both" if len(words) == 2 else f"all {len(words)}"
    told = f"{whole} {words[0]}" if len(parts) == 1 else ", ".join(f"{n} {word}" for word, n in parts)
    return told, TOO_FEW if _is_too_few(condition, answer) else condition.verdict or "–"
