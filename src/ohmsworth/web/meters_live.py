"""The meters on this bench: connected, tried, let go."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import Response

from ohmsworth.errors import Fault, InputRefused
from ohmsworth.web.at_hand import go_to, shop_of, who
from ohmsworth.web.current import LIVE
from ohmsworth.web.forms import Posted, Sent
from ohmsworth.web.instruments_at_hand import meters_of
from ohmsworth.web.pages import Page, show
from ohmsworth.web.source_part import SourcePart, source_part
from ohmsworth.work.bench_meters import Tried
from ohmsworth.work.cards.said import MeterCard
from ohmsworth.work.cards.writing import read_card
from ohmsworth.work.connections import QUANTITIES, ROLES, WORDS, Connection, Role
from ohmsworth.work.instruments import InstrumentFault, Profiles
from ohmsworth.work.meter_cards import MEASURED, meter_cards

pages = APIRouter(prefix=LIVE)
#: A source that nobody has connected yet is offered the limits of a dry circuit.
FIRST = Connection("", "", most_current="100 mA", most_voltage="20 mV", level="100 mA", settle="2 s")


@dataclass(frozen=True, slots=True)
class RolePart:
    """One instrument: what is connected, what can be, and what was found when it was tried.

    `profiles` are name and words; `ranges` value and label; `cards` number and title.
    """

    role: Role
    label: str
    connected: bool
    given: Connection
    chosen_range: str
    profiles: tuple[tuple[str, str], ...]
    ranges: tuple[tuple[str, str], ...]
    cards: tuple[tuple[int, str], ...]
    tried: Tried | None
    faults: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class MetersLive(Page):
    """Meters on this bench."""

    template: ClassVar[str] = "meters_live.html.j2"
    place: ClassVar[str] = "Meters"

    machine: str
    parts: tuple[RolePart, ...]
    profile_faults: tuple[str, ...]
    ports: tuple[tuple[str, str], ...] | None
    source: SourcePart


@dataclass(frozen=True, slots=True)
class _Shown:
    """What has just been tried or could not be used."""

    role: str = ""
    given: Connection | None = None
    tried: Tried | None = None
    faults: tuple[Fault, ...] = ()


@pages.get("")
def live(request: Request, ports: bool = False, holder: str = "") -> Response:
    """What is connected; `ports` lists the serial ports of this computer too."""
    return show(request, _page(request, _Shown(), ports, holder))


@pages.post("/{role}")
def change(request: Request, role: str, sent: Posted) -> Response:
    """Connect an instrument, try it, or let it go."""
    meters, wanted = meters_of(request), sent.text("do")
    if role not in ROLES:
        return go_to(LIVE)
    known: Role = role
    given = None
    try:
        if wanted == "let go":
            meters.let_go(known, who(request))
            return go_to(LIVE)
        if wanted == "connect":
            given = _given(request, known, sent)
            meters.connect(known, given, who(request))
        shown = _Shown(role, tried=meters.try_it(known))
    except InputRefused as refused:
        shown = _Shown(role, given, faults=refused.faults)
    except InstrumentFault as error:
        shown = _Shown(role, faults=(error.fault,))
    return show(request, _page(request, shown), 422 if shown.faults else 200)


def _given(request: Request, role: Role, sent: Sent) -> Connection:
    """What the form says; its card fills in what was left empty."""
    meters, card = meters_of(request), sent.number("card")
    profile, address = sent.text("profile"), sent.text("address")
    if card is not None:
        said = read_card(shop_of(request).records, card).said
        if not isinstance(said, MeterCard) or said.measures != MEASURED.get(role):
            mend = "Choose the card of such a meter."
            raise InputRefused((Fault("card", "another card", f"that of a {WORDS[role]}", mend),))
        profile, address = profile or said.profile, address or said.address
    number, _, of = sent.text("range").partition(" ")
    found = meters.profiles().meters.get(profile)
    chosen = None
    if number.isascii() and number.isdigit() and len(number) < 4:
        if found is None or of != found.name:
            mend = "Choose one of its own, or let the meter choose."
            raise InputRefused((Fault("range", f"one of {of[:60]!r}", "one of the same profile", mend),))
        chosen = int(number)
    return Connection(
        profile,
        address,
        chosen,
        card,
        sent.text("turns") != "no",
        sent.text("most_current"),
        sent.text("most_voltage"),
        sent.text("reason"),
        sent.text("level"),
        sent.text("settle"),
    )


def _page(request: Request, shown: _Shown, ports: bool = False, holder: str = "") -> MetersLive:
    meters = meters_of(request)
    profiles, faults = meters.ports.profiles()
    return MetersLive(
        title="Meters on this bench",
        machine=meters.ports.machine,
        parts=tuple(_part(request, role, profiles, shown) for role in ROLES),
        profile_faults=tuple(str(fault) for fault in faults),
        ports=meters.ports.serial_ports() if ports else None,
        source=source_part(meters, LIVE, holder, shop_of(request).new_key()),
    )


def _part(request: Request, role: Role, profiles: Profiles, shown: _Shown) -> RolePart:
    connection = meters_of(request).connections().get(role)
    own = shown.role == role
    given = (shown.given if own else None) or connection or FIRST
    ranges: tuple[tuple[str, str], ...] = ()
    if role == "source":
        offered = tuple((one.name, one.words) for one in profiles.sources.values())
    else:
        fitting = [one for one in profiles.meters.values() if one.quantity == QUANTITIES[role]]
        offered = tuple((one.name, one.words) for one in fitting)
        ranges = tuple(
            (f"{i} {one.name}", f"{one.name}: up to {each.up_to:g} (SI)")
            for one in fitting
            for i, each in enumerate(one.ranges)
        )
    return RolePart(
        role,
        WORDS[role],
        connection is not None,
        given,
        f"{given.range_number} {given.profile}" if given.range_number is not None else "",
        offered,
        ranges,
        meter_cards(shop_of(request).records, role),
        shown.tried if own else None,
        tuple(str(fault) for fault in shown.faults) if own else (),
    )
