"""The service card of a specimen: its card, its readings of all studies, what was done to it, and the next look."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from ohmsworth.advice.keeping import plated_with
from ohmsworth.errors import Fault, InputRefused, shorten
from ohmsworth.inference.conformity import OVER
from ohmsworth.materials import ENVIRONMENTS
from ohmsworth.report.answer import Bound
from ohmsworth.report.care.care_sentences import look_words
from ohmsworth.report.document import Document
from ohmsworth.report.papers.service_card import SPECIMEN_FORMAT, Service, ServiceMeasure, SpecimenService
from ohmsworth.report.papers.service_pages import specimen_document
from ohmsworth.report.words import capital
from ohmsworth.units import show_stated
from ohmsworth.work.cards.log import CardState
from ohmsworth.work.cards.naming import title_of
from ohmsworth.work.cards.said import LimitCard, SpecimenCard
from ohmsworth.work.cards.specimen_history import InStudy, specimen_history
from ohmsworth.work.cards.writing import read_card
from ohmsworth.work.care.looks import line_of, look_answer, looks_when_left
from ohmsworth.work.care.specimen_trend import dated_rows
from ohmsworth.work.records import NoSuchCard, Records
from ohmsworth.work.service.measured import course_of, last_of, limit_of_study, measure_of
from ohmsworth.work.service.visits import Span, Visit, spans_of
from ohmsworth.work.shop import Shop
from ohmsworth.work.shop_settings import read_settings, signed
from ohmsworth.work.study_desk import Desk

_COVERAGE = 0.95
#: What leaves silver clean, so that its film begins anew.
_CLEANING = ("clean", "re-terminate", "replace")
_AT_SERVICE = "read it again at the next service."


@dataclass(frozen=True, slots=True)
class _Known:
    """A specimen's card, its studies, its limit, its spans."""

    state: CardState
    said: SpecimenCard
    studies: tuple[InStudy, ...]
    limit: Bound | None
    spans: tuple[Span, ...]


def specimen_paper(desk: Desk, shop: Shop, number: int, air: str = "") -> Document:
    """The service card as of today, in the shop's name; see `specimen_service`."""
    return specimen_page(shop, specimen_service(desk, shop, number, air))


def specimen_page(shop: Shop, card: SpecimenService) -> Document:
    """What a service card says as its page of today, in the shop's name."""
    today = shop.clock().astimezone().date()
    return signed(specimen_document(card, today.isoformat()), read_settings(shop.records))


def specimen_service(desk: Desk, shop: Shop, number: int, air: str = "") -> SpecimenService:
    """What the service card of specimen `number` says.

    Parameters
    ----------
    desk, shop
        The records.
    number
        Of its card.
    air
        Class of the air that it is kept in, "G1" to "GX"; "" where nobody said.

    Raises
    ------
    InputRefused
        For another class, or a card that cannot be read.
    NoSuchCard
        When there is no such card, or it is no specimen's.
    """
    if air and air not in ENVIRONMENTS:
        mend = "Choose one of them, or leave it out."
        raise InputRefused((Fault("the air", shorten(air), f"one of {', '.join(ENVIRONMENTS)}", mend),))
    known = _known(desk, shop.records, number)
    groups = _services(known.spans)
    made = [_measured(desk, group, known.limit) for group in groups]
    last, now_visit = made[-1], _now(known.spans)
    now = None if now_visit is None else measure_of(desk, now_visit, known.limit)
    today = shop.clock().astimezone().date()
    return SpecimenService(
        format=SPECIMEN_FORMAT,
        serial=known.said.serial,
        what=known.said.what,
        plating=known.said.plating,
        facts=_facts(shop.records, known),
        limit=known.limit,
        service=last,
        now=now,
        next_look=_next_look(known, now, air, today),
        earlier=tuple(reversed(made[:-1])),
        remarks=_remarks(known),
        course=() if now_visit is None else course_of(now_visit),
    )


def _known(desk: Desk, records: Records, number: int) -> _Known:
    state = read_card(records, number)
    if state.kind.kind != "specimen":
        raise NoSuchCard(f"Card no. {number} is a {state.kind.one}, no specimen.")
    if not isinstance(state.said, SpecimenCard):
        raise InputRefused(state.faults)
    studies = specimen_history(records, number, desk.state)
    spans = spans_of(studies, state.treatments)
    limit = _card_limit(records, state.said) or _last_limit(desk, spans)
    return _Known(state, state.said, studies, limit, spans)


def _card_limit(records: Records, said: SpecimenCard) -> Bound | None:
    if said.limit is None:
        return None
    try:
        limit = read_card(records, said.limit).said
    except NoSuchCard:
        return None
    return Bound(limit.resistance, limit.source or limit.name) if isinstance(limit, LimitCard) else None


def _last_limit(desk: Desk, spans: Sequence[Span]) -> Bound | None:
    """The limit of the study that read it last."""
    visit = last_of([visit for span in spans for visit in span.visits])
    return None if visit is None else limit_of_study(desk, visit.study.study)


@dataclass(frozen=True, slots=True)
class _Group:
    """A service by its visits: what was found, and the first day after it was treated."""

    found: Visit | None
    span: Span
    after: Visit | None


def _services(spans: Sequence[Span]) -> list[_Group]:
    """A service for each span that begins with something done, and between them what was read with nothing done.

    Where nothing was ever done, the last visit but one is as found.
    """
    groups: list[_Group] = []
    for number, span in enumerate(spans):
        begun = number > 0
        if begun:
            after = span.visits[0].on_day(span.visits[0].first.date()) if span.visits else None
            groups.append(_Group(last_of(spans[number - 1].visits), span, after))
        # The last visit is as found by the next service, or as it is now.
        groups += [_Group(visit, Span((), ()), None) for visit in span.visits[begun:-1]]
    if len(spans) > 1:
        last = max(number for number, group in enumerate(groups) if group.span.steps)
        return [*groups[:last], *groups[last + 1 :], groups[last]]
    return groups or [_Group(next(iter(spans[0].visits), None), Span((), ()), None)]


def _now(spans: Sequence[Span]) -> Visit | None:
    """What was read last, unless that is what was found: then it was not measured again."""
    if len(spans) > 1:
        return last_of(spans[-1].visits)
    return spans[0].visits[-1] if len(spans[0].visits) > 1 else None


def _measured(desk: Desk, group: _Group, limit: Bound | None) -> Service:
    found, after = (
        None if one is None else measure_of(desk, one, limit) for one in (group.found, group.after)
    )
    return Service(found, group.span.steps, after)


def _facts(records: Records, known: _Known) -> tuple[tuple[str, str], ...]:
    said, limit = known.said, known.limit
    told = (
        ("plating", said.plating or "not stated"),
        ("customer", title_of(records, said.customer) if said.customer else ""),
        ("job", title_of(records, said.job) if said.job else ""),
        ("made on", said.made.isoformat() if said.made else ""),
        ("received on", said.received.isoformat() if said.received else ""),
        ("limit", limit_words(limit)),
    )
    return tuple((label, words) for label, words in told if words)


def limit_words(limit: Bound | None) -> str:
    """The limit, and who says so."""
    if limit is None:
        return "none is known"
    return f"{show_stated(limit.resistance, 'Ω')}{f' ({limit.source})' if limit.source else ''}"


def _next_look(known: _Known, now: ServiceMeasure | None, air: str, today: date) -> tuple[str, ...]:
    """By its trend since it was treated, and by the air; and when the shop wants it again."""
    told = [_by_readings(known, now, air, today)]
    if known.said.retest is not None:
        why = f": {known.state.retest_why}" if known.state.retest_why else ""
        told.append(
            f"The shop wants to measure it again by {known.said.retest.isoformat()}{why}.".replace("..", ".")
        )
    return tuple(told)


def _by_readings(known: _Known, now: ServiceMeasure | None, air: str, today: date) -> str:
    if now is None:
        return f"When to look again follows from what it reads now: {_AT_SERVICE}"
    if known.limit is None:
        return f"Without a limit no day follows from its readings: {_AT_SERVICE}"
    if now.verdict == OVER:
        return "It is over its limit now: ask the shop before it is used where that limit is held to."
    steps, visits = known.spans[-1].steps, known.spans[-1].visits
    points = {id(point) for visit in visits for point in visit.points}
    since = [
        replace(one, points=tuple(point for point in one.points if id(point) in points))
        for one in known.studies
    ]
    rows = dated_rows(since, {})
    silver = plated_with(known.said.plating, "silver")
    cleaned = [date.fromisoformat(step.on) for step in steps if step.what in _CLEANING]
    looks = looks_when_left(
        line_of(rows),
        air if air and silver else None,
        cleaned[-1] if cleaned else None,
        now.resistance,
        known.limit.resistance,
        max(today, rows[-1].day) if rows else today,
        _COVERAGE,
    )
    why = (
        f"Neither the air it is kept in nor three dated readings since are known: {_AT_SERVICE}"
        if silver and not air
        else f"There are too few dated readings since for a trend: {_AT_SERVICE}"
    )
    return look_words(look_answer(looks, max(today, rows[-1].day) if rows else today, ""), capital(why))


def _remarks(known: _Known) -> tuple[str, ...]:
    """What the page does not hold."""
    tones = sum(1 for study in known.studies for point in study.points if point.by_tones)
    if not tones:
        return ()
    return ("It was measured over frequency too: that stands in the reports of its studies.",)
