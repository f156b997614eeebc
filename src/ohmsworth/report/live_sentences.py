"""The answer while readings arrive, in words."""

from __future__ import annotations

from dataclasses import replace

from ohmsworth.inference.conformity import OPEN as CLOSE
from ohmsworth.inference.conformity import OVER, WITHIN
from ohmsworth.inference.equivalence import ENOUGH, OPEN
from ohmsworth.report.answer import MOVING
from ohmsworth.report.live_answer import (
    AT_END,
    CHECK,
    GO_ON,
    NOT_HERE,
    STOP,
    LiveAnswer,
    LiveComparison,
    LiveCondition,
    LiveDoubt,
    LiveMore,
    LiveSpecimen,
)
from ohmsworth.report.sentences import margin_words
from ohmsworth.report.words import capital, count, estimate, in_quotes, listed, natural, times
from ohmsworth.units import show_percent, show_stated

#: More conditions than this are told by their number.
_MOST = 4
#: What to look at where a doubt is of another kind than a unit or a decimal mark.
_LOOK = {
    "SWAPPED": "See whether voltage and current are exchanged.",
    "TWO_WIRE": "See that the voltmeter has its own pair of leads on the contact, and look at the units.",
    "SLIP_OR_FAULT": "Read that contact again.",
}
_LOOK_AT_UNITS = "Look at unit and decimal mark, here and on the meters."
_MEND = "Under Readings, correct what is wrong, or keep it with a reason."
#: What the readings would tell, were it not too early.
_NOT_YET = "not judged yet"


def with_words(answer: LiveAnswer) -> LiveAnswer:
    """The answer with its sentence, findings and rule."""
    stop = answer.stop or GO_ON
    answer = replace(answer, stop=stop)
    return replace(answer, sentence=_sentence(answer), findings=_findings(answer), rule=_rule(answer))


def _sentence(answer: LiveAnswer) -> str:
    if answer.faults:
        return "The readings cannot be used as they are. " + " ".join(answer.faults[:2])
    if not answer.dots:
        return "Nothing is read yet."
    if answer.doubtful:
        return f"Check the readings before anything else: most of them are in grave doubt. {_check(answer)}"
    main = _main(answer)
    told = [_compared(main)] if main is not None else [_values(answer)]
    told += _limited(answer)
    told += [_check(answer)] if answer.doubts else []
    told += [_what_next(answer)] if answer.stop != CHECK else []
    return " ".join(told)


def _check(answer: LiveAnswer) -> str:
    """What to check, where readings are in grave doubt: the first doubt in full, for what mends it may mend the rest."""
    first = answer.doubts[0]
    look = _LOOK.get(first.code, _LOOK_AT_UNITS)
    named = 0 < len(first.specimens) <= _MOST and not answer.doubtful
    return f"{_doubted(first, named)}. {look} {_MEND}"


def _doubted(doubt: LiveDoubt, named: bool) -> str:
    """``A resistance of 2.39 Ω, every condition ...``: what is doubtful, without the causes that it may have."""
    what = doubt.words.partition(": ")[0].rstrip(".?")
    return f"In doubt: {listed(sorted(doubt.specimens, key=natural))}, {what}" if named else capital(what)


def _main(answer: LiveAnswer) -> LiveComparison | None:
    """The comparison that says most: what is enough first, then what is open."""
    gravity = {ENOUGH: 2, OPEN: 1}
    return max(
        answer.comparisons,
        key=lambda c: (gravity.get(c.verdict or "", 0), abs(c.difference.value or 0.0)),
        default=None,
    )


def _values(answer: LiveAnswer) -> str:
    if len(answer.conditions) > _MOST:
        return f"{count(len(answer.conditions), 'condition')} read so far."
    return "; ".join(_value(one, len(answer.conditions) > 1) for one in answer.conditions) + " so far."


def _value(one: LiveCondition, named: bool) -> str:
    value = estimate(one.resistance, one.low, one.high)
    return f"{in_quotes(one.condition)} {value}" if named else value


def _compared(one: LiveComparison) -> str:
    """A comparison with its verdict."""
    ratio = times(one.ratio.value, one.ratio.low, one.ratio.high)
    told = f"'{one.of}' contacts have {ratio} the resistance of '{one.against}' ones"
    if one.ratio.value is None:
        difference = one.difference
        told = f"'{one.of}' less '{one.against}' contacts: {estimate(difference.value or 0.0, difference.low, difference.high)}"
    if one.verdict is None:
        return f"{told}."
    return f"{told}: {one.verdict}."


def _limited(answer: LiveAnswer) -> list[str]:
    """How many contacts are within the limit so far."""
    if answer.limit is None:
        return []
    words = [_so_far(s) for s in answer.specimens if s.latest and s.verdict]
    parts = [(word, words.count(word)) for word in (WITHIN, OVER, CLOSE, _NOT_YET)]
    told = ", ".join(f"{n} {word}" for word, n in parts if n)
    against, now = f"Against {show_stated(answer.limit.resistance, 'Ω')}", _as_now(answer, len(words))
    if len(words) == 1:
        return [f"{against}: the one contact{now} is {words[0]}."]
    return [f"{against}, of {len(words)} contacts{now}: {told}."] if words else []


def _as_now(answer: LiveAnswer, contacts: int) -> str:
    """Of which state the contacts are judged, where some of them were read in an earlier one too."""
    if all(s.latest for s in answer.specimens):
        return ""
    states = {s.condition for s in answer.specimens if s.latest}
    which = f" ({in_quotes(states.pop())})" if len(states) == 1 else ""
    return f" as {'it is' if contacts == 1 else 'they are'} now{which}"


def _so_far(one: LiveSpecimen) -> str:
    """The verdict, or that it is too early for the one that the readings alone would give."""
    early = one.confidence is None or one.plain_verdict != CLOSE
    return _NOT_YET if one.verdict == CLOSE and early and one.state != MOVING else one.verdict or ""


def _what_next(answer: LiveAnswer) -> str:
    if answer.stop == STOP:
        return _why_stop(answer)
    if answer.stop == NOT_HERE:
        return _why_not_here(answer)
    if answer.looks == AT_END and not answer.finished:
        return f"No verdict before the sheet is finished: {_left(answer)}."
    few = _too_few(answer)
    if few:
        return few
    if answer.more is not None:
        return _more(answer.more)
    return f"Go on: {_left(answer)}." if not answer.finished else "Go on."


def _why_stop(answer: LiveAnswer) -> str:
    decided = any(c.verdict for c in answer.comparisons) or any(s.verdict for s in answer.specimens)
    if not decided:
        return "The sheet is finished; no limit or margin is stated, so there is nothing to decide."
    near = sorted({s.id for s in answer.specimens if s.latest and _so_far(s) == CLOSE}, key=natural)
    lies = "lies" if len(near) == 1 else "lie"
    rest = (
        f" {listed(near)} {lies} so near the limit that a few more matings would hardly tell." if near else ""
    )
    if answer.finished:
        return f"The sheet is finished: you can stop now.{rest}"
    return f"You can stop now: what is left to read could hardly change the verdict.{rest}"


def _why_not_here(answer: LiveAnswer) -> str:
    moving = sorted(c.condition for c in answer.conditions if c.state == MOVING)
    if moving:
        return f"Cannot be settled here: {listed([in_quotes(c) for c in moving])} contacts do not settle."
    return "Cannot be settled here: it lies so near the bound that more readings on this bench would hardly tell."


def _more(more: LiveMore) -> str:
    what = more.what.removesuffix("s") if more.count == 1 else more.what
    each = " a condition" if more.what == "specimens" else " of the contacts in question"
    where = "" if more.on_sheet else ", beyond the sheet,"
    if more.chance < 0.5:
        return f"Go on: the {more.count} more {what}{each} on the sheet may not settle it (chance {show_percent(more.chance)})."
    return f"Go on: {more.count} more {what}{each}{where} would probably settle it (chance {show_percent(more.chance)})."


def _too_few(answer: LiveAnswer) -> str:
    """What is missing before any verdict on conditions can be given."""
    if answer.reference is None or answer.margin is None:
        return ""
    read = {c.condition for c in answer.conditions}
    if answer.reference not in read:
        return f"The reference '{answer.reference}' is not read yet."
    if len(read) < 2:
        return f"Nothing is read yet to compare with '{answer.reference}'."
    if any(not c.supported for c in answer.comparisons) or not answer.comparisons:
        return "One more specimen a condition is needed before any verdict."
    return ""


def _left(answer: LiveAnswer) -> str:
    left = max(answer.planned - answer.done, 0)
    return f"{count(left, 'mating')} of {answer.planned} {'is' if left == 1 else 'are'} left"


def _findings(answer: LiveAnswer) -> tuple[str, ...]:
    told = [f"{capital(_value(one, True))}, {_read(one)}." for one in answer.conditions]
    told += [_compared(one) for one in answer.comparisons if one is not _main(answer)]
    told += [_otherwise(one) for one in answer.comparisons if one.verdict != one.plain_verdict]
    if answer.margin is not None and answer.comparisons:
        told.append(f"What would matter is {margin_words(answer.margin)}.")
    elif answer.comparisons:
        told.append("Nobody has said what change would matter, so no verdict is given.")
    told += _contacts(answer)
    return tuple(told)


def _read(one: LiveCondition) -> str:
    of = f"{one.done} of {one.planned} matings" if one.done <= one.planned else count(one.done, "mating")
    return f"{count(one.specimens, 'specimen')}, {of}"


def _otherwise(one: LiveComparison) -> str:
    """That the ordinary answer would say something else."""
    return (
        f"Were this the only look, '{one.of}' against '{one.against}' would be {one.plain_verdict}; who looks as the readings "
        "come in needs more."
    )


def _contacts(answer: LiveAnswer) -> list[str]:
    """Which contacts are over or open."""
    told = []
    for word in (OVER, CLOSE):
        names = sorted({s.id for s in answer.specimens if s.latest and _so_far(s) == word}, key=natural)
        if names:
            now = _as_now(answer, len(names))
            told.append(f"{capital(word)}{now}: {listed(names)}.")
    return told


def _rule(answer: LiveAnswer) -> str:
    """One line on how looking is allowed for."""
    ordinary, end = show_percent(answer.coverage), f"{100 * answer.coverage_at_end:.1f} %"
    if answer.looks == AT_END:
        if answer.finished:
            return f"Looked at once, when the sheet was finished: the ordinary answer, at {ordinary}."
        return "Looked at once: no verdict before the sheet is finished, and then the ordinary answer's."
    sheet = (
        "No sheet was given; looks count as on one of five specimens a condition. " if answer.assumed else ""
    )
    if answer.done < answer.planned:
        return (
            f"{sheet}Looking early is allowed for: until the sheet is finished a verdict must be so clear that what is left to "
            f"read could hardly undo it, and at its end {end} sure in place of {ordinary}."
        )
    if any(c.done > c.planned for c in answer.conditions):
        return f"{sheet}Looking is allowed for: the sheet's end needed {end} in place of {ordinary}, every look beyond it more."
    return f"{sheet}You could look while it was read: at the sheet's end a verdict needs {end} in place of {ordinary}."
