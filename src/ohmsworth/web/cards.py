"""Lists of cards, one card with its history, and the forms that make and change it."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Any, ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import Response
from starlette.exceptions import HTTPException

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.web.at_hand import go_to, shop_of, who
from ohmsworth.web.card_forms import Field, card_fields, other_faults, typed_fields
from ohmsworth.web.card_page import KindPage, card_page
from ohmsworth.web.card_places import OWN_PAGES, TOGETHER, KindPlace, address_of, card_address, kind_place
from ohmsworth.web.forms import Posted, Sent
from ohmsworth.web.pages import Page, show
from ohmsworth.web.search import searched
from ohmsworth.web.specimens import page_of
from ohmsworth.work.cards.kinds import KINDS, Kind
from ohmsworth.work.cards.log import AWAY
from ohmsworth.work.cards.writing import (
    add_step,
    open_card,
    put_away,
    read_card,
    step_asks_when_new,
    take_up,
    withdraw_calibration,
    withdraw_treatment,
    write_card,
    write_note,
)
from ohmsworth.work.records import Card, CardKind

pages = APIRouter()
EACH = 50
#: Everything that is due at all.
FAR = timedelta(days=36500)
STATES = ("open", "closed", AWAY)


@dataclass(frozen=True, kw_only=True)
class Cards(KindPage):
    """Cards of one kind, the last touched first or the first due first."""

    template: ClassVar[str] = "cards.html.j2"

    cards: tuple[Card, ...]
    addresses: Mapping[int, str]
    search: str
    state: str
    states: tuple[str, ...]
    by_due: bool
    can_be_due: bool
    now: date
    count: int
    first: int
    each: int


@dataclass(frozen=True, kw_only=True)
class CardForm(KindPage):
    """The form of a new card or of one that is changed."""

    template: ClassVar[str] = "card_form.html.j2"

    address: str
    fields: tuple[Field, ...]
    steps: tuple[tuple[str, tuple[Field, ...]], ...]
    faults: int
    others: tuple[str, ...]
    reason: Field | None
    seen: int
    back: str
    key: str


@dataclass(frozen=True, kw_only=True)
class ShopPage(Page):
    """People and jobs: what kinds of cards there are beside what is measured, and the last ones of each."""

    template: ClassVar[str] = "shop.html.j2"
    place: ClassVar[str] = TOGETHER[-1][0]

    kinds: tuple[tuple[KindPlace, int, tuple[Card, ...]], ...]


def _kind_of(slug: str) -> Kind:
    found = next((kind for kind in KINDS.values() if kind.slug == slug), None)
    if found is None:
        raise HTTPException(404)
    return found


def _listing(kind: CardKind) -> Callable[..., Response]:
    def listing(
        request: Request, search: str = "", state: str = "open", due: bool = False, first: int = 0
    ) -> Response:
        return show(request, _cards(request, kind, searched(search), state, due, max(first, 0)))

    return listing


for _kind in KINDS.values():
    pages.add_api_route(f"/{_kind.slug}", _listing(_kind.kind), methods=["GET"])


def _cards(request: Request, kind: CardKind, search: str, state: str, due: bool, first: int) -> Cards:
    shop, of = shop_of(request), kind_place(kind)
    now = shop.clock().date()
    wanted = state if state in STATES else None
    first = min(first, 10**9)
    cards = shop.records.cards(
        kind, search=search, state=wanted, due_by=now + FAR if due else None, first=first, most=EACH
    )
    return Cards(
        title=of.kind.several.capitalize(),
        of=of,
        cards=cards,
        addresses={card.number: card_address(card) for card in cards},
        search=search,
        state=wanted or "",
        states=STATES if kind == "job" else ("open", AWAY),
        by_due=due,
        can_be_due=bool(of.kind.steps) or kind == "job",
        now=now,
        count=shop.records.count(kind, search=search, state=wanted),
        first=first,
        each=EACH,
    )


@pages.get("/shop")
def shop_page(request: Request) -> Response:
    """Jobs, customers, people, limits."""
    records = shop_of(request).records
    place, kinds = TOGETHER[-1]
    found = tuple(
        (kind_place(kind), records.count(kind, state="open"), records.cards(kind, state="open", most=5))
        for kind in kinds
    )
    return show(request, ShopPage(title=place, kinds=found))


@pages.get("/cards/new/{slug}")
def new(request: Request, slug: str) -> Response:
    """The empty form; what the address says is filled in, so that a page can lead here with a customer chosen."""
    kind = _kind_of(slug)
    given = {
        ask.key: request.query_params.get(ask.key, "")[:200] for ask in kind.asks if ask.form != "ranges"
    }
    return show(request, _new_form(request, kind, given, (), shop_of(request).new_key()))


@pages.post("/cards/new/{slug}")
def made(request: Request, slug: str, sent: Posted) -> Response:
    """Put the card into the records and show it."""
    shop, kind = shop_of(request), _kind_of(slug)
    key = sent.text("key") or shop.new_key()
    asks = (*kind.asks, *(ask for _, asks in step_asks_when_new(kind) for ask in asks))
    given = typed_fields(sent, asks)
    try:
        number = open_card(shop, kind.kind, given, who(request), key)
    except InputRefused as refused:
        return show(request, _new_form(request, kind, given, refused.faults, key), 422)
    return go_to(address_of(kind.kind, number))


def _new_form(
    request: Request, kind: Kind, given: Mapping[str, Any], faults: Sequence[Fault], key: str
) -> CardForm:
    records, of = shop_of(request).records, kind_place(kind.kind)
    steps = step_asks_when_new(kind)
    every = (*kind.asks, *(ask for _, asks in steps for ask in asks))
    return CardForm(
        title=f"A new {kind.one}",
        of=of,
        address=f"/cards/new/{kind.slug}",
        fields=card_fields(records, kind.asks, given, faults),
        steps=tuple(
            (_first_words(step.slug), _optional(card_fields(records, asks, given, faults, step.slug)))
            for step, asks in steps
        ),
        faults=len(faults),
        others=other_faults(every, faults),
        reason=None,
        seen=0,
        back=of.address,
        key=key,
    )


def _first_words(slug: str) -> str:
    return {"calibration": "Its last calibration, if there is one", "re-test": "Is it wanted again?"}.get(
        slug, slug
    )


def _optional(fields: tuple[Field, ...]) -> tuple[Field, ...]:
    """Fields of a step that may be left out as a whole."""
    return tuple(replace(field, ask=replace(field.ask, needed=False)) for field in fields)


@pages.get("/cards/{number}")
def card(request: Request, number: int) -> Response:
    """Any card: some kinds have pages of their own."""
    found = shop_of(request).records.card(number)
    if found.kind in OWN_PAGES:
        return go_to(card_address(found))
    return show(request, card_page(request, found))


@pages.get("/cards/{number}/edit")
def edit(request: Request, number: int) -> Response:
    """The form with what the card says."""
    state = read_card(shop_of(request).records, number)
    return show(
        request, _edit_form(request, number, state.texts, state.faults, "", shop_of(request).new_key())
    )


@pages.post("/cards/{number}/edit")
def edited(request: Request, number: int, sent: Posted) -> Response:
    """Write the card anew."""
    shop = shop_of(request)
    kind = read_card(shop.records, number).kind
    key, reason = sent.text("key") or shop.new_key(), sent.text("reason")
    given = typed_fields(sent, kind.asks)
    try:
        write_card(shop, number, given, reason, sent.number("seen") or 0, who(request), key)
    except InputRefused as refused:
        return show(request, _edit_form(request, number, given, refused.faults, reason, key), 422)
    return go_to(address_of(kind.kind, number))


_REASON = replace(
    KINDS["person"].asks[0],
    key="reason",
    label="reason",
    hint="Asked for when something is changed that was written before: it stands in the history.",
    needed=False,
    most=500,
)


def _edit_form(
    request: Request, number: int, given: Mapping[str, Any], faults: Sequence[Fault], reason: str, key: str
) -> CardForm:
    records = shop_of(request).records
    state = read_card(records, number)
    of = kind_place(state.kind.kind)
    (asked,) = card_fields(records, (_REASON,), {"reason": reason}, faults)
    return CardForm(
        title=f"Change: {state.title}",
        of=of,
        address=f"/cards/{number}/edit",
        fields=card_fields(records, state.kind.asks, given, faults),
        steps=(),
        faults=len(faults),
        others=other_faults((*state.kind.asks, _REASON), faults),
        reason=asked,
        seen=state.written,
        back=address_of(state.kind.kind, number),
        key=key,
    )


@pages.post("/cards/{number}/add/{slug}")
def add(request: Request, number: int, slug: str, sent: Posted) -> Response:
    """Write a step or a note on the card, put it away, take it up again, or withdraw a calibration."""
    shop, by = shop_of(request), who(request)
    found = shop.records.card(number)
    state = read_card(shop.records, number)
    step = next((one for one in state.kind.steps if one.slug == slug), None)
    given = typed_fields(sent, step.asks) if step else {"text": sent.text("text")}
    given["reason"] = sent.text("reason")
    try:
        _add(request, number, slug, sent, given, by)
    except InputRefused as refused:
        return show(request, page_of(request, found, slug, given, refused.faults), 422)
    return go_to(card_address(found))


def _add(request: Request, number: int, slug: str, sent: Sent, given: Mapping[str, Any], by: str) -> None:
    shop, reason = shop_of(request), sent.text("reason")
    key = sent.text("key") or shop.new_key()
    if slug == "note":
        write_note(shop, number, sent.text("text"), by, key)
    elif slug == "put-away":
        put_away(shop, number, reason, by, key)
    elif slug == "take-up":
        take_up(shop, number, reason, by, key)
    elif slug == "withdrawal":
        withdraw_calibration(shop, number, sent.number("line") or 0, reason, by, key)
    elif slug == "no-treatment":
        withdraw_treatment(shop, number, sent.number("line") or 0, reason, by, key)
    else:
        add_step(shop, number, slug, given, reason, by, key)
