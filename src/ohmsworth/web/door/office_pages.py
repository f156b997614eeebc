"""Who may do what, and which programs may: for the office."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import ClassVar

from fastapi import APIRouter, Request
from fastapi.responses import Response

from ohmsworth.web.at_hand import go_to
from ohmsworth.web.door.callers import Door, caller, door_of
from ohmsworth.web.forms import Posted, Sent
from ohmsworth.web.pages import Page, show
from ohmsworth.work.accounts import ROLES, Account, Token
from ohmsworth.work.passwords import SHORTEST
from ohmsworth.work.people import ROLE_WORDS
from ohmsworth.work.records import NOBODY, Line

pages = APIRouter()


@dataclass(frozen=True, kw_only=True)
class WhoMay(Page):
    """Accounts, and the last lines of the door book."""

    template: ClassVar[str] = "who_may.html.j2"
    place: ClassVar[str] = "Settings"

    accounts: tuple[Account, ...]
    role_words: Mapping[str, str] = field(default_factory=lambda: ROLE_WORDS)
    roles: tuple[str, ...] = ROLES
    shortest: int = SHORTEST
    needed: bool
    book: tuple[Line, ...]


@dataclass(frozen=True, kw_only=True)
class WhichPrograms(Page):
    """Tokens of programs; `secret` is a new one, shown this once."""

    template: ClassVar[str] = "programs.html.j2"
    place: ClassVar[str] = "Settings"

    tokens: tuple[Token, ...]
    last_used: Mapping[str, date]
    role_words: Mapping[str, str] = field(default_factory=lambda: ROLE_WORDS)
    roles: tuple[str, ...] = ROLES
    secret: str = ""
    made: str = ""


def _by(request: Request) -> str:
    return caller(request).name or NOBODY


@pages.get("/accounts")
def who_may(request: Request) -> Response:
    """Who may do what."""
    door = door_of(request)
    page = WhoMay(
        title="Who may do what",
        accounts=door.people.all(),
        needed=door.sign_ins is not None,
        book=door.book.last(100),
    )
    return show(request, page)


@pages.post("/accounts")
def add(request: Request, sent: Posted) -> Response:
    """Add an account."""
    first = sent.first
    door_of(request).people.add(
        sent.text("name"),
        first.get("password", ""),
        first.get("again", ""),
        sent.text("role"),
        _by(request),
    )
    return go_to("/accounts")


Change = Callable[[Door, Sent, str], None]


def _password(door: Door, sent: Sent, by: str) -> None:
    first = sent.first
    door.people.set_password(sent.text("name"), first.get("password", ""), first.get("again", ""), by)


CHANGES: dict[str, Change] = {
    "role": lambda door, sent, by: door.people.set_role(sent.text("name"), sent.text("role"), by),
    "password": _password,
    "shut": lambda door, sent, by: door.people.shut(sent.text("name"), by),
    "open": lambda door, sent, by: door.people.let_in_again(sent.text("name"), by),
}


@pages.post("/accounts/change")
def change(request: Request, sent: Posted) -> Response:
    """Change one account in the way that the pressed button names."""
    what = CHANGES.get(sent.text("what"))
    if what is not None:
        what(door_of(request), sent, _by(request))
    return go_to("/accounts")


@pages.get("/programs")
def which_programs(request: Request) -> Response:
    """Which programs may."""
    return show(request, _programs(door_of(request)))


@pages.post("/programs")
def let_in(request: Request, sent: Posted) -> Response:
    """Make a token and show it, this once."""
    door = door_of(request)
    secret = door.programs.make(sent.text("name"), sent.text("role"), _by(request))
    return show(request, _programs(door, secret, sent.text("name")))


@pages.post("/programs/revoke")
def revoke(request: Request, sent: Posted) -> Response:
    """Let a program in no longer."""
    door_of(request).programs.revoke(sent.text("name"), _by(request))
    return go_to("/programs")


def _programs(door: Door, secret: str = "", made: str = "") -> WhichPrograms:
    return WhichPrograms(
        title="Programs that may use the bench",
        tokens=door.programs.all(),
        last_used=door.programs.last_used(),
        secret=secret,
        made=made,
    )
