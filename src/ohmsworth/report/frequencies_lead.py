"""At which of the frequencies asked about the headline of an answer from takes holds, and where it is otherwise."""

from __future__ import annotations

from ohmsworth.report.answer import AtFrequencyAnswer, FrequenciesAnswer
from ohmsworth.report.words import in_quotes, listed, typical
from ohmsworth.units import show

#: More frequencies than this are counted, not named.
_MOST_NAMED = 4
#: More frequencies with other verdicts than this are told together.
_MOST_OTHERWISE = 2

#: What a verdict is about, in words, and the verdict.
_Verdicts = dict[str, str]


def lead_words(found: FrequenciesAnswer | None) -> str:
    """What leads a headline: the tone that it stands at, and the others asked about that have the same verdicts."""
    if found is None or found.answered_at is None:
        return ""
    here = f"By tones, at {show(found.answered_at, 'Hz')}"
    judged = bool(_verdicts(found.at[0])) if found.at else False
    alike = [one for one in found.at[1:] if one not in otherwise(found)]
    if not alike:
        return f"{here}: "
    named = listed([_hertz(one) for one in alike])
    if not judged:
        # Nothing is judged at any of them, so that nothing can be the same.
        return f"{here} (asked about too: {named if len(alike) < _MOST_NAMED else _all(found)}): "
    if len(alike) == len(found.at) - 1 and len(found.at) > _MOST_NAMED:
        return f"{here}, with the same verdicts on conditions at {_all(found)}: "
    some = named if len(alike) <= _MOST_NAMED else f"{len(alike)} of the others asked about"
    return f"{here}, with the same verdicts on conditions at {some}: "


def otherwise(found: FrequenciesAnswer | None) -> list[AtFrequencyAnswer]:
    """The frequencies asked about at which a verdict on a condition or comparison is another than in the headline."""
    if found is None or found.answered_at is None or not found.at:
        return []
    first = _verdicts(found.at[0])
    return [one for one in found.at[1:] if _verdicts(one) != first]


def otherwise_sentences(found: FrequenciesAnswer | None) -> list[str]:
    """What the verdicts are there."""
    others = otherwise(found)
    if found is None or not others:
        return []
    if len(others) > _MOST_OTHERWISE:
        where = f"{len(others)} of the {len(found.at)} frequencies asked about"
        return [f"At {where} the verdicts are otherwise; the tables over frequency have them."]
    first = _verdicts(found.at[0])
    return [f"At {_hertz(one)} it is otherwise: {_told(_verdicts(one), first)}." for one in others]


def _told(there: _Verdicts, first: _Verdicts) -> str:
    """What differs, or that nothing is known."""
    every = dict.fromkeys((*first, *there))
    said = [
        f"{about}: {there.get(about, 'not known')}" for about in every if there.get(about) != first.get(about)
    ]
    return "; ".join(said)


def _verdicts(one: AtFrequencyAnswer) -> _Verdicts:
    conditions = {
        f"the {typical(c.statistic)} of {in_quotes(c.condition)}": c.verdict
        for c in one.conditions
        if c.verdict
    }
    compared = {f"{in_quotes(c.of)} against {in_quotes(c.against)}": c.verdict for c in one.comparisons}
    return conditions | compared


def _all(found: FrequenciesAnswer) -> str:
    tones = sorted(one.tone for one in found.at)
    return f"all {len(tones)} frequencies asked about, from {show(tones[0], 'Hz')} to {show(tones[-1], 'Hz')}"


def _hertz(one: AtFrequencyAnswer) -> str:
    return show(one.tone, "Hz")
