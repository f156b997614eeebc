"""The sentences of a service card, plain where something is not known."""

from __future__ import annotations

from collections.abc import Sequence

from ohmsworth.advice.remedies import USUAL_NAMES
from ohmsworth.inference.conformity import OPEN, OVER, WITHIN
from ohmsworth.report.against_limit import UNKNOWN
from ohmsworth.report.answer import Bound
from ohmsworth.report.care.care_sentences import doing
from ohmsworth.report.papers.service_card import Service, ServiceMeasure, ServiceStep
from ohmsworth.report.words import capital, count, in_quotes, listed
from ohmsworth.units import show, show_pm, show_stated

#: Longer words than these are cut on a card of one page: names, notes, and sentences of the shop.
NAME, FACT, NOTE = 48, 72, 110
#: A longer word would run over the edge.
_WORD = 30
#: More people or steps than these are counted.
MOST_PEOPLE, MOST_STEPS = 3, 3
#: More days before the last are counted too.
MOST_DAYS = 4
_AGAINST = {WITHIN: "within", OVER: "over", OPEN: "too close to call against"}


def cut(text: str, most: int) -> str:
    """A text on one line, cut where it is too long for the card.

    Examples
    --------
    >>> cut("a microphone  cable", 12)
    'a microphon…'
    """
    line = " ".join(word if len(word) <= _WORD else f"{word[: _WORD - 1]}…" for word in text.split())
    return line if len(line) <= most else f"{line[: most - 1].rstrip()}…"


def value_words(one: ServiceMeasure) -> str:
    """What it read, with its uncertainty where that is known; on one line."""
    if one.uncertainty is None:
        return _unbroken(show(one.resistance, "Ω"))
    return _unbroken(show_pm(one.resistance, one.uncertainty, "Ω"))


def _unbroken(text: str) -> str:
    return text.replace(" ", "\u00a0")


def measure_words(one: ServiceMeasure, limit: Bound | None) -> str:
    """What it read and when, against the limit."""
    return f"{value_words(one)}, read on {one.day}{_as(one)}: {against_words(one, limit)}."


def _as(one: ServiceMeasure) -> str:
    condition = in_quotes(cut(one.condition, NAME))
    return "" if one.condition == "all" else f" as {condition}"


def against_words(one: ServiceMeasure, limit: Bound | None) -> str:
    """The verdict in a few words."""
    if limit is None:
        return "no limit is known to judge it by"
    bound = f"the limit of {_unbroken(show_stated(limit.resistance, 'Ω'))}"
    if one.verdict not in _AGAINST:
        return f"not judged against {bound}, for its uncertainty is not known"
    return f"{_AGAINST[one.verdict]} {bound}"


def beside_words(one: ServiceMeasure) -> str:
    """Which contact it is, in which study it stands, and who read it."""
    told = []
    if one.contacts > 1:
        told.append(f"The worst of its {one.contacts} contacts: {cut(one.contact, NAME)}.")
    who = listed([cut(name, NAME) for name in one.people], MOST_PEOPLE) if one.people else ""
    told.append(
        f"Read by {who} in {one.study}." if who else f"It stands in {one.study}; who read it is not known."
    )
    if not one.stated and one.uncertainty is not None:
        told.append("The accuracy of the meters is not stated, so that ± is too small.")
    return " ".join(told)


def course_words(course: Sequence[tuple[str, float]]) -> str:
    """What it read on the days before the last, as many as a line holds; "" where there are none."""
    before = course[:-1]
    if not before:
        return ""
    shown = [f"{_unbroken(show(value, 'Ω', 3))} on {day}" for day, value in before[-MOST_DAYS:]]
    left = len(before) - len(shown)
    more = f", and on {count(left, 'day')} before" if left else ""
    return f"Before, as read in the same study: {', '.join(shown)}{more}."


def step_sentence(step: ServiceStep) -> str:
    """What was done, by whom and when; what is not written down is told so."""
    by = f" by {cut(step.by, NAME)}" if step.by else ""
    if step.written:
        note = f" Note: {cut(step.note, NOTE)}" if step.note else ""
        return f"{capital(done_words(step.what))}{by}, on {step.on}.{note}"
    seen = f"it was read as {in_quotes(cut(step.before, NAME))}, and from {step.on} on as {in_quotes(cut(step.after, NAME))}"
    if step.what:
        return f"{capital(done_words(step.what))}, as the names of its readings say: {seen}. Who did it is not written down."
    return f"What was done is not written down: {seen}."


def done_words(what: str) -> str:
    """The doing of a remedy; a word that is none stands as it was written."""
    return doing(what) if what in USUAL_NAMES else cut(what, NAME) or "something that is not told"


def steps_in_short(service: Service) -> str:
    """What was done in a cell of a table."""
    if not service.steps:
        return "nothing"
    told = [
        f"{done_words(step.what)}{f' by {cut(step.by, NAME // 2)}' if step.by and step.written else ''}"
        if step.what
        else "not written down"
        for step in service.steps
    ]
    return capital(listed(list(dict.fromkeys(told)), 2))


def cell_words(one: ServiceMeasure | None) -> str:
    """What it read in a cell of a table, with its verdict where it has one."""
    if one is None:
        return "not measured"
    verdict = one.verdict if one.verdict and one.verdict != UNKNOWN else ""
    return f"{value_words(one)}{f', {verdict}' if verdict else ''}"


def day_of(service: Service) -> str:
    """The day of a service: that of its last step, else of what was read."""
    if service.steps:
        return service.steps[-1].on
    return service.found.day if service.found else "–"
