"""One card as a page: what it says, what happened to it, what it is linked to, and the forms that write on it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any, ClassVar

from fastapi import Request

from ohmsworth.errors import Fault
from ohmsworth.web.at_hand import shop_of
from ohmsworth.web.card_forms import Field, card_fields, other_faults
from ohmsworth.web.card_places import KindPlace, address_of, card_address, kind_place, several_of
from ohmsworth.web.pages import Page
from ohmsworth.work.cards.asks import Ask
from ohmsworth.work.cards.changes import Change, changes, in_words, range_words
from ohmsworth.work.cards.kinds import KINDS
from ohmsworth.work.cards.log import Calibration, CardState, Treatment
from ohmsworth.work.cards.naming import linked, title_of
from ohmsworth.work.cards.writing import read_card
from ohmsworth.work.records import Card, CardKind, Line, Records

#: Kinds of cards that link to a kind.
LINKED: dict[CardKind, tuple[CardKind, ...]] = {
    "customer": ("job", "specimen"),
    "job": ("study", "specimen"),
    "limit": ("specimen",),
}
PERSONAL: tuple[CardKind, ...] = ("person", "customer")


@dataclass(frozen=True, kw_only=True)
class KindPage(Page):
    """A page about cards of one kind."""

    of: KindPlace

    def here(self) -> str:
        """The place of the kind."""
        return self.of.place


@dataclass(frozen=True, slots=True)
class Said:
    """A field of the card: its label, its lines, and where a linked card is."""

    label: str
    lines: tuple[str, ...]
    address: str = ""


@dataclass(frozen=True, slots=True)
class StepForm:
    """A form on the card's page; `open` where it was just sent and cannot be used as it is."""

    slug: str
    words: str
    button: str
    fields: tuple[Field, ...]
    others: tuple[str, ...]
    open: bool
    about: str = ""


@dataclass(frozen=True, kw_only=True)
class CardPage(KindPage):
    """One card."""

    template: ClassVar[str] = "card.html.j2"

    number: int
    away: bool
    said: tuple[Said, ...]
    unreadable: tuple[str, ...]
    due: date | None
    due_for: str
    overdue: bool
    calibrations: tuple[tuple[Calibration, str], ...]
    withdrawal: StepForm
    treatments: tuple[Treatment, ...]
    no_treatment: StepForm
    notes: tuple[Line, ...]
    linked: tuple[tuple[str, str, tuple[tuple[Card, str], ...]], ...]
    forms: tuple[StepForm, ...]
    history: tuple[Change, ...]
    personal: bool
    key: str


def card_page(
    request: Request,
    card: Card,
    sent: str = "",
    given: Mapping[str, Any] | None = None,
    faults: Sequence[Fault] = (),
) -> CardPage:
    """The page of a card; `sent` is the form that cannot be used as it was `given`, and `faults` say why."""
    return CardPage(**card_context(request, card, sent, given or {}, faults))


def card_context(
    request: Request, card: Card, sent: str, given: Mapping[str, Any], faults: Sequence[Fault]
) -> dict[str, Any]:
    """The fields of a card's page."""
    shop = shop_of(request)
    state = read_card(shop.records, card.number)
    due = card.face.due
    forms = _Forms(shop.records, state, sent, given, faults)
    return {
        "title": state.title,
        "of": kind_place(card.kind),
        "number": card.number,
        "away": state.away,
        "said": _said(shop.records, state),
        "unreadable": tuple(f"{fault.where}: {fault.found}" for fault in state.faults),
        "due": due,
        "due_for": card.face.due_for,
        "overdue": due is not None and due < shop.clock().date(),
        "calibrations": tuple((one, _accuracy_then(one)) for one in reversed(state.calibrations)),
        "withdrawal": forms.withdrawal(),
        "treatments": tuple(reversed(state.treatments)),
        "no_treatment": forms.no_treatment(),
        "notes": tuple(reversed(state.notes)),
        "linked": _linked(shop.records, card),
        "forms": forms.all(),
        "history": changes(state),
        "personal": card.kind in PERSONAL,
        "key": shop.new_key(),
    }


def _said(records: Records, state: CardState) -> tuple[Said, ...]:
    found = []
    for ask in state.kind.asks:
        value = state.texts.get(ask.key)
        if ask.of and isinstance(value, int):
            found.append(Said(ask.label, (title_of(records, value),), address_of(ask.of, value)))
        elif ask.form == "ranges" and isinstance(value, list):
            lines = tuple(range_words(row) for row in value if isinstance(row, Mapping))
            if lines:
                found.append(Said(ask.label, lines))
        elif text := in_words(value):
            found.append(Said(ask.label, tuple(text.splitlines())))
    return tuple(found)


def _accuracy_then(one: Calibration) -> str:
    """What was stated at a calibration; a meter without a word of its own has what its ranges said then."""
    if one.value:
        return one.value + (f", standard uncertainty {one.uncertainty}" if one.uncertainty else "")
    return one.accuracy or "; ".join(range_words(row) for row in one.ranges)


def _linked(records: Records, card: Card) -> tuple[tuple[str, str, tuple[tuple[Card, str], ...]], ...]:
    """Cards that link to this one, by kind: words, where a new one is made, cards with their addresses."""
    found = []
    for kind in LINKED.get(card.kind, ()):
        words = several_of(kind)
        new = "" if kind == "study" else f"/cards/new/{KINDS[kind].slug}?{card.kind}={card.number}"
        pairs = tuple((one, card_address(one)) for one in linked(records, card.number, kind))
        found.append((words.capitalize(), new, pairs))
    return tuple(found)


_WHY = Ask("reason", "reason", hint="It stands in the history.", most=500)
_NOTE = Ask("text", "note", "lines", most=5000)


class _Forms:
    """The forms of one card, the one that was sent with what was typed and what is wrong with it."""

    def __init__(
        self, records: Records, state: CardState, sent: str, given: Mapping[str, Any], faults: Sequence[Fault]
    ) -> None:
        self.records, self.state, self.sent, self.given, self.faults = records, state, sent, given, faults

    def all(self) -> tuple[StepForm, ...]:
        found = [
            self._form(step.slug, step.words, "Write it down", (*step.asks, _WHY))
            for step in self.state.kind.steps
        ]
        found.append(self._form("note", "Write a note", "Write it down", (_NOTE,)))
        if self.state.away:
            found.append(self._form("take-up", "Take it up again", "Take it up again", (_WHY,)))
        else:
            words = "No list offers it any more and nothing is due for it; everything stays in the records."
            found.append(self._form("put-away", "Put it away", "Put it away", (_WHY,), words))
        return tuple(found)

    def withdrawal(self) -> StepForm:
        words = "For one that was written by mistake, or does not hold. It stays in the history."
        return self._form("withdrawal", "Withdraw a calibration", "Withdraw it", (_WHY,), words)

    def no_treatment(self) -> StepForm:
        words = "For one that was written by mistake. It stays in the history."
        return self._form("no-treatment", "Withdraw a treatment", "Withdraw it", (_WHY,), words)

    def _form(self, slug: str, words: str, button: str, asks: tuple[Ask, ...], about: str = "") -> StepForm:
        here = slug == self.sent
        faults = self.faults if here else ()
        fields = card_fields(self.records, asks, self.given if here else {}, faults, slug)
        return StepForm(slug, words, button, fields, other_faults(asks, faults), here, about)
