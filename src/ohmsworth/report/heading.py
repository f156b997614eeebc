"""The word beside the headline, and how it is meant: never better than the contacts are."""

from __future__ import annotations

from ohmsworth.inference.conformity import OPEN as CLOSE
from ohmsworth.inference.conformity import OVER, WITHIN
from ohmsworth.inference.equivalence import ENOUGH, OPEN, TOO_SMALL
from ohmsworth.report.against_limit import UNKNOWN, verdict_word
from ohmsworth.report.answer import MOVING, STATED_MARGIN, Answer, ComparisonAnswer
from ohmsworth.report.document import Tone
from ohmsworth.report.frequencies_lead import otherwise
from ohmsworth.report.hazards import STOP, hazard_sentences
from ohmsworth.report.sentences import is_past, main_comparison
from ohmsworth.report.states import (
    beyond_signal,
    helped,
    in_doubt,
    mostly_in_doubt,
    present_conditions,
    worst_condition,
)
from ohmsworth.report.use_words import unmet

#: A verdict with the way in which it is meant.
Judgement = tuple[str, Tone]
CHECK = "check the readings"
#: From the best to the worst.
_TONES: tuple[Tone, ...] = ("plain", "good", "mixed", "open", "bad")


def heading(answer: Answer) -> Judgement:
    """The verdicts of the comparison, the limit and the uses in a few words, with the tone of the worst of them.

    What is over the limit and yet too small to matter is settled, and neither good nor bad; what rests on doubtful readings is
    not settled.
    """
    if mostly_in_doubt(answer):
        return CHECK, "open"
    main = main_comparison(answer)
    found: list[Judgement] = [(CHECK, "open")] if in_doubt(answer) else []
    found += [(MOVING, "open")] if any(c.state == MOVING for c in present_conditions(answer)) else []
    found += [
        *([_compared(main)] if main else []),
        *_limited(answer, alone=main is None),
        *_used(answer, main),
    ]
    found += [("otherwise at other frequencies", "mixed")] if otherwise(answer.frequencies) else []
    if hazard_sentences(answer):
        return "; ".join([STOP, *(word for word, _ in found if word != TOO_SMALL)]), "bad"
    words = "; ".join(word for word, _ in found)
    tone: Tone = max((tone for _, tone in found), key=_TONES.index, default="plain")
    if tone == "bad" and in_doubt(answer):
        tone = "open"
    elif tone == "bad" and main is not None and main.verdict == TOO_SMALL:
        tone = "open" if any(one == "open" for _, one in found) else "mixed"
    return words, tone


def _compared(main: ComparisonAnswer) -> Judgement:
    if helped(main):
        return f"{ENOUGH}: the change helped", "good"
    if main.verdict == ENOUGH and main.read_last is not None:
        return f"{ENOUGH}: made worse", "bad"
    tones: dict[str, Tone] = {TOO_SMALL: "good", ENOUGH: "bad", OPEN: "open"}
    return main.verdict, tones[main.verdict]


def _limited(answer: Answer, alone: bool) -> list[Judgement]:
    """The worst verdict on the contacts as they are now, and whether the same ones were over before."""
    verdicts = [verdict_word(s) for s in answer.specimens if s.latest and s.verdict]
    word = next((word for word in (OVER, CLOSE, UNKNOWN, WITHIN) if word in verdicts), "")
    if not word or answer.limit is None:
        return []
    tones: dict[str, Tone] = {OVER: "bad", WITHIN: "good"}
    told = {UNKNOWN: "each contact: not known"}.get(word, word)
    were_over = any(s.verdict == OVER for s in answer.specimens if not s.latest)
    if were_over and word == WITHIN:
        told = "over the limit before, within it now"
    elif not alone and word in (OVER, WITHIN):
        told = f"{word} the limit"
    beyond = beyond_signal(answer)
    if word == WITHIN and beyond:
        told += f" at the {' and '.join(beyond)} used"
    return [(told, tones.get(word, "open"))]


def _used(answer: Answer, main: ComparisonAnswer | None) -> list[Judgement]:
    """What the uses say, where they say that not all is well."""
    found: list[Judgement] = []
    margin = answer.margin
    if margin is not None and margin.source != STATED_MARGIN:
        past = is_past(margin, worst_condition(answer))
        told = main.verdict if main is not None else ""
        unclear = past is None and told != OPEN and worst_condition(answer).state != MOVING
        if (past and told != ENOUGH) or unclear:
            found.append(("past what matters", "mixed") if past else ("perhaps past what matters", "open"))
    if any(unmet(use) for use in answer.uses):
        found.append(("the circuit itself falls short", "mixed"))
    return found
