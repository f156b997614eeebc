"""Who a request comes from, for a handler to ask."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, cast

from fastapi import HTTPException, Request

from ohmsworth.web.door.roles import Needed, may
from ohmsworth.work.accounts import Role
from ohmsworth.work.door_book import DoorBook
from ohmsworth.work.people import People
from ohmsworth.work.programs import Programs
from ohmsworth.work.sign_in import SignIns

#: The cookie of a sign-in; over TLS a browser takes the first from this host alone and keeps it off plain HTTP.
SECURE_COOKIE, PLAIN_COOKIE = "__Host-bench", "bench"


@dataclass(frozen=True, slots=True)
class Caller:
    """Who calls.

    Parameters
    ----------
    name
        Of the account or the program; on an open bench whoever said so, or "".
    role
        What it may.
    how
        By sitting at an open bench, by a sign-in, or by a program's token.
    """

    name: str
    role: Role
    how: Literal["open bench", "sign-in", "program"]


@dataclass(frozen=True, slots=True)
class Door:
    """What decides who is let in.

    Parameters
    ----------
    people, programs, book
        The use cases.
    sign_ins
        None on an open bench, where nobody signs in.
    secure
        Whether browsers come over TLS.
    """

    people: People
    programs: Programs
    book: DoorBook
    sign_ins: SignIns | None = None
    secure: bool = False

    @property
    def cookie(self) -> str:
        """The name of the cookie."""
        return SECURE_COOKIE if self.secure else PLAIN_COOKIE


def door_of(request: Request) -> Door:
    """The door; a bench that is put together without one has no such pages."""
    door = request.app.state.door
    if door is None:
        raise HTTPException(404)
    return cast(Door, door)


def caller(request: Request) -> Caller:
    """Who calls; the door has seen already that it may."""
    found = getattr(request.state, "caller", None)
    if found is None:
        raise HTTPException(401, "Sign in first.")
    return cast(Caller, found)


def allowed(request: Request, what: Needed) -> bool:
    """Whether the caller may do what takes `what`: to show a button or leave it out."""
    found = getattr(request.state, "caller", None)
    return may(found.role if found else None, what)
